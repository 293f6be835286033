//! One value a day from a record: rain, reference evapotranspiration. Gaps stay gaps.
//!
//! Nothing is filled in here: whoever asks for days gets all of them or a list of those missing.

use super::record::{SkyHour, WeatherRecord};
use jiff::ToSpan;
use jiff::civil::Date;
use std::fmt::{self, Display, Formatter};

/// Days in order, gaps included.
#[derive(Clone, Debug, PartialEq)]
pub struct DailySeries {
    /// Day of the first value.
    pub first_day: Date,
    /// One entry a day; `None` marks a day that is missing.
    pub values: Vec<Option<f64>>,
    /// A typical year: months stand for the same month of any year.
    pub typical_year: bool,
}

/// Days that are missing, as spans from first to last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gaps(pub Vec<(Date, Date)>);

/// At most so many gaps are told one by one.
const MOST_GAPS_TOLD: usize = 8;

impl DailySeries {
    /// The value of `day`, if the series holds it.
    pub fn on(&self, day: Date) -> Option<f64> {
        self.values.get(self.index_of(day)?).copied().flatten()
    }

    /// Whether `day` lies within the series, known or missing.
    pub fn covers(&self, day: Date) -> bool {
        self.index_of(day).is_some()
    }

    fn index_of(&self, day: Date) -> Option<usize> {
        let from_first = |day: Date| {
            let days = day.duration_since(self.first_day).as_hours() / 24;
            usize::try_from(days).ok().filter(|index| *index < self.values.len())
        };
        if !self.typical_year {
            return from_first(day);
        }
        // As in a record of hours: 29 February takes the weather of the 28th.
        let of_month = if (day.month(), day.day()) == (2, 29) { 28 } else { day.day() };
        let in_year = |year: i16| Date::new(year, day.month(), of_month).ok().and_then(from_first);
        let year = self.first_day.year();
        in_year(year).or_else(|| in_year(year + 1))
    }
}

/// What `on` says of `days` days from `first` on.
///
/// # Errors
/// Every day of which it says nothing, at once.
pub(crate) fn all_days(
    first: Date,
    days: usize,
    on: impl Fn(Date) -> Option<f64>,
) -> Result<Vec<f64>, Gaps> {
    let (mut values, mut gaps) = (Vec::with_capacity(days), Gaps(Vec::new()));
    for number in 0..days {
        let day = first.saturating_add((number as i64).days());
        match on(day) {
            Some(value) => values.push(value),
            None => gaps.add(day),
        }
    }
    if gaps.0.is_empty() { Ok(values) } else { Err(gaps) }
}

impl Gaps {
    /// Adds a day that comes after all days before it.
    pub fn add(&mut self, day: Date) {
        match self.0.last_mut() {
            Some((_, last)) if last.saturating_add(1.days()) == day => *last = day,
            _ => self.0.push((day, day)),
        }
    }

    /// Days missing in all.
    pub fn days(&self) -> i64 {
        self.0.iter().map(|(first, last)| 1 + last.duration_since(*first).as_hours() / 24).sum()
    }
}

impl Display for Gaps {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let told = self.0.iter().take(MOST_GAPS_TOLD).map(|(first, last)| {
            if first == last { first.to_string() } else { format!("{first} to {last}") }
        });
        let days = self.days();
        let plural = if days == 1 { "" } else { "s" };
        write!(f, "{days} day{plural}: {}", told.collect::<Vec<_>>().join(", "))?;
        match self.0.len() {
            gaps if gaps > MOST_GAPS_TOLD => write!(f, " and {} more gaps", gaps - MOST_GAPS_TOLD),
            _ => Ok(()),
        }
    }
}

impl WeatherRecord {
    /// Sums by the day of what `of` takes from each hour; a day counts only with all its 24 hours.
    pub fn daily_sums(&self, of: impl Fn(&SkyHour) -> Option<f64>) -> DailySeries {
        self.by_day(|record, day| {
            (0..24).map(|hour| record.sky_at(day.at(hour, 0, 0, 0)).and_then(|sky| of(&sky))).sum()
        })
    }

    /// What `of` makes of each day that the record touches.
    pub(crate) fn by_day(&self, of: impl Fn(&Self, Date) -> Option<f64>) -> DailySeries {
        let first_day = self.first_hour.date();
        let into_day = usize::from(self.first_hour.hour().unsigned_abs());
        let days = (into_day + self.hours.len()).div_ceil(24);
        let day = |number: usize| first_day.saturating_add((number as i64).days());
        DailySeries {
            first_day,
            values: (0..days).map(|number| of(self, day(number))).collect(),
            typical_year: self.typical_year,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn closed_days_are_all_there_or_the_missing_are_told() {
        let mut values = vec![Some(1.0); 30];
        (values[3], values[4], values[9]) = (None, None, None);
        let series = DailySeries { first_day: date(2021, 5, 1), values, typical_year: false };
        assert_eq!(all_days(date(2021, 5, 1), 3, |day| series.on(day)), Ok(vec![1.0; 3]));
        let gaps = all_days(date(2021, 4, 30), 12, |day| series.on(day)).unwrap_err();
        assert_eq!(gaps.to_string(), "4 days: 2021-04-30, 2021-05-04 to 2021-05-05, 2021-05-10");
        assert!(series.covers(date(2021, 5, 4)) && !series.covers(date(2021, 5, 31)));
        assert!(!series.covers(date(2021, 4, 30)));
    }

    #[test]
    fn closed_a_typical_year_stands_for_any() {
        let values = (0..365).map(|day| Some(f64::from(day))).collect();
        let series = DailySeries { first_day: date(2001, 1, 1), values, typical_year: true };
        assert_eq!(series.on(date(2028, 1, 3)), Some(2.0));
        assert_eq!(series.on(date(2028, 2, 29)), series.on(date(2028, 2, 28)));
        assert_eq!(series.on(date(2028, 3, 1)), Some(59.0));
    }
}
