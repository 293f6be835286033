//! The clock that weather and schedule share: hours between two times, the day half, and the clock
//! that people read in the field's time zone (`wall.rs`).

mod wall;

pub use wall::{FieldClock, STANDARD_TIME, WallTime, zone_names};

use jiff::civil::DateTime;

/// First and last clock hour of the day half.
pub const DAY_HOURS: (f64, f64) = (6.0, 18.0);

/// Hours from `from` to `to`.
pub fn hours_between(from: DateTime, to: DateTime) -> f64 {
    to.duration_since(from).as_secs_f64() / 3600.0
}
