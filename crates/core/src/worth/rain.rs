//! Where the rain comes from.

use crate::weather::daily::DailySeries;
use jiff::ToSpan;
use jiff::civil::Date;

/// Rain on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RainDay {
    /// The day.
    pub date: Date,
    /// Depth, mm.
    pub depth_mm: f64,
}

/// Where the rain comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Rain {
    /// These days of the first season, the same days in every year; none for dry seasons.
    Listed(Vec<RainDay>),
    /// A record, mm a day.
    Record(DailySeries),
}

impl Rain {
    /// Rain on `day` of a season that lies `years` after the first, mm.
    pub(super) fn on(&self, day: Date, years: i64) -> Option<f64> {
        match self {
            Self::Record(series) => series.on(day),
            Self::Listed(days) => {
                let listed = days.iter().filter(|rain| later(rain.date, years) == day);
                Some(listed.map(|rain| rain.depth_mm).sum())
            }
        }
    }
}

/// The same day, `years` later.
pub(super) fn later(day: Date, years: i64) -> Date {
    if years == 0 { day } else { day.saturating_add(years.years()) }
}
