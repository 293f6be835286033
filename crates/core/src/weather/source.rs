//! Where the weather of a season comes from.

use super::blocks::Blocks;
use super::generator::WindClimate;
use super::hour::{WeatherHour, Wind};
use super::hourly::HourlyClimate;
use super::kept_winds::KeptWinds;
use super::like_days;
use super::record::{GapRule, WeatherError, WeatherRecord, from_record};
use jiff::ToSpan;
use jiff::civil::{Date, DateTime};
use std::sync::Arc;

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
        /// How seasons are made of it.
        seasons: FromRecord,
    },
    /// Drawn hour by hour from a climate.
    Generated(WindClimate),
}

/// How seasons are made from a record.
#[derive(Clone, Debug, PartialEq)]
pub enum FromRecord {
    /// Season 0 is the year of the scenario, season 1 the year after, and so on; a typical year is
    /// the same every season.
    AsRecorded,
    /// Blocks of days drawn around the same date.
    Blocks {
        /// How they are cut.
        blocks: Blocks,
        /// Whether season 0 is as recorded all the same.
        first_as_recorded: bool,
    },
    /// Winds drawn from a climate fitted to the record, with the air of days that resemble them.
    Climate(Arc<HourlyClimate>),
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
    /// hours marked in `needed` must be known; the others may come out still.
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
                let winds = climate.winds((midnight, seed, season), needed.len());
                let winds = winds.iter().take(needed.len());
                let hours = winds.map(|wind| same(wind.unwrap_or(Wind::STILL)));
                (hours.collect(), climate.measured_at_m, Vec::new())
            }
            Self::Record { record, gaps, seasons } => {
                let span = (midnight.date(), needed.len().div_ceil(24));
                let days = self.source_days(midnight, span, (seed, season));
                let year = in_year(midnight, season);
                let of_hour = |hour: usize| match &days {
                    None => Some(year.saturating_add((hour as i64).hours())),
                    Some(days) => Some(days[hour / 24]?.at((hour % 24) as i8, 0, 0, 0)),
                };
                let (mut hours, bridged) =
                    from_record(record, *gaps, (midnight, needed), &of_hour)?;
                if let FromRecord::Climate(climate) = seasons {
                    let winds = climate.winds(midnight, needed.len(), seed, season);
                    for (hour, wind) in hours.iter_mut().zip(winds) {
                        hour.wind = wind.unwrap_or(Wind::STILL);
                    }
                }
                (hours, record.measured_at_m, bridged)
            }
        };
        Ok(Weather { hours, measured_at_m, bridged_hours })
    }

    /// Days of the record whose weather `count` days from `from` on have in a season `of` (seed,
    /// number) whose first day begins at `midnight`; `None` inside where the record has none near
    /// the date. `None` altogether where days are not drawn.
    pub(crate) fn source_days(
        &self,
        midnight: DateTime,
        (from, count): (Date, usize),
        of: (u64, u32),
    ) -> Option<Vec<Option<Date>>> {
        let Self::Record { record, seasons, .. } = self else { return None };
        match seasons {
            FromRecord::AsRecorded => None,
            FromRecord::Blocks { first_as_recorded: true, .. } if of.1 == 0 => None,
            FromRecord::Blocks { blocks, .. } => Some(blocks.days(record, from, count, of)),
            FromRecord::Climate(climate) => {
                let until = from.saturating_add((count as i64).days());
                let hours = until.duration_since(midnight.date()).as_hours().max(0) as usize;
                let winds = climate.winds(midnight, hours, of.0, of.1);
                Some(like_days::days(record, (midnight.date(), &winds), (from, count), of))
            }
        }
    }

    /// Keeps drawn winds in `kept`, for whoever else keeps them there.
    pub fn keep_in(&mut self, kept: &KeptWinds) {
        if let Self::Generated(climate) = self {
            climate.kept = kept.clone();
        }
    }

    /// Whether seasons are drawn, as many as one likes and each unlike the others.
    pub fn is_drawn(&self) -> bool {
        match self {
            Self::Still | Self::Steady { .. } => false,
            Self::Record { seasons, .. } => !matches!(seasons, FromRecord::AsRecorded),
            Self::Generated(_) => true,
        }
    }
}

/// The same day and time, `years` later.
fn in_year(at: DateTime, years: u32) -> DateTime {
    at.saturating_add(i64::from(years).years())
}
