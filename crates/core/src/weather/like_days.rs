//! Days of a record that resemble a drawn day's wind, so that air, radiation, rain and
//! evapotranspiration go with it.
//!
//! A wind drawn from a climate that was fitted to a record has no air of its own. Each drawn day
//! takes that of one of the record's days around the same date whose mean wind vector is nearest to
//! its own, picked at random among a few (nearest neighbors: Lall & Sharma 1996, Water Resources
//! Research 32:679–693; from memory, medium). A day before the drawn wind begins takes any of them.
//! Neglected: that the air of one day goes on into the next.

use super::blocks::{Blocks, day_number};
use super::hour::Wind;
use super::record::WeatherRecord;
use super::record_days::RecordDays;
use super::streams::{Purpose, stream_at};
use jiff::civil::Date;
use rand::RngExt;

/// Days around the date that are looked at.
const WINDOW_DAYS: u32 = 20;
/// Nearest days among which one is picked.
const NEAREST: usize = 5;

/// The record's day for each of `count` days from `from` on, the drawn winds beginning with the
/// first hour of `winds_from`.
pub(super) fn days(
    record: &WeatherRecord,
    (winds_from, winds): (Date, &[Option<Wind>]),
    (from, count): (Date, usize),
    of: (u64, u32),
) -> Vec<Option<Date>> {
    let days = RecordDays::of(record);
    let any = Blocks { length_days: 1, window_days: WINDOW_DAYS }.days(record, from, count, of);
    let offset = day_number(from) - day_number(winds_from);
    let drawn = |day: usize| -> Option<[f64; 2]> {
        let first = usize::try_from(24 * (offset + day as i64)).ok()?;
        mean_vector(winds.get(first..first + 24)?.iter().copied())
    };
    let pick = |day: usize, like: [f64; 2]| -> Option<Date> {
        let date = from.saturating_add(jiff::Span::new().days(day as i64));
        let mut near: Vec<(f64, usize)> = days
            .near(date, WINDOW_DAYS as i32, 1)
            .into_iter()
            .filter_map(|index| Some((distance(of_day(record, days.date(index))?, like), index)))
            .collect();
        near.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
        near.truncate(NEAREST);
        let mut rng = stream_at(of, Purpose::LikeDays, day_number(date));
        (!near.is_empty()).then(|| days.date(near[rng.random_range(0..near.len())].1))
    };
    (0..count).map(|day| drawn(day).map_or(any[day], |like| pick(day, like))).collect()
}

fn of_day(record: &WeatherRecord, day: Date) -> Option<[f64; 2]> {
    mean_vector((0..24).map(|hour| Some(record.hour_at(day.at(hour, 0, 0, 0))?.wind)))
}

/// Mean of the known winds as (east, north) of where they blow from; `None` without one.
fn mean_vector(winds: impl Iterator<Item = Option<Wind>>) -> Option<[f64; 2]> {
    let (mut sum, mut known) = ([0.0; 2], 0.0);
    for wind in winds.flatten() {
        let from = wind.from_deg.to_radians();
        sum[0] += wind.speed_m_s * libm::sin(from);
        sum[1] += wind.speed_m_s * libm::cos(from);
        known += 1.0;
    }
    (known > 0.0).then(|| sum.map(|sum| sum / known))
}

fn distance(one: [f64; 2], other: [f64; 2]) -> f64 {
    libm::hypot(one[0] - other[0], one[1] - other[1])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::hour::WeatherHour;
    use jiff::civil::date;

    #[test]
    fn closed_a_drawn_day_takes_the_air_of_a_day_with_its_wind() {
        // Every fifth day blows alike: eight such days lie within 20 of any date.
        let wind = |day: usize| Wind { speed_m_s: 1.0 + (day % 5) as f64, from_deg: 90.0 };
        let hour = |number: usize| {
            let wind = wind(number / 24);
            Some(WeatherHour { wind, air_temperature_c: None, relative_humidity: None })
        };
        let record = WeatherRecord {
            title: "made up".into(),
            first_hour: date(2001, 1, 1).at(0, 0, 0, 0),
            hours: (0..8760).map(hour).collect(),
            sky: Vec::new(),
            site: None,
            measured_at_m: 10.0,
            typical_year: true,
        };
        let from = date(2027, 6, 1);
        let drawn: Vec<Option<Wind>> = (0..24 * 30).map(|hour| Some(wind(hour / 24))).collect();
        let sources = days(&record, (from, &drawn), (from, 30), (1, 0));
        for (day, source) in sources.into_iter().enumerate() {
            assert_eq!(of_day(&record, source.unwrap()), of_day_of(wind(day)));
        }
    }

    fn of_day_of(wind: Wind) -> Option<[f64; 2]> {
        mean_vector(std::iter::repeat_n(Some(wind), 24))
    }
}
