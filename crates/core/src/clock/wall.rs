//! The clock on the wall: local standard time, in which everything is computed, as people read it in
//! the field's time zone with its daylight saving time.
//!
//! standard = UTC + s and wall = UTC + o(UTC), where o is the zone's offset at that moment and s the
//! lesser of its offsets on January 1 and July 1 of the season's year: standard time is what the clock
//! says when it is not set forward. The zones are those of the IANA Time Zone Database that the
//! `jiff` library carries with it, never those of the machine, so the same digits come everywhere.
//!
//! Neglected: a zone that changes its standard time within a season.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{AmbiguousOffset, Offset, TimeZone, TimeZoneDatabase};
use jiff::{Timestamp, ToSpan};
use std::fmt;

/// What the clock without a zone is called in files.
pub const STANDARD_TIME: &str = "standard time";

/// The clock that times are read by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FieldClock {
    zone: Option<Zone>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Zone {
    rules: TimeZone,
    name: String,
    standard: Offset,
}

/// A time as the clock on the wall shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WallTime {
    /// What it shows.
    pub at: DateTime,
    /// Offset from UTC then; `None` without a zone.
    pub offset: Option<Offset>,
    /// The zone's short name for the time then, such as MDT; empty without a zone.
    pub abbreviation: String,
    /// Whether the clock shows this time twice, because it is set back.
    pub is_twice: bool,
}

impl fmt::Display for WallTime {
    /// To the minute, ISO 8601; with the offset where the clock shows the time twice.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.at.strftime("%Y-%m-%dT%H:%M"))?;
        match self.offset.filter(|_| self.is_twice) {
            None => Ok(()),
            Some(offset) => {
                let (sign, minutes) =
                    (if offset.seconds() < 0 { '-' } else { '+' }, offset.seconds().abs() / 60);
                write!(f, "{sign}{:02}:{:02}", minutes / 60, minutes % 60)
            }
        }
    }
}

/// The names of all zones.
pub fn zone_names() -> Vec<String> {
    TimeZoneDatabase::bundled().available().map(|name| name.as_str().to_owned()).collect()
}

impl FieldClock {
    /// The clock of the zone `name` in the year of `day`; `None` where there is no such zone.
    pub fn in_zone(name: &str, day: Date) -> Option<Self> {
        let rules = TimeZoneDatabase::bundled().get(name).ok()?;
        let on = |month: i8| {
            let noon = Date::new(day.year(), month, 1).ok()?.to_datetime(Time::midnight());
            Some(rules.to_offset(Offset::UTC.to_timestamp(noon).ok()?))
        };
        let standard = on(1)?.min(on(7)?);
        let name = rules.iana_name().unwrap_or(name).to_owned();
        Some(Self { zone: Some(Zone { rules, name, standard }) })
    }

    /// The zone's name; `None` for standard time without a zone.
    pub fn zone_name(&self) -> Option<&str> {
        self.zone.as_ref().map(|zone| zone.name.as_str())
    }

    /// The moment of a local standard time; `None` without a zone.
    pub fn moment(&self, standard: DateTime) -> Option<Timestamp> {
        self.zone.as_ref()?.standard.to_timestamp(standard).ok()
    }

    /// What the clock on the wall shows at a local standard time.
    pub fn shown(&self, standard: DateTime) -> WallTime {
        let plain = || WallTime {
            at: standard,
            offset: None,
            abbreviation: String::new(),
            is_twice: false,
        };
        let (Some(zone), Some(moment)) = (&self.zone, self.moment(standard)) else {
            return plain();
        };
        let info = zone.rules.to_offset_info(moment);
        let at = info.offset().to_datetime(moment);
        let fold = zone.rules.to_ambiguous_timestamp(at).offset();
        WallTime {
            at,
            offset: Some(info.offset()),
            abbreviation: info.abbreviation().to_owned(),
            is_twice: matches!(fold, AmbiguousOffset::Fold { .. }),
        }
    }

    /// The local standard time at which the clock on the wall shows `at`. A time that it shows twice
    /// is the one at `offset`, or the first; one that it leaves out is as much later as it jumps.
    pub fn standard(&self, at: DateTime, offset: Option<Offset>) -> DateTime {
        let Some(zone) = &self.zone else { return at };
        let then = match zone.rules.to_ambiguous_timestamp(at).offset() {
            AmbiguousOffset::Unambiguous { offset } => offset,
            AmbiguousOffset::Gap { before, .. } => before,
            AmbiguousOffset::Fold { before, after } => {
                offset.filter(|o| *o == after).unwrap_or(before)
            }
        };
        let ahead_s = i64::from(then.seconds()) - i64::from(zone.standard.seconds());
        at.saturating_sub(ahead_s.seconds())
    }

    /// How far the clock on the wall is ahead of standard time, h.
    pub fn ahead_h(&self, standard: DateTime) -> f64 {
        self.shown(standard).at.duration_since(standard).as_secs_f64() / 3600.0
    }

    /// When the clock is set forward or back between two local standard times: what it shows then.
    pub fn changes(&self, from: DateTime, to: DateTime) -> Vec<WallTime> {
        let (Some(zone), Some(first), Some(last)) =
            (&self.zone, self.moment(from), self.moment(to))
        else {
            return Vec::new();
        };
        let next = zone.rules.following(first).take_while(|change| change.timestamp() < last);
        next.map(|change| self.shown(zone.standard.to_datetime(change.timestamp()))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn boise() -> FieldClock {
        FieldClock::in_zone("America/Boise", date(2027, 5, 10)).unwrap()
    }

    fn offset(hours: i8) -> Offset {
        Offset::constant(hours)
    }

    #[test]
    fn closed_in_summer_the_clock_is_an_hour_ahead() {
        let (clock, standard) = (boise(), date(2027, 5, 10).at(5, 0, 0, 0));
        let shown = clock.shown(standard);
        assert_eq!((shown.at, shown.offset), (date(2027, 5, 10).at(6, 0, 0, 0), Some(offset(-6))));
        assert_eq!((&*shown.abbreviation, shown.is_twice), ("MDT", false));
        assert_eq!(clock.standard(shown.at, None), standard);
        // 6:00 Mountain daylight time is noon in Greenwich.
        assert_eq!(clock.moment(standard).unwrap().to_string(), "2027-05-10T12:00:00Z");
        assert!((clock.ahead_h(standard) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn published_the_clocks_of_2027_change_on_march_14_and_november_7() {
        // 15 U.S.C. 260a: second Sunday of March, first Sunday of November, at 2 o'clock.
        let changes =
            boise().changes(date(2027, 1, 1).at(0, 0, 0, 0), date(2028, 1, 1).at(0, 0, 0, 0));
        let at: Vec<DateTime> = changes.iter().map(|change| change.at).collect();
        assert_eq!(at, [date(2027, 3, 14).at(3, 0, 0, 0), date(2027, 11, 7).at(1, 0, 0, 0)]);
    }

    #[test]
    fn closed_the_hour_that_comes_twice_is_told_apart_and_read_back() {
        let clock = boise();
        // 0:30 and 1:30 standard time both show 1:30 on November 7.
        for (hour, hours, name) in [(0, -6, "MDT"), (1, -7, "MST")] {
            let standard = date(2027, 11, 7).at(hour, 30, 0, 0);
            let shown = clock.shown(standard);
            assert_eq!(shown.at, date(2027, 11, 7).at(1, 30, 0, 0));
            assert_eq!((shown.offset, &*shown.abbreviation), (Some(offset(hours)), name));
            assert!(shown.is_twice);
            assert_eq!(shown.to_string(), format!("2027-11-07T01:30-0{}:00", -hours));
            assert_eq!(clock.standard(shown.at, shown.offset), standard);
        }
        let first = clock.standard(date(2027, 11, 7).at(1, 30, 0, 0), None);
        assert_eq!(first, date(2027, 11, 7).at(0, 30, 0, 0));
    }

    #[test]
    fn closed_the_hour_that_is_left_out_is_taken_an_hour_later() {
        let clock = boise();
        // 2:30 is not there on March 14: taken as 3:30 daylight time, 2:30 standard time.
        let standard = clock.standard(date(2027, 3, 14).at(2, 30, 0, 0), None);
        assert_eq!(standard, date(2027, 3, 14).at(2, 30, 0, 0));
        assert_eq!(clock.shown(standard).at, date(2027, 3, 14).at(3, 30, 0, 0));
    }

    #[test]
    fn closed_south_of_the_equator_standard_time_is_that_of_july() {
        let clock = FieldClock::in_zone("America/Santiago", date(2027, 1, 15)).unwrap();
        assert!((clock.ahead_h(date(2027, 1, 15).at(6, 0, 0, 0)) - 1.0).abs() < 1e-12);
        assert!(clock.ahead_h(date(2027, 7, 15).at(6, 0, 0, 0)).abs() < 1e-12);
    }

    #[test]
    fn closed_without_a_zone_nothing_is_turned_and_unknown_zones_are_none() {
        let (clock, at) = (FieldClock::default(), date(2027, 5, 10).at(6, 0, 0, 0));
        assert_eq!((clock.shown(at).at, clock.standard(at, None)), (at, at));
        assert!(clock.moment(at).is_none() && clock.zone_name().is_none());
        assert!(clock.changes(at, date(2028, 5, 10).at(6, 0, 0, 0)).is_empty());
        assert!(FieldClock::in_zone("America/Nowhere", date(2027, 5, 10)).is_none());
        assert!(zone_names().iter().any(|name| name == "America/Boise"));
    }
}
