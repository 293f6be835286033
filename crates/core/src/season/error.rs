//! Why a season cannot be simulated.

use crate::lateral::hydraulics::HydraulicsProblem;
use crate::schedule::ScheduleError;
use crate::sprinkler::SprinklerProblem;
use crate::weather::WeatherError;

/// Why a season cannot be simulated.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SeasonError {
    /// There is nothing to compare.
    #[error("the scenario has no alternatives")]
    NoAlternatives,
    /// A schedule cannot be made.
    #[error("{alternative}: {problem}")]
    Schedule {
        /// Name of the alternative.
        alternative: String,
        /// What is wrong.
        problem: ScheduleError,
    },
    /// An alternative's own clock starts on another day.
    #[error("{alternative}: its season starts on another day than the scenario's")]
    OtherFirstDay {
        /// Name of the alternative.
        alternative: String,
    },
    /// The weather of an hour with water is unknown.
    #[error(transparent)]
    Weather(#[from] WeatherError),
    /// A sprinkler cannot be computed with.
    #[error("sprinkler: {0}")]
    Sprinkler(#[from] SprinklerProblem),
    /// The wind is measured at a height for which the wind profile has no meaning.
    #[error("the wind's measuring height of {measured_at_m} m is too low for a wind profile")]
    MeasuringHeight {
        /// That height, m.
        measured_at_m: f64,
    },
    /// Pressures along a lateral cannot be found.
    #[error("{alternative}: {problem}")]
    Pressure {
        /// Name of the alternative.
        alternative: String,
        /// What is wrong.
        problem: HydraulicsProblem,
    },
    /// Sprinklers do not stand a whole number of cells apart.
    #[error(
        "{alternative}: the cell of {cell_m} m does not divide the sprinkler spacing of {spacing_m} m"
    )]
    Cell {
        /// Name of the alternative.
        alternative: String,
        /// Cell, m.
        cell_m: f64,
        /// Sprinkler spacing, m.
        spacing_m: f64,
    },
    /// Water went missing: a fault of this program, not of the scenario.
    #[error("fault in this program: {alternative}: {imbalance:e} of the water is unaccounted for")]
    WaterLost {
        /// Name of the alternative.
        alternative: String,
        /// Share of the gross water.
        imbalance: f64,
    },
    /// Stopped by the caller.
    #[error("stopped after pass {done} of {total}")]
    Stopped {
        /// Passes done.
        done: usize,
        /// Passes wanted.
        total: usize,
    },
}

/// Largest share of the gross water that rounding may misplace.
pub(crate) const WATER_TOLERANCE: f64 = 1e-9;
