//! The days of a record that a drawn season's days stand for.

use crate::weather::DrawnWeather;
use crate::weather::daily::{DailySeries, Gaps};
use jiff::ToSpan;
use jiff::civil::Date;

/// One season's days.
#[derive(Debug)]
pub(super) struct DrawnDays {
    from: Date,
    /// The record's day, where it has one near the date.
    sources: Vec<Option<Date>>,
    typical_year: bool,
}

impl DrawnDays {
    /// Those of season `drawn`, if its days are drawn from a record.
    pub(super) fn of(drawn: Option<(DrawnWeather<'_>, u32)>, span: (Date, usize)) -> Option<Self> {
        let (drawn, season) = drawn?;
        let sources = drawn.source_days(span, season)?;
        Some(Self { from: span.0, sources, typical_year: drawn.typical_year()? })
    }

    /// Whether `series` is of the kind of the record, so that their dates mean the same.
    pub(super) fn goes_with(&self, series: &DailySeries) -> bool {
        series.typical_year == self.typical_year
    }

    /// What `on` says of each day's source.
    ///
    /// # Errors
    /// Every source of which it says nothing, at once.
    pub(super) fn values(&self, on: impl Fn(Date) -> Option<f64>) -> Result<Vec<f64>, Gaps> {
        let mut missing: Vec<Date> = Vec::new();
        let mut values = Vec::with_capacity(self.sources.len());
        for (number, source) in self.sources.iter().enumerate() {
            match source.and_then(&on) {
                Some(value) => values.push(value),
                None => {
                    missing
                        .push(source.unwrap_or(self.from.saturating_add((number as i64).days())));
                }
            }
        }
        if missing.is_empty() {
            return Ok(values);
        }
        // Drawn days come in no order, and some twice.
        missing.sort();
        missing.dedup();
        let mut gaps = Gaps(Vec::new());
        for day in missing {
            gaps.add(day);
        }
        Err(gaps)
    }
}
