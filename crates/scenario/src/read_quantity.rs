//! Reader of quantities with units.

use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::{Limit, Limited};
use crate::quantity::{self, Dimension, NotAQuantity};
use crate::read::{Plain, Read, unexpected};
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
        let value = match &node.json {
            Json::Text(text) => from_text::<L>(text, node, issues)?,
            // A fraction has no unit to forget.
            Json::Number(text) if L::LIMIT.dimension == Dimension::Fraction => {
                text.parse().ok().filter(|value: &f64| value.is_finite()).or_else(|| {
                    unexpected::<Self>(node, issues);
                    None
                })?
            }
            Json::Number(text) => {
                let hint = format!(
                    "Write the number with its unit in quotes, as \"{}\". Units of {}: {}.",
                    with_unit_of(text, L::LIMIT.example),
                    L::LIMIT.dimension.name(),
                    spellings(L::LIMIT.dimension),
                );
                let problem = format!("{} is {text}, without a unit", issues.subject());
                issues.push(Issue::new(&node.at, problem).allowed(L::LIMIT.words()).hint(hint));
                return None;
            }
            _ => {
                unexpected::<Self>(node, issues);
                return None;
            }
        };
        if !L::LIMIT.holds(value) {
            issues.push(out_of_range(&L::LIMIT, value, node, issues.subject()));
            return None;
        }
        let text = match &node.json {
            Json::Text(text) | Json::Number(text) => text.clone(),
            _ => String::new(),
        };
        Some(Self { value, text, at: node.at.clone(), row: PhantomData })
    }

    fn expects() -> String {
        L::LIMIT.words()
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        let text = json_schema!({
            "type": "string",
            "description": format!("{}; units {}", L::LIMIT.words(), spellings(L::LIMIT.dimension)),
            "pattern": r"^\s*[-+\u2212]?[0-9.]",
            "examples": [L::LIMIT.example],
        });
        if L::LIMIT.dimension == Dimension::Fraction {
            let (least, most) = L::LIMIT.ends();
            json_schema!({ "anyOf": [text, { "type": "number", "minimum": least, "maximum": most }] })
        } else {
            text
        }
    }
}

impl<L: Limited> Plain for Quantity<L> {
    type Value = f64;
    const NONE: f64 = f64::NAN;
    fn plain(&self) -> Option<f64> {
        Some(self.value)
    }
}

/// What to say of a value out of its range: the range in the value's own unit, and what was probably
/// meant.
fn out_of_range(limit: &Limit, value: f64, node: &Node, subject: &str) -> Issue {
    let said = node.said();
    let unit = said.trim_start_matches(|c: char| !c.is_alphabetic() && c != '%').to_owned();
    let range = match [limit.least, limit.most].map(|end| quantity::in_unit(end, &unit)) {
        [Some(least), Some(most)] => format!("{least} to {most} {unit}"),
        _ => format!("{} to {}", limit.least, limit.most),
    };
    // A decimal point in the wrong place is the usual slip.
    let usual = quantity::parse(limit.example).map_or(f64::NAN, |parsed| parsed.value);
    let is_usual = |meant: &f64| (0.5..=2.0).contains(&(meant / usual));
    let meant = [10.0, 0.1, 100.0, 0.01].map(|factor| factor * value).into_iter().find(is_usual);
    let meant = meant.and_then(|meant| quantity::print(meant, &unit));
    let hint = meant.and_then(|meant| quantity::in_unit(&meant, &unit)).map_or_else(
        || format!("For example \"{}\".", limit.example),
        |meant| format!("Did you mean {meant} {unit}?"),
    );
    Issue::new(&node.at, format!("{subject} is {said}")).allowed(range).hint(hint)
}

/// Parses a quantity and checks its dimension.
fn from_text<L: Limited>(text: &str, node: &Node, issues: &mut Issues) -> Option<f64> {
    let wanted = L::LIMIT.dimension;
    let issue = match quantity::parse(text) {
        Ok(parsed) if parsed.dimension == wanted => return Some(parsed.value),
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
            let hint = match &wrong {
                NotAQuantity::UnknownUnit(_, Some(near)) => format!("Did you mean `{near}`?"),
                NotAQuantity::Bushels => format!(
                    "Give it by weight, like \"{}\": a price per bushel times 2000 over the pounds \
                     in one bushel is a price per ton.",
                    L::LIMIT.example
                ),
                NotAQuantity::NotFinite => "A quantity must be a finite number.".to_owned(),
                _ => format!("Write it like \"{}\".", L::LIMIT.example),
            };
            let problem = format!("{} is \"{text}\": {wrong}", issues.subject());
            Issue::new(&node.at, problem).hint(format!(
                "{hint} Units of {}: {}.",
                wanted.name(),
                spellings(wanted)
            ))
        }
    };
    issues.push(issue.allowed(L::LIMIT.words()));
    None
}

fn spellings(dimension: Dimension) -> String {
    dimension.spellings().collect::<Vec<_>>().join(", ")
}

/// The number as written, with the unit of the example.
fn with_unit_of(number: &str, example: &str) -> String {
    let unit = example.split_once(' ').map_or("", |(_, unit)| unit);
    format!("{number} {unit}")
}
