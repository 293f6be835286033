//! What the comment lines `# key: value` of a catch-can file say.

use super::text::{Cell, Note};
use crate::issue::{Issue, Issues};
use crate::limits::{self, Limit, Limited};
use crate::quantity::{self, Dimension};
use crate::suggest;
use evenfall_core::catch::WindReading;
use std::collections::BTreeMap;

/// What goes with a key.
pub(super) enum Value {
    /// Words.
    Text(&'static str),
    /// A quantity within its limits, and what more is to be said of it.
    Quantity(Limit, &'static str),
}

impl Value {
    /// What is allowed, for messages and for help.
    pub(super) fn words(&self) -> String {
        match self {
            Self::Text(words) => (*words).to_owned(),
            Self::Quantity(limit, more) => limit.words() + more,
        }
    }
}

/// Every key with what goes with it.
pub(super) static KEYS: [(&str, Value); 24] = [
    ("test", Value::Text("lateral, single or leg")),
    ("title", Value::Text("words")),
    ("note", Value::Text("words")),
    ("duration", Value::Quantity(limits::TestDuration::LIMIT, "")),
    ("readings", Value::Text("for a matrix: depth_mm, depth_in, volume_ml …")),
    ("blanks", Value::Text("missing or dry")),
    ("can diameter", Value::Quantity(limits::CanDiameter::LIMIT, "")),
    ("can height", Value::Quantity(limits::CanHeight::LIMIT, "")),
    (
        "evaporation",
        Value::Quantity(
            limits::CanEvaporation::LIMIT,
            ", lost from a control can; added to every wet can",
        ),
    ),
    ("laterals at", Value::Text("lengths across, with commas, such as 0 ft, 60 ft")),
    ("sprinkler at", Value::Text("x and y such as 0 ft, 0 ft; under a lateral only x counts")),
    ("sprinkler spacing", Value::Quantity(limits::SprinklerSpacing::LIMIT, "")),
    ("outlet spacing", Value::Quantity(limits::OutletSpacing::LIMIT, "")),
    ("wetted radius", Value::Quantity(limits::Radius::LIMIT, "")),
    ("pressure", Value::Quantity(limits::Pressure::LIMIT, "")),
    ("discharge", Value::Quantity(limits::Discharge::LIMIT, ", of one sprinkler")),
    ("trajectory angle", Value::Quantity(limits::TrajectoryAngle::LIMIT, "")),
    ("nozzle height", Value::Quantity(limits::NozzleHeight::LIMIT, "")),
    ("wind", Value::Text("how long, how fast, where from: 15 min, 3 m/s, 270 deg; once a reading")),
    ("wind height", Value::Quantity(limits::NotedWindHeight::LIMIT, "")),
    ("bearing of y", Value::Quantity(limits::Bearing::LIMIT, ", clockwise from north")),
    ("start", Value::Text("date and time such as 2026-06-03 09:30")),
    ("air temperature", Value::Quantity(limits::AirTemperature::LIMIT, "")),
    ("humidity", Value::Quantity(limits::Humidity::LIMIT, "")),
];

/// The notes by key, each with the place of its value.
#[derive(Debug)]
pub(super) struct Notes<'a> {
    by_key: BTreeMap<&'static str, Vec<Cell<'a>>>,
}

impl<'a> Notes<'a> {
    /// Sorts the notes; unknown and repeated keys are problems. A comment that only happens to hold a
    /// colon is one too: better told than passed over.
    pub(super) fn of(notes: &[Note<'a>], issues: &mut Issues) -> Self {
        let mut by_key: BTreeMap<&'static str, Vec<Cell<'a>>> = BTreeMap::new();
        for note in notes {
            let key = note.key.text.to_lowercase().replace('_', " ");
            let Some((known, allowed)) = KEYS.iter().find(|(known, _)| *known == key) else {
                let near = suggest::nearest(&key, KEYS.iter().map(|(known, _)| *known));
                let hint = match near {
                    Some(near) => {
                        format!("did you mean `{near}`? for free words use `# note: …`")
                    }
                    None => "for free words use `# note: …`, or no colon".to_owned(),
                };
                let problem = format!("the key `{}` is not known", note.key.text);
                let all: Vec<&str> = KEYS.iter().map(|(known, _)| *known).collect();
                issues.push(issue(&note.key, problem).allowed(all.join(", ")).hint(hint));
                continue;
            };
            if note.value.text.is_empty() {
                issues.push(
                    issue(&note.key, format!("`{known}` has no value")).allowed(allowed.words()),
                );
                continue;
            }
            let values = by_key.entry(known).or_default();
            if !values.is_empty() && !["wind", "note"].contains(known) {
                issues.push(issue(&note.key, format!("`{known}` is given twice")).hint("keep one"));
                continue;
            }
            values.push(note.value.clone());
        }
        Self { by_key }
    }

    /// The value of a key, as text.
    pub(super) fn text(&self, key: &'static str) -> Option<&Cell<'a>> {
        self.by_key.get(key).and_then(|values| values.first())
    }

    /// All values of a key that may be repeated.
    pub(super) fn all(&self, key: &'static str) -> &[Cell<'a>] {
        self.by_key.get(key).map_or(&[][..], Vec::as_slice)
    }

    /// The quantity of a key, within its limits.
    pub(super) fn quantity(&self, key: &'static str, issues: &mut Issues) -> Option<f64> {
        let (_, value) = KEYS.iter().find(|(known, _)| *known == key)?;
        let Value::Quantity(limit, _) = value else { return None };
        quantity_of(self.text(key)?, key, limit, issues)
    }

    /// Several lengths with commas between them.
    pub(super) fn lengths(&self, key: &'static str, issues: &mut Issues) -> Option<Vec<f64>> {
        let cell = self.text(key)?;
        let parts = parts(cell);
        let found: Vec<Option<f64>> = parts
            .iter()
            .map(|part| quantity_of(part, key, &limits::NotedPlace::LIMIT, issues))
            .collect();
        found.into_iter().collect()
    }

    /// The wind readings, in the order of the file.
    pub(super) fn wind(&self, issues: &mut Issues) -> Vec<WindReading> {
        self.all("wind").iter().filter_map(|cell| wind_of(cell, issues)).collect()
    }
}

fn wind_of(cell: &Cell<'_>, issues: &mut Issues) -> Option<WindReading> {
    let parts = parts(cell);
    if !(2..=3).contains(&parts.len()) {
        let problem = format!("`{}` is not a wind reading", cell.text);
        let allowed = "how long, how fast, where from, such as 15 min, 3 m/s, 270 deg";
        issues.push(issue(cell, problem).allowed(allowed).hint("one line a reading"));
        return None;
    }
    let hours = quantity_of(&parts[0], "wind", &limits::NotedWindTime::LIMIT, issues);
    let speed_m_s = quantity_of(&parts[1], "wind", &limits::WindSpeed::LIMIT, issues);
    let from_deg = match parts.get(2) {
        Some(part) => quantity_of(part, "wind", &limits::WindFrom::LIMIT, issues),
        None if speed_m_s == Some(0.0) => Some(0.0),
        None => {
            let hint =
                "degrees clockwise from north, such as 270 deg, or W, for a wind from the west";
            issues.push(issue(cell, "the wind has no direction").hint(hint));
            None
        }
    };
    Some(WindReading { hours: hours?, speed_m_s: speed_m_s?, from_deg: from_deg? })
}

/// The parts of a value between commas.
fn parts<'a>(cell: &Cell<'a>) -> Vec<Cell<'a>> {
    let mut from = cell.span.start;
    cell.text
        .split(',')
        .map(|part| {
            let left = part.len() - part.trim_start().len();
            let start = from + left;
            from += part.len() + 1;
            Cell { text: part.trim(), span: start..start + part.trim().len() }
        })
        .collect()
}

fn quantity_of(cell: &Cell<'_>, key: &str, limit: &Limit, issues: &mut Issues) -> Option<f64> {
    let wrong = |why: String| issue(cell, format!("`{key}`: {why}")).allowed(limit.words());
    let parsed = match quantity::parse(cell.text) {
        Ok(parsed) => parsed,
        Err(error) => {
            issues.push(
                wrong(format!("`{}` is not a quantity: {error}", cell.text))
                    .hint("Write a number and its unit."),
            );
            return None;
        }
    };
    if !limit.dimension.takes(parsed.dimension) {
        let problem = format!("`{}` is {}", cell.text, parsed.dimension.name());
        issues.push(wrong(problem).hint(spellings(limit.dimension)));
        return None;
    }
    if parsed.with_decimal_comma.is_some_and(|other| limit.holds(other)) {
        issues.push(wrong(format!("`{}` has a comma of two meanings", cell.text)));
        return None;
    }
    if !limit.holds(parsed.value) {
        issues.push(wrong(format!("`{}` is out of range", cell.text)));
        return None;
    }
    Some(parsed.value)
}

fn spellings(dimension: Dimension) -> String {
    let all: Vec<&str> = dimension.spellings().collect();
    format!("its units: {}", all.join(", "))
}

/// A problem at a cell.
pub(super) fn issue(cell: &Cell<'_>, problem: impl Into<String>) -> Issue {
    Issue {
        pointer: String::new(),
        span: cell.span.clone(),
        problem: problem.into(),
        allowed: None,
        hint: None,
    }
}
