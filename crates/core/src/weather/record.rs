//! A record of hours, its gaps, and the season taken from it.

use super::hour::{WeatherHour, Wind};
use crate::clock::hours_between;
use jiff::ToSpan;
use jiff::civil::DateTime;

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

impl WeatherRecord {
    /// The clock hour that starts at `at`, if the record holds it.
    pub(crate) fn hour_at(&self, at: DateTime) -> Option<WeatherHour> {
        self.index_of(at).and_then(|index| self.hours[index])
    }

    /// What the record says of the sky in the clock hour that starts at `at`.
    pub(crate) fn sky_at(&self, at: DateTime) -> Option<SkyHour> {
        self.index_of(at).and_then(|index| self.sky.get(index).copied())
    }

    /// Where in the record the clock hour that starts at `at` lies.
    ///
    /// In a typical year, months stand for the same months of any year, and 29 February takes the
    /// weather of the 28th.
    pub(super) fn index_of(&self, at: DateTime) -> Option<usize> {
        let from_first = |at: DateTime| {
            let hours = hours_between(self.first_hour, at).round();
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

/// The hours whose weather stands in the record at the times `of_hour` gives, and the hours that
/// were bridged; `None` is a time that the record does not have.
pub(super) fn from_record(
    record: &WeatherRecord,
    gaps: GapRule,
    (midnight, needed): (DateTime, &[bool]),
    of_hour: &dyn Fn(usize) -> Option<DateTime>,
) -> Result<(Vec<WeatherHour>, Vec<usize>), WeatherError> {
    let mut hours = Vec::with_capacity(needed.len());
    let (mut bridged, mut missing) = (Vec::new(), Vec::new());
    let mut last: Option<(usize, WeatherHour)> = None;
    for (hour, &is_needed) in needed.iter().enumerate() {
        let at = of_hour(hour);
        let index = at.and_then(|at| record.index_of(at));
        // What is told is the record's own time, where there is one.
        let told = at.unwrap_or_else(|| midnight.saturating_add((hour as i64).hours()));
        if index.is_none() && is_needed {
            return Err(WeatherError::OutsideRecord {
                covers: record.covers(),
                first_missing: told,
            });
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
                    missing.push(told);
                }
                WeatherHour { wind: Wind::STILL, air_temperature_c: None, relative_humidity: None }
            }
        });
    }
    match missing.first() {
        Some(&first) => Err(WeatherError::Gaps { hours: missing.len(), first }),
        None => Ok((hours, bridged)),
    }
}
