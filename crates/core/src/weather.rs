//! Weather by the hour: what the wind (and, for losses, the air) does while water runs.
//!
//! Hour `h` is the clock hour from `h` to `h + 1`, counted from midnight at the start of the
//! season's first day, in local standard time (no change to summer time within a season).

pub mod generator;
pub mod profile;

use jiff::civil::DateTime;

/// The wind of one hour at the height it was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wind {
    /// Mean speed, m/s.
    pub speed_m_s: f64,
    /// Direction it blows from, degrees clockwise from north; any value where the speed is 0.
    pub from_deg: f64,
}

/// One hour of weather.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeatherHour {
    /// The wind at [`Weather::measured_at_m`].
    pub wind: Wind,
    /// Air temperature, °C, where known.
    pub air_temperature_c: Option<f64>,
    /// Relative humidity as a fraction 0–1, where known.
    pub relative_humidity: Option<f64>,
}

/// A record of hours as read; `None` marks an hour that is missing or unreadable.
#[derive(Clone, Debug, PartialEq)]
pub struct WeatherRecord {
    /// Where the record comes from, for the report.
    pub title: String,
    /// Start of the first hour.
    pub first_hour: DateTime,
    /// One entry per clock hour from `first_hour` on, gaps included.
    pub hours: Vec<Option<WeatherHour>>,
    /// Height of the anemometer above ground, m.
    pub measured_at_m: f64,
    /// A typical year: months stand for the same month of any year.
    pub typical_year: bool,
}

/// What to do with an hour of irrigation that a record does not hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GapRule {
    /// Stop with an error that lists the gaps.
    Refuse,
    /// Repeat the last known hour over at most so many hours; longer gaps are refused.
    HoldLast {
        /// Longest gap that may be bridged, h.
        longest_h: u32,
    },
}

/// A seeded wind climate: see [`generator`].
#[derive(Clone, Debug, PartialEq)]
pub struct WindClimate {
    /// Mean speed by day, m/s.
    pub day_mean_m_s: f64,
    /// Mean speed by night, m/s.
    pub night_mean_m_s: f64,
    /// Weibull shape of the hourly speeds, the same day and night.
    pub weibull_shape: f64,
    /// Direction it mostly blows from, degrees clockwise from north.
    pub prevailing_from_deg: f64,
    /// Spread of the direction about the prevailing one: standard deviation, degrees.
    pub direction_spread_deg: f64,
    /// Correlation of the (normal-scored) speed from one hour to the next, 0–1.
    pub speed_persistence: f64,
    /// Correlation of the direction's deviation from one hour to the next, 0–1.
    pub direction_persistence: f64,
    /// First hour of the day half and first hour of the night half, clock hours.
    pub day_hours: (f64, f64),
}

/// Where the weather comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum WeatherSource {
    /// No wind at all.
    Still,
    /// The same wind all season.
    Steady(Wind),
    /// A record of hours.
    Record {
        /// The record.
        record: WeatherRecord,
        /// What to do with its gaps.
        gaps: GapRule,
    },
    /// Drawn hour by hour from a climate.
    Generated(WindClimate),
}

/// Air that is assumed where the source does not say (losses need it).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AssumedAir {
    /// Air temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity, fraction.
    pub relative_humidity: f64,
}

/// The weather of one season, every hour known.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// One entry per hour from midnight of the first day.
    pub hours: Vec<WeatherHour>,
    /// Height at which the wind was measured, m.
    pub measured_at_m: f64,
    /// Hours that were bridged by the gap rule (hour numbers).
    pub bridged_hours: Vec<usize>,
}
