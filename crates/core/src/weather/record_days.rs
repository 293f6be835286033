//! The days of a record: which are whole, and which lie near a date.

use super::record::WeatherRecord;
use jiff::ToSpan;
use jiff::civil::Date;

/// Days of a year on which dates are compared; 29 February counts as 1 March.
const YEAR_DAYS: i32 = 365;

/// The days that a record touches, in order.
#[derive(Debug)]
pub(super) struct RecordDays {
    first: Date,
    /// Whether all 24 hours of the day are known.
    whole: Vec<bool>,
    /// Whether the day after the last is the first, as in a whole typical year.
    round: bool,
}

impl RecordDays {
    pub(super) fn of(record: &WeatherRecord) -> Self {
        let first = record.first_hour.date();
        let into_day = usize::from(record.first_hour.hour().unsigned_abs());
        let days = (into_day + record.hours.len()).div_ceil(24);
        let is_known = |day: usize, hour: usize| {
            (day * 24 + hour)
                .checked_sub(into_day)
                .and_then(|index| record.hours.get(index))
                .is_some_and(Option::is_some)
        };
        let whole = (0..days).map(|day| (0..24).all(|hour| is_known(day, hour))).collect();
        Self { first, whole, round: record.typical_year && days >= YEAR_DAYS as usize }
    }

    pub(super) fn date(&self, index: usize) -> Date {
        self.first.saturating_add((index as i64).days())
    }

    /// The day `after` days after day `index`, if the record goes on as long.
    pub(super) fn after(&self, index: usize, after: usize) -> Option<usize> {
        let day = index + after;
        if day < self.whole.len() {
            return Some(day);
        }
        self.round.then(|| day % self.whole.len())
    }

    /// Days from which `length` whole days follow and which lie at most `window` days of the year
    /// from `near`; where there is none, those that are not whole too.
    pub(super) fn near(&self, near: Date, window: i32, length: usize) -> Vec<usize> {
        let in_window: Vec<usize> = (0..self.whole.len())
            .filter(|index| apart(self.date(*index), near) <= window)
            .filter(|index| self.after(*index, length - 1).is_some())
            .collect();
        let is_whole = |index: &usize| {
            (0..length).all(|day| self.after(*index, day).is_some_and(|day| self.whole[day]))
        };
        let whole: Vec<usize> = in_window.iter().copied().filter(is_whole).collect();
        if whole.is_empty() { in_window } else { whole }
    }
}

/// Days of the year between two dates, whatever their years, the shorter way round.
pub(super) fn apart(one: Date, other: Date) -> i32 {
    let of_year = |day: Date| {
        let number = i32::from(day.day_of_year());
        if day.in_leap_year() && number > 59 { number - 1 } else { number }
    };
    let between = (of_year(one) - of_year(other)).abs();
    between.min(YEAR_DAYS - between)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn closed_dates_are_compared_round_the_year() {
        assert_eq!(apart(date(2021, 1, 3), date(2030, 12, 30)), 4);
        assert_eq!(apart(date(2020, 6, 1), date(2021, 6, 1)), 0);
        assert_eq!(apart(date(2020, 2, 29), date(2021, 2, 28)), 0);
        assert_eq!(apart(date(2021, 7, 1), date(2021, 6, 1)), 30);
    }
}
