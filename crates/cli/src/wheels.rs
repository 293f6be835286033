//! Wheels given on the command line, read: those by name first, then those as measured, then those by
//! their diameter.

use crate::arguments::WheelArguments;
use crate::failure::Failure;
use crate::inputs::option;
use evenfall_core::lateral::WheelSize;
use evenfall_core::lateral::wheel::travel_per_turn_m;
use evenfall_scenario::options as keys;

/// What was given.
#[derive(Debug, Default)]
pub(crate) struct Wheels {
    /// By the trade's name.
    pub(crate) sizes: Vec<WheelSize>,
    /// By travel or diameter: as it was written, and how far it rolls in one turn, m.
    pub(crate) rolling: Vec<(String, f64)>,
    /// Diameters that are probably names of sizes, travels that are probably diameters: what to ask.
    pub(crate) questions: Vec<String>,
}

impl Wheels {
    /// Reads the options.
    pub(crate) fn given(options: &WheelArguments) -> Result<Self, Failure> {
        let mut wheels = Self::default();
        if options.wheel_sizes {
            wheels.sizes = WheelSize::ALL.to_vec();
        }
        for name in &options.wheel {
            let size = keys::wheel_size(name);
            wheels.sizes.push(size.map_err(|why| Failure::Usage(format!("--wheel: {why}")))?);
        }
        for travel in &options.travel_per_turn {
            let travel_m = option("travel-per-turn", travel, keys::travel_per_turn)?;
            wheels.questions.extend(keys::travel_question(travel, travel_m));
            wheels.rolling.push((format!("{} measured", travel.trim()), travel_m));
        }
        let lost = option("slip-and-sinkage", &options.slip_and_sinkage, keys::slip_and_sinkage)?;
        for diameter in &options.outside_diameter {
            let diameter_m = option("outside-diameter", diameter, keys::outside_diameter)?;
            let travel_m = travel_per_turn_m(diameter_m, lost);
            wheels.rolling.push((format!("{} across", diameter.trim()), travel_m));
            wheels.questions.extend(keys::wheel_question(diameter, travel_m));
        }
        Ok(wheels)
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.sizes.is_empty() && self.rolling.is_empty()
    }

    /// Every wheel: what it is called here, and how far it rolls in one turn, m.
    pub(crate) fn all(&self) -> Vec<(String, f64)> {
        let named = |size: &WheelSize| (size.name().to_owned(), size.travel_per_turn_m());
        self.sizes.iter().map(named).chain(self.rolling.iter().cloned()).collect()
    }
}
