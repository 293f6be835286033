//! Weather by the hour: what the wind (and, for losses, the air) does while water runs.
//!
//! Hour `h` is the clock hour from `h` to `h + 1`, counted from midnight at the start of the
//! season's first day, in local standard time (no change to summer time within a season).

pub mod daily;
pub mod generator;
mod hour;
pub mod profile;
mod record;
mod source;

pub use generator::WindClimate;
pub use hour::{WeatherHour, Wind};
pub use record::{GapRule, Site, SkyHour, WeatherError, WeatherRecord};
pub use source::{AssumedAir, Weather, WeatherSource};

#[cfg(test)]
#[path = "weather_tests.rs"]
mod tests;
