//! The driver: one season for every alternative, as one straight line.
//!
//! ```text
//! plans, hours of weather, sprinklers ─prepare→ layouts and footprints
//!    ─run→ pass after pass ─tally→ depths, figures, water
//!    ─zoom, worked→ the same for one pass, one place, the sets of one alternative
//! ```
//!
//! Every alternative meets the same weather. Sets that share sprinkler, hours and place within a
//! cell share their footprint, so a rotation costs little more than the fixed pattern. Passes are
//! laid one after another and only chosen cumulative depths are kept, so memory does not grow with
//! the number of passes.

mod air;
mod called;
mod changed;
mod control;
mod error;
mod expected_pressure;
pub(crate) mod hours;
mod kept_footprints;
pub(crate) mod laid_pass;
pub(crate) mod landing_maps;
pub(crate) mod layout;
mod outcome;
mod plans;
mod portions;
pub(crate) mod prepare;
mod pressures;
mod run;
mod set_depths;
pub(crate) mod sprinklers;
mod standing;
mod tally;
pub(crate) mod thinning;
mod worked;
pub mod zoom;

pub use air::air_at_moves;
pub use changed::{AlternativeSeason, OfPass, Seasons};
pub use control::{GoOn, Progress, RunControl, SeasonControl};
pub use error::SeasonError;
pub(crate) use error::WATER_TOLERANCE;
pub use expected_pressure::{ExpectedPressure, GAUGE_SHARE};
pub use landing_maps::LandingMapCache;
pub use outcome::{
    AlternativeOutcome, CELL_BYTES, Laid, Outcome, PassOutcome, RegionFigures, Snapshot,
    WaterBalance, WateredHour, WindSummary,
};
pub use plans::plans;
pub(crate) use plans::plans_in;
pub(crate) use run::run_season;
pub use run::{run, run_changed, run_plans};
pub use set_depths::{DEPTH_SHARES, DepthRange};
pub use sprinklers::HoursLaid;
pub use worked::{Worked, worked};

#[cfg(test)]
mod boundary_tests;
#[cfg(test)]
mod lines_tests;
#[cfg(test)]
mod part_turn_tests;
#[cfg(test)]
mod pressure_tests;
#[cfg(test)]
mod scatter_tests;
#[cfg(test)]
mod simulated_tests;
#[cfg(test)]
pub(crate) mod tests;
