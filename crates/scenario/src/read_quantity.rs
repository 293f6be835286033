//! Reader of quantities with units.

use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::{Limit, Limited};
use crate::quantity::{self, Dimension, NotAQuantity, Parsed};
use crate::questions;
use crate::read::{Plain, Read, refuse};
use schemars::{Schema, SchemaGenerator, json_schema};
use std::marker::PhantomData;

/// A quantity with its unit, checked against its row of the table of limits.
#[derive(Clone, Debug)]
pub(crate) struct Quantity<L> {
    /// In the unit that its dimension names.
    pub(crate) value: f64,
    /// As written.
    pub(crate) text: String,
    pub(crate) at: At,
    row: PhantomData<L>,
}

impl<L: Limited> Read for Quantity<L> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let (value, text) = read_within(&L::LIMIT, node, issues)?;
        Some(Self { value, text, at: node.at.clone(), row: PhantomData })
    }

    fn expects() -> String {
        L::LIMIT.words()
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        schema_of(&L::LIMIT)
    }
}

/// The value and its text as written. One function for all rows, which would else be built a hundred
/// times.
fn read_within(limit: &Limit, node: &Node, issues: &mut Issues) -> Option<(f64, String)> {
    let value = match &node.json {
        Json::Text(text) => {
            let parsed = from_text(limit, text, node, issues)?;
            questions::ask(limit, text, &parsed, node, issues)?;
            parsed.value
        }
        // A fraction has no unit to forget.
        Json::Number(text) if limit.dimension == Dimension::Fraction => {
            text.parse().ok().filter(|value: &f64| value.is_finite()).or_else(|| {
                refuse(node, limit.words(), issues);
                None
            })?
        }
        Json::Number(text) => {
            let hint = format!(
                "Write the number with its unit in quotes, as \"{}\". Units of {}: {}.",
                with_unit_of(text, limit.example),
                limit.dimension.name(),
                spellings(limit.dimension),
            );
            let problem = format!("{} is {text}, without a unit", issues.subject());
            issues.push(Issue::new(&node.at, problem).allowed(limit.words()).hint(hint));
            return None;
        }
        _ => {
            refuse(node, limit.words(), issues);
            return None;
        }
    };
    if !limit.holds(value) {
        issues.push(out_of_range(limit, value, node, issues.subject()));
        return None;
    }
    let text = match &node.json {
        Json::Text(text) | Json::Number(text) => text.clone(),
        _ => String::new(),
    };
    Some((value, text))
}

fn schema_of(limit: &Limit) -> Schema {
    let text = json_schema!({
        "type": "string",
        "description": format!("{}; units {}", limit.words(), spellings(limit.dimension)),
        "pattern": pattern(limit.dimension),
        "examples": [limit.example],
    });
    if limit.dimension == Dimension::Fraction {
        let (least, most) = limit.ends();
        json_schema!({ "anyOf": [text, { "type": "number", "minimum": least, "maximum": most }] })
    } else {
        text
    }
}

impl<L: Limited> Plain for Quantity<L> {
    type Value = f64;
    const NONE: f64 = f64::NAN;
    fn plain(&self) -> Option<f64> {
        Some(self.value)
    }
}

/// How a number begins, as a pattern.
pub(crate) const NUMBER: &str = r"[-+\u2212]?[0-9.½¼¾⅛⅜⅝⅞⅓⅔]";

/// How a quantity begins: with a number, of prices with a currency sign, of bearings with a letter too.
pub(crate) fn pattern(dimension: Dimension) -> String {
    match dimension {
        Dimension::Bearing => format!(r"^\s*({NUMBER}|[NESWnesw])"),
        _ if dimension.is_price() => {
            format!(r"^\s*[-+\u2212]?\s*(US\$|[$€£¥¢]|USD|EUR|GBP)?\s*{NUMBER}")
        }
        _ => format!(r"^\s*{NUMBER}"),
    }
}

/// What to say of a value out of its range: the range in the value's own unit, and what was probably
/// meant.
fn out_of_range(limit: &Limit, value: f64, node: &Node, subject: &str) -> Issue {
    let said = node.said();
    let text = if let Json::Text(text) = &node.json { text.as_str() } else { "" };
    let unit = &quantity::spelt_unit_of(text).unwrap_or_default();
    let range = match [limit.least, limit.most].map(|end| quantity::in_unit(end, unit)) {
        [Some(least), Some(most)] => format!("{least} to {most} {unit}"),
        _ => format!("{} to {}", limit.least, limit.most),
    };
    let comma = quantity::parse(text).ok().and_then(|parsed| parsed.with_decimal_comma);
    let hint = match comma.filter(|meant| limit.holds(*meant)) {
        Some(_) => Some(format!("Did you mean {}?", text.trim().replacen(',', ".", 1))),
        None => {
            questions::slipped(limit, value, unit).map(|meant| format!("Did you mean {meant}?"))
        }
    };
    let hint = hint.unwrap_or_else(|| format!("For example \"{}\".", limit.example));
    Issue::new(&node.at, format!("{subject} is {said}")).allowed(range).hint(hint)
}

/// Parses a quantity and checks its dimension.
fn from_text(limit: &Limit, text: &str, node: &Node, issues: &mut Issues) -> Option<Parsed> {
    let wanted = limit.dimension;
    let pounds = issues.readings.bushel.as_ref().map(|bushel| bushel.pounds);
    let parsed = match quantity::parse_with(text, pounds) {
        // A sign of money leaves no doubt about what one piece costs.
        Err(NotAQuantity::NoUnit) if wanted == Dimension::PricePerPiece => {
            let each = quantity::parse(&format!("{text} each"));
            each.ok().filter(|parsed| parsed.sign.is_some()).ok_or(NotAQuantity::NoUnit)
        }
        parsed => parsed,
    };
    let issue = match parsed {
        Ok(parsed) if wanted.takes(parsed.dimension) => return Some(parsed),
        Ok(parsed) => Issue::new(
            &node.at,
            format!(
                "{} is {}, which is {}",
                issues.subject(),
                node.said(),
                parsed.dimension.name()
            ),
        )
        .hint(format!("Units of {}: {}.", wanted.name(), spellings(wanted))),
        Err(wrong) => {
            let hint = hint(text, &wrong, limit);
            let problem = format!("{} is \"{text}\": {wrong}", issues.subject());
            Issue::new(&node.at, problem).hint(format!(
                "{hint} Units of {}: {}.",
                wanted.name(),
                spellings(wanted)
            ))
        }
    };
    issues.push(issue.allowed(limit.words()));
    None
}

/// How to mend a text that is no quantity.
fn hint(text: &str, wrong: &NotAQuantity, limit: &Limit) -> String {
    let example = limit.example;
    match wrong {
        NotAQuantity::UnknownUnit(_, Some(near)) => format!("Did you mean `{near}`?"),
        NotAQuantity::Bushels => format!(
            "Give it by weight, like \"{example}\": a price per bushel times 2000 over the pounds in \
             one bushel is a price per ton."
        ),
        NotAQuantity::NotFinite => "A quantity must be a finite number.".to_owned(),
        NotAQuantity::Comma => {
            "Write 1,320.5 with commas between thousands, or 4,67 with a decimal comma.".to_owned()
        }
        NotAQuantity::Dash => {
            format!("Write feet and inches like 4 ft 8 in, and one number like \"{example}\".")
        }
        NotAQuantity::NoNumber if limit.dimension == Dimension::Bearing => {
            let near = quantity::nearest_bearing(text);
            let near = near.map_or_else(String::new, |near| format!("Did you mean {near}? "));
            format!("{near}Write \"{example}\", a compass point such as SW, or southwest.")
        }
        _ => format!("Write it like \"{example}\"."),
    }
}

fn spellings(dimension: Dimension) -> String {
    dimension.spellings().collect::<Vec<_>>().join(", ")
}

/// The number as written, with the unit of the example.
fn with_unit_of(number: &str, example: &str) -> String {
    let unit = example.split_once(' ').map_or("", |(_, unit)| unit);
    format!("{number} {unit}")
}
