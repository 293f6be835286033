//! Where the weather of a season comes from.

use super::generator::{self, WindClimate};
use super::hour::{WeatherHour, Wind};
use super::record::{GapRule, WeatherError, WeatherRecord, from_record};
use jiff::ToSpan;
use jiff::civil::DateTime;

/// Where the weather comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum WeatherSource {
    /// No wind at all.
    Still,
    /// The same wind all season.
    Steady {
        /// The wind.
        wind: Wind,
        /// Height it is given for, m above ground.
        measured_at_m: f64,
    },
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

impl WeatherSource {
    /// The weather of season number `season` (from 0), `needed.len()` hours from `midnight` on. Only
    /// hours marked in `needed` must be known; the others may come out still. A climate draws every
    /// season anew; a record of several years gives season 0 the year of `midnight`, season 1 the
    /// year after, and so on.
    ///
    /// # Errors
    /// If a record does not hold an hour that is needed and the gap rule does not bridge it.
    pub fn season(
        &self,
        midnight: DateTime,
        needed: &[bool],
        seed: u64,
        season: u32,
    ) -> Result<Weather, WeatherError> {
        let same = |wind| WeatherHour { wind, air_temperature_c: None, relative_humidity: None };
        let (hours, measured_at_m, bridged_hours) = match self {
            Self::Still => (vec![same(Wind::STILL); needed.len()], 2.0, Vec::new()),
            Self::Steady { wind, measured_at_m } => {
                (vec![same(*wind); needed.len()], *measured_at_m, Vec::new())
            }
            Self::Generated(climate) => {
                let winds = generator::winds(climate, needed.len(), seed, season);
                (winds.into_iter().map(same).collect(), climate.measured_at_m, Vec::new())
            }
            Self::Record { record, gaps } => {
                let (hours, bridged) =
                    from_record(record, *gaps, in_year(midnight, season), needed)?;
                (hours, record.measured_at_m, bridged)
            }
        };
        Ok(Weather { hours, measured_at_m, bridged_hours })
    }
}

/// The same day and time, `years` later.
fn in_year(at: DateTime, years: u32) -> DateTime {
    at.saturating_add(i64::from(years).years())
}
