//! Readers of hourly weather: text in, a record with its gaps out. Nothing is ever filled in.
//!
//! A row whose time cannot be told, comes twice or runs backwards stops the reading: the whole
//! record is then in doubt. A row whose values are missing or impossible leaves its hour empty and
//! is told with its line.

pub(crate) mod csv;
pub(crate) mod days;
pub(crate) mod epw;
mod rows;
pub(crate) mod tmy3;

use evenfall_core::weather::WeatherRecord;
use evenfall_core::weather::daily::DailySeries;
use std::fmt::{self, Display, Formatter};

/// A record as read, and what was wrong with single rows.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Table {
    /// The record.
    pub(crate) record: WeatherRecord,
    /// Rows whose hour was left empty, with their lines, in plain words.
    pub(crate) faults: Vec<String>,
    /// Columns that are not read, by name.
    pub(crate) passed_over: Vec<String>,
}

/// Days as read, and what was wrong with single rows.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct DayTable {
    /// The days.
    pub(crate) series: DailySeries,
    /// Rows whose day was left empty, with their lines, in plain words.
    pub(crate) faults: Vec<String>,
    /// Columns that are not read, by name.
    pub(crate) passed_over: Vec<String>,
}

/// Why a record cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum ReadError {
    /// No hour with a wind in it.
    Empty,
    /// No day.
    NoDay,
    /// A column that is needed is not there, or is there twice.
    Column(String),
    /// A row that puts the whole record in doubt.
    Row {
        /// Line, from 1.
        line: u64,
        /// What is wrong.
        problem: String,
    },
}

impl Display for ReadError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "it holds no hour with a wind in it"),
            Self::NoDay => write!(f, "it holds no day"),
            Self::Column(problem) => write!(f, "{problem}"),
            Self::Row { line, problem } => write!(f, "line {line}: {problem}"),
        }
    }
}

impl std::error::Error for ReadError {}

impl ReadError {
    /// What to do about it.
    pub(crate) fn hint(&self) -> &'static str {
        match self {
            Self::Empty => "A record needs a header and one row for each hour.",
            Self::NoDay => "A file of days needs a header and one row for each day.",
            Self::Column(_) => {
                "Columns of a csv record: time, wind_speed_m_s (or _mph, _kmh, _kn, _ft_s), \
                 wind_from_deg; if known air_temperature_c (or _f), relative_humidity_pct, \
                 solar_radiation_w_m2 (or _mj_m2), rain_mm (or _in), et0_mm (or _in)."
            }
            Self::Row { .. } => "Each hour stands once, in order, in local standard time.",
        }
    }
}
