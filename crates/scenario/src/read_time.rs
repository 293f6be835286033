//! Readers of time zones, and of times that may tell which of two equal ones is meant.

use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::read::{Read, unexpected};
use crate::suggest;
use evenfall_core::clock::{FieldClock, zone_names};
use jiff::civil::{Date, DateTime};
use jiff::tz::Offset;
use schemars::{Schema, SchemaGenerator, json_schema};

/// What people in the United States call their zones, and the zone whose clocks these are.
const SPOKEN: [(&str, &str); 8] = [
    ("Pacific", "America/Los_Angeles"),
    ("Mountain", "America/Denver"),
    ("Arizona", "America/Phoenix"),
    ("Central", "America/Chicago"),
    ("Eastern", "America/New_York"),
    ("Atlantic", "America/Puerto_Rico"),
    ("Alaska", "America/Anchorage"),
    ("Hawaii", "Pacific/Honolulu"),
];

/// Any day: only whether a zone is there is asked.
const ANY_DAY: Date = Date::constant(2027, 1, 1);

/// A time zone by its name.
#[derive(Clone, Debug)]
pub(crate) struct ZoneName {
    /// Its name in the IANA Time Zone Database.
    pub(crate) value: String,
}

impl Read for ZoneName {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let Json::Text(text) = &node.json else {
            unexpected::<Self>(node, issues);
            return None;
        };
        let text = text.trim();
        let spoken = SPOKEN.iter().find(|(spoken, _)| {
            let said = text.to_lowercase();
            let said = said.trim_end_matches(" time").trim_end_matches(" standard");
            said == spoken.to_lowercase()
        });
        let name = spoken.map_or(text, |(_, name)| name);
        if let Some(clock) = FieldClock::in_zone(name, ANY_DAY) {
            let value = clock.zone_name().unwrap_or(name).to_owned();
            return Some(Self { value });
        }
        let names = zone_names();
        let known = SPOKEN.iter().map(|(spoken, _)| *spoken);
        let near = suggest::nearest(text, known.chain(names.iter().map(String::as_str)));
        let problem = format!("there is no time zone \"{text}\"");
        let hint = "Name a city of the zone, such as America/Boise, or leave the key out for \
                    standard time.";
        let hint = near.map_or_else(|| hint.to_owned(), |near| format!("Did you mean \"{near}\"?"));
        issues.push(Issue::new(&node.at, problem).allowed(Self::expects()).hint(hint));
        None
    }
    fn expects() -> String {
        let spoken: Vec<&str> = SPOKEN.iter().map(|(spoken, _)| *spoken).collect();
        format!(
            "a name of the IANA Time Zone Database, such as \"America/Boise\", or one of {}",
            spoken.join(", ")
        )
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "name of a time zone",
            "minLength": 1,
            "maxLength": 60,
            "examples": ["America/Boise"],
        })
    }
}

/// A date with clock time as the clock shows it, and its offset from UTC where that is told.
#[derive(Clone, Debug)]
pub(crate) struct Stamp {
    pub(crate) value: DateTime,
    pub(crate) offset: Option<Offset>,
    pub(crate) at: At,
}

impl Read for Stamp {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let (text, offset) = match &node.json {
            Json::Text(text) => split_offset(text),
            _ => ("", None),
        };
        let is_plain = text.contains(':') && text.len() <= "YYYY-MM-DDTHH:MM:SS".len();
        let value = is_plain.then(|| text.parse::<DateTime>().ok()).flatten();
        let value =
            value.filter(|moment| (1900..=2200).contains(&moment.year()) && moment.second() == 0);
        if value.is_none() {
            let problem = format!("{} is {}", issues.subject(), node.shown());
            let hint = "Write it like \"2027-05-10T06:00\", as the field's clock shows it: standard \
                        time where the scenario has no `time_zone`.";
            issues.push(Issue::new(&node.at, problem).allowed(Self::expects()).hint(hint));
        }
        Some(Self { value: value?, offset, at: node.at.clone() })
    }
    fn expects() -> String {
        "a date with clock time, YYYY-MM-DDTHH:MM, from 1900 to 2200".to_owned()
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "date with clock time as the field's clock shows it; the offset from UTC \
                            only where the clock shows it twice",
            "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}[T ][0-9]{2}:[0-9]{2}(:00)?([+-][0-9]{2}:[0-9]{2})?$",
        })
    }
}

/// Parts a time from an offset at its end: "2027-11-07T01:30-07:00". Dates have no colon after their
/// last sign, so "10-05-2027 6:00" keeps its own.
pub(crate) fn split_offset(text: &str) -> (&str, Option<Offset>) {
    let whole = (text, None);
    let Some(at) = text.len().checked_sub("+00:00".len()).filter(|at| text.is_char_boundary(*at))
    else {
        return whole;
    };
    let (rest, end) = text.split_at(at);
    let sign = match end.as_bytes().first() {
        Some(b'+') => 1,
        Some(b'-') => -1,
        _ => return whole,
    };
    let number = |part: &str| part.parse::<i32>().ok().filter(|_| part.len() == 2);
    let parts = end[1..].split_once(':').and_then(|(h, m)| Some((number(h)?, number(m)?)));
    let offset = parts.filter(|(h, m)| *h <= 25 && *m < 60).and_then(|(hours, minutes)| {
        Offset::from_seconds(sign * (3600 * hours + 60 * minutes)).ok()
    });
    match offset {
        Some(offset) if rest.contains(':') => (rest, Some(offset)),
        _ => whole,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn zone(text: &str) -> Result<String, String> {
        let mut issues = Issues::default();
        let node = Node { at: At::default(), json: Json::Text(text.to_owned()) };
        let read = ZoneName::read(&node, &mut issues);
        read.map(|zone| zone.value).ok_or_else(|| issues.sentences())
    }

    #[test]
    fn closed_zones_are_known_by_city_and_as_people_say_them() {
        assert_eq!(zone("America/Boise").unwrap(), "America/Boise");
        assert_eq!(zone("Mountain").unwrap(), "America/Denver");
        assert_eq!(zone("pacific time").unwrap(), "America/Los_Angeles");
        let said = zone("America/Boisee").unwrap_err();
        assert!(said.contains("Did you mean \"America/Boise\"?"), "{said}");
        assert!(zone("noon").unwrap_err().contains("such as \"America/Boise\""));
    }

    #[test]
    fn closed_an_offset_is_parted_from_a_time_and_from_nothing_else() {
        let hours = |hours| Some(Offset::constant(hours));
        assert_eq!(split_offset("2027-11-07T01:30-07:00"), ("2027-11-07T01:30", hours(-7)));
        assert_eq!(split_offset("2027-11-07T01:30"), ("2027-11-07T01:30", None));
        for text in ["10-05-2027 6:00", "5-10-27 16:00", "é06:00", "", "-07:00", "6:00 pm"] {
            assert_eq!(split_offset(text), (text, None), "{text}");
        }
    }
}
