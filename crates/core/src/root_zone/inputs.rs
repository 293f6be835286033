//! What a season of the root zone is made of, and everything that can be wrong with it.

use crate::crop::{Crop, CropProblem};
use crate::soil::{Soil, SoilProblem};

/// What a season is made of, all cells alike. Slices hold one value a day from planting on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SeasonInputs<'a> {
    /// The crop.
    pub crop: &'a Crop,
    /// The soil.
    pub soil: &'a Soil,
    /// Reference evapotranspiration, mm a day.
    pub et0_mm: &'a [f64],
    /// Rain, mm a day.
    pub rain_mm: &'a [f64],
    /// Depletion at planting as a share of the first day's TAW, 0–1.
    pub start_depletion: f64,
}

/// What is wrong with a season's inputs.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum WaterProblem {
    /// The crop.
    #[error("crop: {0}")]
    Crop(#[from] CropProblem),
    /// The soil.
    #[error("soil: {0}")]
    Soil(#[from] SoilProblem),
    /// A daily series of the wrong length.
    #[error("{quantity} covers {days} days, the crop's season lasts {needed}")]
    Days {
        /// Which series.
        quantity: &'static str,
        /// Days it has.
        days: usize,
        /// Days of the season.
        needed: usize,
    },
    /// A daily value that cannot be.
    #[error("{quantity} on day {day} is {value}; it must lie between 0 and {highest}")]
    Value {
        /// Which quantity.
        quantity: &'static str,
        /// Day of the season.
        day: usize,
        /// What was given.
        value: f64,
        /// Highest value taken.
        highest: f64,
    },
    /// A start outside 0–1.
    #[error("the depletion at planting is {0} of the available water; it must lie between 0 and 1")]
    Start(f64),
}

/// Highest daily ET0 and rain that are taken, mm.
const MOST_ET0_MM: f64 = 30.0;
const MOST_RAIN_MM: f64 = 2000.0;

impl SeasonInputs<'_> {
    /// Everything that is wrong; empty if the season can be prepared.
    pub(crate) fn problems(&self) -> Vec<WaterProblem> {
        let mut problems: Vec<WaterProblem> =
            self.crop.problems().into_iter().map(WaterProblem::Crop).collect();
        problems.extend(self.soil.problems().into_iter().map(WaterProblem::Soil));
        if !(0.0..=1.0).contains(&self.start_depletion) {
            problems.push(WaterProblem::Start(self.start_depletion));
        }
        let needed = self.crop.season_days();
        let series =
            [("ET0 (mm)", self.et0_mm, MOST_ET0_MM), ("rain (mm)", self.rain_mm, MOST_RAIN_MM)];
        for (quantity, values, highest) in series {
            if values.len() != needed {
                problems.push(WaterProblem::Days { quantity, days: values.len(), needed });
            }
            for (i, &value) in values.iter().enumerate() {
                if !(value >= 0.0 && value <= highest) {
                    problems.push(WaterProblem::Value { quantity, day: i + 1, value, highest });
                }
            }
        }
        problems
    }
}
