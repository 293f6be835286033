//! Dates and times of day as the sheet writes them.

use crate::texts::{Language, dates};
use evenfall_core::clock::WallTime;
use evenfall_view::units::UnitSystem;
use jiff::civil::{Date, Time};

/// How the clock is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClockFace {
    /// With am and pm.
    TwelveHours,
    /// From 0:00 to 24:00.
    TwentyFourHours,
}

impl ClockFace {
    /// What is usual with these units.
    pub fn usual(units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::TwelveHours,
            UnitSystem::Si => Self::TwentyFourHours,
        }
    }
}

/// How dates and times are written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Times {
    pub(super) language: Language,
    pub(super) face: ClockFace,
    /// Whether the month comes before the day.
    pub(super) month_first: bool,
}

impl Times {
    /// "6:00 am"; with its zone where the clock shows it twice.
    pub(super) fn clock(self, time: &WallTime) -> String {
        let clock = self.of_day(time.at.time());
        if time.is_twice { format!("{clock} {}", time.abbreviation) } else { clock }
    }

    fn of_day(self, time: Time) -> String {
        let (hour, minute) = (time.hour(), time.minute());
        match (self.face, hour, minute) {
            (ClockFace::TwentyFourHours, ..) => format!("{hour:02}:{minute:02}"),
            (_, 0, 0) => dates::MIDNIGHT.of(self.language).to_owned(),
            (_, 12, 0) => dates::NOON.of(self.language).to_owned(),
            (_, hour, _) => {
                let half = if hour < 12 { dates::MORNING } else { dates::AFTERNOON };
                let shown = format!("{}:{minute:02}", (hour + 11) % 12 + 1);
                half.with(self.language, &[("time", &shown)])
            }
        }
    }

    /// The same for the end of a set: "5:30 am Tue" where that is another day than `began`.
    pub(super) fn end(self, time: &WallTime, began: Date) -> String {
        let clock = self.clock(time);
        if time.at.date() == began {
            return clock;
        }
        format!("{clock} {}", dates::weekday(self.language, time.at.weekday()))
    }

    /// "Mon May 10" or "Mon 10 May".
    pub(super) fn day(self, date: Date) -> String {
        let order = if self.month_first { dates::MONTH_FIRST } else { dates::DAY_FIRST };
        order.with(
            self.language,
            &[
                ("weekday", &dates::weekday(self.language, date.weekday())),
                ("day", &date.day()),
                ("month", &dates::short_month(self.language, date)),
            ],
        )
    }

    /// "Mon May 10, 6:00 am".
    pub(super) fn moment(self, time: &WallTime) -> String {
        format!("{}, {}", self.day(time.at.date()), self.clock(time))
    }
}

/// Hours and minutes after a start: "11:30".
pub(super) fn after(hours_h: f64) -> String {
    let minutes = (hours_h * 60.0).round() as i64;
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::clock::FieldClock;
    use jiff::civil::date;

    fn times(language: Language, face: ClockFace) -> Times {
        Times { language, face, month_first: true }
    }

    fn plain(day: i8, hour: i8, minute: i8) -> WallTime {
        FieldClock::default().shown(date(2027, 5, day).at(hour, minute, 0, 0))
    }

    #[test]
    fn closed_a_set_that_ends_the_next_day_says_so() {
        let us = times(Language::English, ClockFace::TwelveHours);
        let monday = date(2027, 5, 10);
        assert_eq!(us.end(&plain(11, 5, 30), monday), "5:30\u{a0}am Tue");
        assert_eq!(us.end(&plain(10, 17, 30), monday), "5:30\u{a0}pm");
        assert_eq!(us.moment(&plain(10, 18, 0)), "Mon May 10, 6:00\u{a0}pm");
        let spanish = times(Language::Spanish, ClockFace::TwelveHours);
        assert_eq!(spanish.end(&plain(11, 5, 30), monday), "5:30\u{a0}a.m. mar");
        assert_eq!(spanish.day(monday), "lun 10 may");
    }

    #[test]
    fn closed_noon_and_midnight_are_called_by_name_and_24_hours_need_no_name() {
        let of =
            |face, hour, minute| times(Language::English, face).clock(&plain(10, hour, minute));
        let twelve = |hour, minute| of(ClockFace::TwelveHours, hour, minute);
        assert_eq!((&*twelve(0, 0), &*twelve(12, 0)), ("midnight", "noon"));
        assert_eq!((&*twelve(0, 30), &*twelve(12, 30)), ("12:30\u{a0}am", "12:30\u{a0}pm"));
        assert_eq!(of(ClockFace::TwentyFourHours, 0, 0), "00:00");
        assert_eq!(of(ClockFace::TwentyFourHours, 18, 5), "18:05");
        assert_eq!(after(11.5), "11:30");
    }

    #[test]
    fn closed_an_hour_that_comes_twice_has_its_zone_beside_it() {
        let clock = FieldClock::in_zone("America/Boise", date(2027, 11, 7)).unwrap();
        let us = times(Language::English, ClockFace::TwelveHours);
        let at = |hour| us.clock(&clock.shown(date(2027, 11, 7).at(hour, 30, 0, 0)));
        assert_eq!([at(0), at(1), at(2)], ["1:30\u{a0}am MDT", "1:30\u{a0}am MST", "2:30\u{a0}am"]);
    }
}
