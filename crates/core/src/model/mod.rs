//! What is simulated, as plain values: the field and its parts, the alternatives, the scenario.
//!
//! Made of grid, boundary, lateral, rotation, calendar, sprinkler, weather and soil, all in SI and
//! already checked. Nothing here computes a season, and nothing that these values are made of knows
//! them.

mod alternative;
mod called;
mod field;
mod region;
mod scenario;

pub use alternative::Alternative;
pub use called::Called;
pub use field::{Area, Field};
pub use region::{Region, Runs};
pub use scenario::Scenario;
