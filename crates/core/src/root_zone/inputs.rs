//! What a season of the root zone is made of, and everything that can be wrong with it.

use crate::crop::{Crop, CropProblem};
use crate::soil::{Soil, SoilProblem};

/// What a season is made of, all cells alike. Slices hold one value a day from planting on.
#[derive(Clone, Copy, Debug)]
pub struct SeasonInputs<'a> {
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

/// Net irrigation of one day on some neighbouring cells.
#[derive(Clone, Copy, Debug)]
pub struct Watering<'a> {
    /// Day of the season (1 is the day of planting).
    pub day: usize,
    /// First cell that is watered.
    pub first_cell: usize,
    /// Depth on that cell and those after it, mm.
    pub depth_mm: &'a [f64],
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
    /// Water on a day without crop.
    #[error("water on day {day}, but the crop's season has days 1 to {days}")]
    OutsideSeason {
        /// That day.
        day: usize,
        /// Days of the season.
        days: usize,
    },
    /// Water beyond the field.
    #[error("water on day {day} reaches cell {cell}, but the field has {cells}")]
    OutsideField {
        /// That day.
        day: usize,
        /// One past the last cell watered.
        cell: usize,
        /// Cells of the field.
        cells: usize,
    },
    /// Water went missing: a fault of this program, not of its inputs.
    #[error("fault in this program: {imbalance_mm:e} mm of a cell's water is unaccounted for")]
    WaterLost {
        /// Worst cell's imbalance, mm.
        imbalance_mm: f64,
    },
}

/// Highest daily ET0, rain and irrigation that are taken, mm.
const MOST_ET0_MM: f64 = 30.0;
const MOST_WATER_MM: f64 = 2000.0;

impl SeasonInputs<'_> {
    /// Everything that is wrong; empty if the season can be prepared.
    pub fn problems(&self) -> Vec<WaterProblem> {
        let mut problems: Vec<WaterProblem> =
            self.crop.problems().into_iter().map(WaterProblem::Crop).collect();
        problems.extend(self.soil.problems().into_iter().map(WaterProblem::Soil));
        if !(0.0..=1.0).contains(&self.start_depletion) {
            problems.push(WaterProblem::Start(self.start_depletion));
        }
        let needed = self.crop.season_days();
        let series =
            [("ET0 (mm)", self.et0_mm, MOST_ET0_MM), ("rain (mm)", self.rain_mm, MOST_WATER_MM)];
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

impl Watering<'_> {
    /// The first thing that is wrong for a season of so many `days` over so many `cells`.
    pub fn problem(&self, days: usize, cells: usize) -> Option<WaterProblem> {
        let &Self { day, first_cell, depth_mm } = self;
        if !(1..=days).contains(&day) {
            return Some(WaterProblem::OutsideSeason { day, days });
        }
        let cell = first_cell.saturating_add(depth_mm.len());
        if cell > cells {
            return Some(WaterProblem::OutsideField { day, cell, cells });
        }
        let sound = 0.0..=MOST_WATER_MM;
        depth_mm.iter().find(|depth| !sound.contains(*depth)).map(|&value| WaterProblem::Value {
            quantity: "irrigation (mm)",
            day,
            value,
            highest: MOST_WATER_MM,
        })
    }
}
