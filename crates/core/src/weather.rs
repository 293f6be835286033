//! Weather by the hour: what the wind (and, for losses, the air) does while water runs.
//!
//! Hour `h` is the clock hour from `h` to `h + 1`, counted from midnight at the start of the
//! season's first day, in local standard time (no change to summer time within a season).

mod blocks;
pub mod daily;
mod drawn;
mod fit;
mod generator;
mod hour;
mod hourly;
mod kept_winds;
mod like_days;
pub mod profile;
mod record;
mod record_days;
mod source;
mod spells;
pub(crate) mod streams;

pub use blocks::Blocks;
pub use drawn::DrawnWeather;
pub use fit::climate_of;
pub use generator::WindClimate;
pub use hour::{WeatherHour, Wind};
pub use hourly::{HourlyClimate, MonthLaw};
pub use kept_winds::KeptWinds;
pub use record::{GapRule, Site, SkyHour, WeatherError, WeatherRecord};
pub use source::{AssumedAir, FromRecord, Weather, WeatherSource};
pub(crate) use spells::Course;
pub use spells::Spells;

#[cfg(test)]
#[path = "weather_tests.rs"]
mod tests;
