//! Readers of texts, dates, truth values and lists.

use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::read::{Plain, Read, unexpected};
use jiff::civil::{Date, DateTime};
use schemars::{Schema, SchemaGenerator, json_schema};

/// A text that is not empty.
#[derive(Clone, Debug)]
pub(crate) struct Text {
    pub(crate) value: String,
    pub(crate) at: At,
}

impl Read for Text {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        match &node.json {
            Json::Text(text) if (1..=400).contains(&text.trim().chars().count()) => {
                Some(Self { value: text.trim().to_owned(), at: node.at.clone() })
            }
            _ => {
                unexpected::<Self>(node, issues);
                None
            }
        }
    }
    fn expects() -> String {
        "a text of 1 to 400 letters".to_owned()
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "minLength": 1, "maxLength": 400 })
    }
}

/// Most letters of a name.
const MOST_LETTERS: usize = 24;

/// What something is called, short enough for a table.
#[derive(Clone, Debug)]
pub(crate) struct Name {
    pub(crate) value: String,
    pub(crate) at: At,
}

impl Read for Name {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        match &node.json {
            Json::Text(text)
                if text.chars().any(char::is_alphanumeric)
                    && !text.chars().any(char::is_control)
                    && text.trim().chars().count() <= MOST_LETTERS =>
            {
                Some(Self { value: text.trim().to_owned(), at: node.at.clone() })
            }
            _ => {
                unexpected::<Self>(node, issues);
                None
            }
        }
    }
    fn expects() -> String {
        format!("a name of 1 to {MOST_LETTERS} letters, such as \"levelers\"")
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "minLength": 1,
            "maxLength": MOST_LETTERS,
            "examples": ["levelers"],
        })
    }
}

/// Name of a currency: a few letters or currency signs.
#[derive(Clone, Debug)]
pub(crate) struct Currency {
    pub(crate) value: String,
}

impl Read for Currency {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        // Signs of Unicode 16's category Sc that any currency of today uses.
        let is_sign = |c: char| matches!(c, '$' | '¢'..='¥' | '\u{20a0}'..='\u{20c0}');
        match &node.json {
            Json::Text(text)
                if (1..=8).contains(&text.chars().count())
                    && text.chars().all(|c| c.is_alphabetic() || is_sign(c)) =>
            {
                Some(Self { value: text.clone() })
            }
            _ => {
                unexpected::<Self>(node, issues);
                None
            }
        }
    }
    fn expects() -> String {
        "1 to 8 letters or currency signs, such as \"USD\"".to_owned()
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "name of a currency",
            "pattern": r"^[\p{L}$\u00a2-\u00a5\u20a0-\u20c0]{1,8}$",
            "examples": ["USD"],
        })
    }
}

impl Read for bool {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        if let Json::Bool(value) = node.json {
            return Some(value);
        }
        unexpected::<Self>(node, issues);
        None
    }
    fn expects() -> String {
        "true or false".to_owned()
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "boolean" })
    }
}

impl Plain for bool {
    type Value = Self;
    const NONE: Self = false;
    fn plain(&self) -> Option<Self> {
        Some(*self)
    }
}

/// `true`, the only value of a key that is there or not.
#[derive(Clone, Debug)]
pub(crate) struct True;

impl Read for True {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        if matches!(node.json, Json::Bool(true)) {
            return Some(Self);
        }
        unexpected::<Self>(node, issues);
        None
    }
    fn expects() -> String {
        "true".to_owned()
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "const": true })
    }
}

/// A date with clock time, as the field's clock shows it.
#[derive(Clone, Debug)]
pub(crate) struct Moment {
    pub(crate) value: DateTime,
    pub(crate) at: At,
}

impl Read for Moment {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let value = match &node.json {
            Json::Text(text) => text.parse::<DateTime>().ok(),
            _ => None,
        };
        let value = value.filter(|moment| {
            (1900..=2200).contains(&moment.year()) && moment.second() == 0 && is_plain(node)
        });
        if value.is_none() {
            let problem = format!("{} is {}", issues.subject(), node.shown());
            let hint = "Write it like \"2027-05-10T06:00\": as the clock on the wall shows it where the \
                        field has a `time_zone`, else without daylight saving time.";
            issues.push(Issue::new(&node.at, problem).allowed(Self::expects()).hint(hint));
        }
        Some(Self { value: value?, at: node.at.clone() })
    }
    fn expects() -> String {
        "a date with clock time, YYYY-MM-DDTHH:MM, from 1900 to 2200".to_owned()
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "date with clock time, as the field's clock shows it",
            "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}[T ][0-9]{2}:[0-9]{2}(:00)?$",
        })
    }
}

/// A date alone would silently mean midnight, and a zone or an offset would silently be left out.
fn is_plain(node: &Node) -> bool {
    let most = "YYYY-MM-DDTHH:MM:SS".len();
    matches!(&node.json, Json::Text(text) if text.contains(':') && text.len() <= most)
}

/// A date without clock time.
#[derive(Clone, Debug)]
pub(crate) struct Day {
    pub(crate) value: Date,
    pub(crate) at: At,
}

impl Read for Day {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let value = match &node.json {
            Json::Text(text) if text.len() == "YYYY-MM-DD".len() => text.parse::<Date>().ok(),
            _ => None,
        };
        let value = value.filter(|date| (1900..=2200).contains(&date.year()));
        if value.is_none() {
            let problem = format!("{} is {}", issues.subject(), node.shown());
            let hint = "Write it like \"2027-04-15\", without a time of day.";
            issues.push(Issue::new(&node.at, problem).allowed(Self::expects()).hint(hint));
        }
        Some(Self { value: value?, at: node.at.clone() })
    }
    fn expects() -> String {
        "a date, YYYY-MM-DD, from 1900 to 2200".to_owned()
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "a date",
            "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
        })
    }
}

/// A list that is not empty and has at most `MOST` items.
#[derive(Clone, Debug)]
pub(crate) struct List<T, const MOST: usize> {
    pub(crate) items: Vec<T>,
    pub(crate) at: At,
}

impl<T: Read, const MOST: usize> Read for List<T, MOST> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let Json::List(nodes) = &node.json else {
            unexpected::<Self>(node, issues);
            return None;
        };
        if nodes.is_empty() || nodes.len() > MOST {
            unexpected::<Self>(node, issues);
            return None;
        }
        // Read all before giving up, so that every bad item is told.
        let items: Vec<Option<T>> = nodes.iter().map(|item| T::read(item, issues)).collect();
        Some(Self { items: items.into_iter().collect::<Option<_>>()?, at: node.at.clone() })
    }
    fn expects() -> String {
        format!("a list of 1 to {MOST} items, each {}", T::expects())
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let item = T::schema(generator);
        json_schema!({ "type": "array", "items": item, "minItems": 1, "maxItems": MOST })
    }
}
