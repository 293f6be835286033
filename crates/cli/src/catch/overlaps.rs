//! Which overlaps are asked for: on the command line, or those of a scenario's alternatives.

use crate::arguments::CatchArguments;
use crate::failure::Failure;
use crate::inputs::{Loaded, option};
use evenfall_core::catch::overlap::Spacing;
use evenfall_core::rotation::Shift;
use evenfall_scenario::options as keys;
use evenfall_view::UnitSystem;
use evenfall_view::units::Quantity;

/// Numbers of equally spaced stops that are shown where nothing else is asked for.
const STOPS: [u16; 4] = [1, 2, 3, 4];

/// One overlap that is wanted.
#[derive(Clone, Debug)]
pub(crate) struct Overlap {
    pub(crate) words: String,
    pub(crate) along_m: Option<f64>,
    pub(crate) across_m: f64,
    pub(crate) shifts: Vec<Shift>,
}

impl Overlap {
    /// Its spacing for a test of one sprinkler, or of a whole lateral.
    pub(crate) fn spacing(&self, of_lateral: bool) -> Option<Spacing> {
        if of_lateral {
            return Some(Spacing { along_m: None, across_m: self.across_m });
        }
        Some(Spacing { along_m: Some(self.along_m?), across_m: self.across_m })
    }
}

pub(crate) type Wanted = Vec<Overlap>;

/// What the options ask for.
pub(crate) fn wanted(
    options: &CatchArguments,
    scenario: Option<&Loaded>,
) -> Result<Wanted, Failure> {
    let Some(across) = &options.outlet_spacing else {
        return Ok(scenario.map_or_else(Vec::new, of_scenario));
    };
    let across_m = option("outlet-spacing", across, keys::outlet_spacing)?;
    let along_m = match &options.sprinkler_spacing {
        Some(along) => Some(option("sprinkler-spacing", along, keys::sprinkler_spacing)?),
        None => None,
    };
    let spacings = match &options.sprinkler_spacing {
        Some(along) => format!("{along} × {across}"),
        None => format!("{across} across"),
    };
    if !options.shift.is_empty() {
        let shifts: Vec<Shift> =
            options.shift.iter().map(|text| shift(text)).collect::<Result<_, _>>()?;
        let words = format!("{spacings}, stops at {}", options.shift.join("; "));
        let fixed = Overlap {
            words: format!("{spacings}, fixed"),
            along_m,
            across_m,
            shifts: vec![Shift { across_m: 0.0, along_m: 0.0 }],
        };
        return Ok(vec![fixed, Overlap { words, along_m, across_m, shifts }]);
    }
    let stops = if options.stops.is_empty() { &STOPS[..] } else { &options.stops };
    Ok(evenly(&spacings, along_m, across_m, stops))
}

/// The overlaps of one lateral whose file notes its outlet spacing.
pub(super) fn of_outlets(spacing_m: Option<f64>, units: UnitSystem) -> Wanted {
    let Some(across_m) = spacing_m else { return Vec::new() };
    let words = format!("{} across", units.text(Quantity::Length, across_m, 1));
    evenly(&words, None, across_m, &STOPS)
}

/// Fixed and equally spaced stops.
fn evenly(spacings: &str, along_m: Option<f64>, across_m: f64, stops: &[u16]) -> Wanted {
    let of = |stops: &u16| {
        let shifts = (0..*stops)
            .map(|stop| Shift {
                across_m: f64::from(stop) * across_m / f64::from(*stops),
                along_m: 0.0,
            })
            .collect();
        let words = match stops {
            1 => format!("{spacings}, fixed"),
            stops => format!("{spacings}, {stops} stops"),
        };
        Overlap { words, along_m, across_m, shifts }
    };
    stops.iter().map(of).collect()
}

/// Spacings and rotations of a scenario's alternatives.
fn of_scenario(loaded: &Loaded) -> Wanted {
    let alternatives = &loaded.resolved.scenario.alternatives;
    alternatives
        .iter()
        .map(|alternative| Overlap {
            words: format!("as in “{}”", alternative.name),
            along_m: Some(alternative.lateral.sprinkler_spacing_m),
            across_m: alternative.outlets.spacing_m,
            shifts: alternative.rotation.shifts().to_vec(),
        })
        .collect()
}

/// `ACROSS` or `ACROSS, ALONG`.
fn shift(text: &str) -> Result<Shift, Failure> {
    let length = |part: &str| option("shift", part.trim(), keys::shift);
    match text.split(',').collect::<Vec<_>>().as_slice() {
        [across] => Ok(Shift { across_m: length(across)?, along_m: 0.0 }),
        [across, along] => Ok(Shift { across_m: length(across)?, along_m: length(along)? }),
        _ => Err(Failure::Usage(format!(
            "--shift \"{text}\": expected a distance across, or a distance across and one along, \
             separated by a comma"
        ))),
    }
}
