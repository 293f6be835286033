//! Weather by the hour: what the wind (and, for losses, the air) does while water runs.
//!
//! Hour `h` is the clock hour from `h` to `h + 1`, counted from midnight at the start of the
//! season's first day, in local standard time (no change to summer time within a season).

pub mod daily;
pub mod generator;
pub mod profile;

use crate::schedule;
use jiff::ToSpan;
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

/// What a record says of an hour beside wind and air.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SkyHour {
    /// Solar radiation on the ground, mean of the hour, W/m².
    pub solar_w_m2: Option<f64>,
    /// Rain, mm.
    pub rain_mm: Option<f64>,
    /// Reference evapotranspiration, mm.
    pub et0_mm: Option<f64>,
}

/// Place of a weather station.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// Latitude, degrees; south is negative.
    pub latitude_deg: f64,
    /// Height above the sea, m.
    pub elevation_m: f64,
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
    /// The same hours' sky; empty where the record says nothing of it.
    pub sky: Vec<SkyHour>,
    /// Where the station stands, if the record says so.
    pub site: Option<Site>,
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
    /// Height the speeds are given for, m above ground.
    pub measured_at_m: f64,
}

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

/// Why a season's weather cannot be had from its source.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum WeatherError {
    /// The record starts after, or ends before, hours in which water runs.
    #[error("the weather record covers {covers}, but water runs at {first_missing}")]
    OutsideRecord {
        /// What the record covers.
        covers: String,
        /// First hour of water that it does not.
        first_missing: DateTime,
    },
    /// Hours of water fall into gaps that the gap rule does not bridge.
    #[error("the weather record has gaps while water runs: {hours} hours, the first at {first}")]
    Gaps {
        /// Hours missing.
        hours: usize,
        /// Start of the first.
        first: DateTime,
    },
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
            Self::Still => (vec![same(STILL); needed.len()], 2.0, Vec::new()),
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

/// No wind.
const STILL: Wind = Wind { speed_m_s: 0.0, from_deg: 0.0 };

fn from_record(
    record: &WeatherRecord,
    gaps: GapRule,
    midnight: DateTime,
    needed: &[bool],
) -> Result<(Vec<WeatherHour>, Vec<usize>), WeatherError> {
    let mut hours = Vec::with_capacity(needed.len());
    let (mut bridged, mut missing) = (Vec::new(), Vec::new());
    let mut last: Option<(usize, WeatherHour)> = None;
    for (hour, &is_needed) in needed.iter().enumerate() {
        let at = midnight.saturating_add((hour as i64).hours());
        let index = record.index_of(at);
        if index.is_none() && is_needed {
            return Err(WeatherError::OutsideRecord { covers: record.covers(), first_missing: at });
        }
        let known = index.and_then(|index| record.hours[index]);
        if let Some(known) = known {
            last = Some((hour, known));
        }
        hours.push(match (known, last, gaps) {
            (Some(known), ..) => known,
            (None, Some((since, held)), GapRule::HoldLast { longest_h })
                if hour - since <= longest_h as usize =>
            {
                if is_needed {
                    bridged.push(hour);
                }
                held
            }
            _ => {
                if is_needed {
                    missing.push(at);
                }
                WeatherHour { wind: STILL, air_temperature_c: None, relative_humidity: None }
            }
        });
    }
    match missing.first() {
        Some(&first) => Err(WeatherError::Gaps { hours: missing.len(), first }),
        None => Ok((hours, bridged)),
    }
}

impl WeatherRecord {
    /// The clock hour that starts at `at`, if the record holds it.
    pub fn hour_at(&self, at: DateTime) -> Option<WeatherHour> {
        self.index_of(at).and_then(|index| self.hours[index])
    }

    /// What the record says of the sky in the clock hour that starts at `at`.
    pub fn sky_at(&self, at: DateTime) -> Option<SkyHour> {
        self.index_of(at).and_then(|index| self.sky.get(index).copied())
    }

    /// Where in the record the clock hour that starts at `at` lies.
    ///
    /// In a typical year, months stand for the same months of any year, and 29 February takes the
    /// weather of the 28th.
    fn index_of(&self, at: DateTime) -> Option<usize> {
        let from_first = |at: DateTime| {
            let hours = schedule::hours_between(self.first_hour, at).round();
            (hours >= 0.0 && hours < self.hours.len() as f64).then_some(hours as usize)
        };
        if !self.typical_year {
            return from_first(at);
        }
        let day = if (at.month(), at.day()) == (2, 29) { 28 } else { at.day() };
        let in_year = |year: i16| {
            DateTime::new(year, at.month(), day, at.hour(), 0, 0, 0).ok().and_then(from_first)
        };
        let year = self.first_hour.year();
        in_year(year).or_else(|| in_year(year + 1))
    }

    /// Whether the record reaches from `start` to `end`, gaps or not.
    pub(crate) fn covers_span(&self, start: DateTime, end: DateTime) -> bool {
        self.index_of(start).is_some() && self.index_of(end.saturating_sub(1.hours())).is_some()
    }

    /// The span of the record in words.
    fn covers(&self) -> String {
        let end = self.first_hour.saturating_add((self.hours.len() as i64).hours());
        let (from, to) = (self.first_hour.date(), end.date());
        if self.typical_year {
            format!("a typical year from {from} to {to}")
        } else {
            format!("{from} to {to}")
        }
    }
}

#[cfg(test)]
#[path = "weather_tests.rs"]
mod tests;
