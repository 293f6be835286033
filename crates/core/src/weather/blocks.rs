//! Many seasons from one record: blocks of whole days, drawn around the same date.
//!
//! The days of a season are cut into blocks of a few days. Each block takes the weather of as many
//! days in a row from the record, wind, air, radiation, rain and evapotranspiration together, that
//! begin within a window of days around the same date, of whichever year the record holds. So hours
//! and half-days follow each other as they did, and the course of the year stays (a moving block
//! bootstrap: Künsch 1989, Annals of Statistics 17:1217–1241; the window is judgment).
//!
//! Neglected: that what lasts longer than a block is broken, so seasons differ a little less than
//! years do, and years that no record of one year holds.

use super::record::WeatherRecord;
use super::record_days::RecordDays;
use super::streams::{Purpose, stream, stream_at};
use jiff::civil::Date;
use rand::RngExt;

/// How a record is cut and drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Blocks {
    /// Days in a row that are taken together, at least 1.
    pub length_days: u32,
    /// Days around the date in which a block may begin.
    pub window_days: u32,
}

impl Blocks {
    /// The days of the record whose weather `count` days from `from` on have in season `of`
    /// (seed, number); `None` where the record holds no day near the date.
    ///
    /// Each day's source depends on the day alone, whatever day the list begins with.
    pub(super) fn days(
        self,
        record: &WeatherRecord,
        from: Date,
        count: usize,
        of: (u64, u32),
    ) -> Vec<Option<Date>> {
        let days = RecordDays::of(record);
        let length = i64::from(self.length_days.max(1));
        // Blocks of different seasons begin on different days.
        let phase = stream(of, Purpose::Blocks).random_range(0..length);
        let mut block: Option<(i64, Option<usize>)> = None;
        (0..count as i64)
            .map(|day| {
                let number = day_number(from) + day - phase;
                let (this, into) = (number.div_euclid(length), number.rem_euclid(length));
                let start = match block {
                    Some((known, start)) if known == this => start,
                    _ => {
                        let begins = shifted(from, day - into);
                        let start = self.start(&days, begins, stream_of(of, this));
                        block = Some((this, start));
                        start
                    }
                };
                days.after(start?, into as usize).map(|index| days.date(index))
            })
            .collect()
    }

    /// The record's day with which a block near `begins` starts.
    fn start(
        self,
        days: &RecordDays,
        begins: Date,
        mut rng: rand::rngs::ChaCha8Rng,
    ) -> Option<usize> {
        let starts = days.near(begins, self.window_days as i32, self.length_days.max(1) as usize);
        (!starts.is_empty()).then(|| starts[rng.random_range(0..starts.len())])
    }
}

fn stream_of(of: (u64, u32), block: i64) -> rand::rngs::ChaCha8Rng {
    // Place 0 is the phase's.
    stream_at(of, Purpose::Blocks, block + 1)
}

fn shifted(day: Date, by: i64) -> Date {
    day.saturating_add(jiff::Span::new().days(by))
}

/// Days from 1 January of the year 1.
pub(super) fn day_number(day: Date) -> i64 {
    day.duration_since(jiff::civil::date(1, 1, 1)).as_hours() / 24
}

#[cfg(test)]
#[path = "blocks_tests.rs"]
mod tests;
