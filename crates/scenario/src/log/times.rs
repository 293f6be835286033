//! Times as people write them into a table.

use crate::read_time::split_offset;
use jiff::ToSpan as _;
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::Offset;

/// What is taken as a time.
pub(super) const TIMES: &str =
    "a time such as 2027-05-10 06:00, or 6:00 or 6:00 am on the row's own day";

/// Days by which a date may lie from its row's own where day and month could be either number. Any
/// two readings of one date lie 27 days or more apart, so no more than one is this near.
const NEAR_DAYS: i32 = 13;

/// A time as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Written {
    /// With its date, and the offset from UTC where that is told.
    Full(DateTime, Option<Offset>),
    /// The clock alone.
    Clock(Time),
}

/// The time that `text` stands for; `own` is the row's own day.
pub(super) fn read(text: &str, own: Option<Date>) -> Option<Written> {
    let text = text.trim();
    if let Some(clock) = clock(text) {
        return Some(Written::Clock(clock));
    }
    let (text, offset) = split_offset(text);
    let (date, time) = text.split_once([' ', 'T', 't'])?;
    let date = date_of(date.trim_end_matches(','), own)?;
    let at = date.to_datetime(clock(time)?);
    (1900..=2200).contains(&at.year()).then_some(Written::Full(at, offset))
}

/// `18:00`, `18:00:00`, `6:00 pm`, `6pm`.
fn clock(text: &str) -> Option<Time> {
    let lower = text.trim().to_lowercase().replace('.', "");
    let (digits, half) = match (lower.strip_suffix("am"), lower.strip_suffix("pm")) {
        (Some(digits), _) => (digits.trim(), Some(0)),
        (_, Some(digits)) => (digits.trim(), Some(12)),
        _ => (lower.as_str(), None),
    };
    let mut parts = digits.split(':');
    let number = |part: &str| part.parse::<i8>().ok().filter(|_| part.len() <= 2);
    let hour = number(parts.next()?)?;
    let minute = match (parts.next(), half) {
        (Some(minute), _) if minute.len() == 2 => number(minute)?,
        // A bare number is a clock only with its half of the day.
        (None, Some(_)) => 0,
        _ => return None,
    };
    if parts.next().is_some_and(|seconds| seconds != "00") || parts.next().is_some() {
        return None;
    }
    let hour = match half {
        None => hour,
        Some(half) if (1..=12).contains(&hour) => hour % 12 + half,
        Some(_) => return None,
    };
    Time::new(hour, minute, 0, 0).ok()
}

/// `2027-05-10`; or `5/10/2027`, `10.5.2027` and `10-05-2027`, whose order only the row's own day
/// can tell.
fn date_of(text: &str, own: Option<Date>) -> Option<Date> {
    let parts: Vec<&str> = text.split(['-', '/', '.']).collect();
    let [one, two, three] = parts[..] else { return None };
    let number = |part: &str| part.parse::<i16>().ok();
    let date = |year: i16, month: i16, day: i16| {
        Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()
    };
    if one.len() == 4 {
        return date(number(one)?, number(two)?, number(three)?);
    }
    let year = number(three).map(|year| if three.len() == 2 { 2000 + year } else { year })?;
    let (one, two) = (number(one)?, number(two)?);
    let mut ways = vec![date(year, two, one)];
    if !text.contains('.') {
        ways.push(date(year, one, two));
    }
    let near = |date: &Date| own.is_some_and(|own| days_between(own, *date).abs() <= NEAR_DAYS);
    ways.into_iter().flatten().find(near)
}

fn days_between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(i32::MAX, |span| span.get_days())
}

/// The clock time on the day `own`; on the next one where it would not be after `after`.
pub(super) fn on_day(clock: Time, own: Date, after: Option<DateTime>) -> DateTime {
    match after {
        None => own.to_datetime(clock),
        Some(after) => {
            let at = after.date().to_datetime(clock);
            if at > after { at } else { at.saturating_add(1.day()) }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn closed_every_way_of_writing_a_time_is_read() {
        let own = Some(date(2027, 5, 10));
        let full = |h, m| Some(Written::Full(date(2027, 5, 10).at(h, m, 0, 0), None));
        for text in [
            "2027-05-10 06:00",
            "2027-05-10T06:00",
            "2027-05-10 6:00:00",
            "5/10/2027 6:00 AM",
            "10/5/2027 6:00",
            "10.05.2027 06:00",
            "5/10/27 6 am",
        ] {
            assert_eq!(read(text, own), full(6, 0), "{text}");
        }
        let clock = |h, m| Some(Written::Clock(Time::constant(h, m, 0, 0)));
        for (text, wanted) in [
            ("6:00", clock(6, 0)),
            ("06:05", clock(6, 5)),
            ("6:00 am", clock(6, 0)),
            ("12:10 am", clock(0, 10)),
            ("12:10 pm", clock(12, 10)),
            ("6pm", clock(18, 0)),
            ("6:30 p.m.", clock(18, 30)),
        ] {
            assert_eq!(read(text, own), wanted, "{text}");
        }
    }

    #[test]
    fn closed_what_is_no_time_is_none() {
        let own = Some(date(2027, 5, 10));
        for text in [
            "6",
            "later",
            "25:00",
            "6:60",
            "13:00 pm",
            "0:10 am",
            "2027-05-10",
            "6:5",
            "6:00:30",
            "2027-13-10 06:00",
            "8/9/2027 6:00",
            "2027-05-10 06:00 am now",
            "é:00",
            "1:2:3:4",
        ] {
            assert_eq!(read(text, own), None, "{text}");
        }
        assert_eq!(read("5/10/2027 6:00", None), None);
    }

    #[test]
    fn closed_an_end_by_the_clock_is_after_its_beginning() {
        let clock = |h| Time::constant(h, 0, 0, 0);
        let (own, on) = (date(2027, 5, 10), date(2027, 5, 10).at(18, 0, 0, 0));
        assert_eq!(on_day(clock(5), own, Some(on)), date(2027, 5, 11).at(5, 0, 0, 0));
        assert_eq!(on_day(clock(20), own, Some(on)), date(2027, 5, 10).at(20, 0, 0, 0));
        assert_eq!(on_day(clock(5), own, None), date(2027, 5, 10).at(5, 0, 0, 0));
    }
}
