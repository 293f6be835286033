//! The drawn weather of seasons, as whoever needs more than the wind asks for it.

use super::source::{AssumedAir, WeatherSource};
use jiff::civil::{Date, DateTime};

/// What the days of all seasons are drawn with.
#[derive(Clone, Copy, Debug)]
pub struct DrawnWeather<'a> {
    /// Where the weather comes from.
    pub source: &'a WeatherSource,
    /// Seed of everything drawn.
    pub seed: u64,
    /// Midnight of the first season's first day.
    pub midnight: DateTime,
    /// Air of a climate that has none of its own.
    pub air: AssumedAir,
}

impl DrawnWeather<'_> {
    /// The record's day whose weather each of `count` days from `from` on has in season number
    /// `season`; `None` where days are not drawn.
    pub(crate) fn source_days(
        &self,
        span: (Date, usize),
        season: u32,
    ) -> Option<Vec<Option<Date>>> {
        self.source.source_days(self.midnight, span, (self.seed, season))
    }

    /// Whether the record that days are drawn from stands for any year; `None` without one.
    pub fn typical_year(&self) -> Option<bool> {
        match self.source {
            WeatherSource::Record { record, .. } if self.source.is_drawn() => {
                Some(record.typical_year)
            }
            _ => None,
        }
    }
}
