//! Many seasons: the same alternatives under season after season of weather, with soil and crop.
//!
//! Every alternative meets the same seasons (common random numbers), so differences are paired.
//! Season number s draws its weather from a stream of its own (or takes its own year of a record),
//! so the result does not depend on how many seasons are run, in which order, or on how many cores.
//!
//! Seasons run side by side in batches; what a batch found is added up in order of season.

pub(crate) mod between;
pub mod compact;
mod course;
mod cycles;
mod figures;
mod map_sums;
mod outcome;
mod pairs;
mod run;
mod smoothing;
mod subject;
pub(crate) mod tile;
pub(crate) mod walk;
pub(crate) mod weighted;
mod wet_days;

pub use course::{SoilDay, soil_course};
pub use figures::SeasonFigures;
pub use map_sums::MeanMaps;
pub use outcome::Seasons;
pub(crate) use run::SeasonsControl;
pub(crate) use run::run_wanted;
pub use run::{run, run_plans};
#[cfg(test)]
pub(crate) use run::{run_laid, run_plans_laid};
pub(crate) use subject::Subject;

#[cfg(test)]
mod nearest_wind_tests;
#[cfg(test)]
mod split_tests;
#[cfg(test)]
mod tests;
