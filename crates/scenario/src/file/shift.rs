//! A shift of a rotation as written: a length, turns of the wheel, or both ways as an object.

use crate::declare::section;
use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::{self, Limited};
use crate::quantity::{self, Dimension};
use crate::read::Read;
use crate::read_quantity::{NUMBER, Quantity, pattern};
use schemars::{Schema, SchemaGenerator, json_schema};

/// How far across the field.
#[derive(Clone, Debug)]
pub(crate) enum Across {
    /// A length, m.
    Length(Quantity<limits::ShiftLength>),
    /// Turns of the wheel.
    Turns(Quantity<limits::ShiftTurns>),
}

impl Read for Across {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let parsed = match &node.json {
            Json::Text(text) => quantity::parse(text).ok(),
            _ => None,
        };
        match parsed.map(|parsed| parsed.dimension) {
            Some(Dimension::Turns) => Quantity::read(node, issues).map(Self::Turns),
            Some(Dimension::Length) => Quantity::read(node, issues).map(Self::Length),
            _ => {
                let problem = format!("{} is {}", issues.subject(), node.shown());
                issues.push(Issue::new(&node.at, problem).allowed(Self::expects()).hint(
                    "Write a shift like \"20 ft\", \"-20 ft\" or \"1 turn\"; \"0 ft\" is at the \
                     outlet.",
                ));
                None
            }
        }
    }
    fn expects() -> String {
        let (length, turns) = (limits::ShiftLength::LIMIT, limits::ShiftTurns::LIMIT);
        format!("{} or {}", length.words(), turns.words())
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": Self::expects(),
            "pattern": pattern(Dimension::Length),
            "examples": ["0 ft", "20 ft", "-20 ft", "1 turn"],
        })
    }
}

/// How far along the pipe.
#[derive(Clone, Debug)]
pub(crate) enum Along {
    /// A length, m.
    Length(Quantity<limits::ShiftLength>),
    /// Half a sprinkler spacing one way (+1) or the other (−1), by a joint of half the length.
    HalfJoint(f64),
}

/// How a shift by half a joint is written, either way.
const HALF_JOINT: [(&str, f64); 2] = [("half joint", 1.0), ("-half joint", -1.0)];

impl Read for Along {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let half = HALF_JOINT.iter().find(|(words, _)| match &node.json {
            Json::Text(text) => text.trim() == *words,
            _ => false,
        });
        if let Some((_, way)) = half {
            return Some(Self::HalfJoint(*way));
        }
        let is_quantity = matches!(&node.json, Json::Text(text) if quantity::parse(text).is_ok());
        if is_quantity {
            return Quantity::read(node, issues).map(Self::Length);
        }
        let problem = format!("{} is {}", issues.subject(), node.shown());
        issues.push(
            Issue::new(&node.at, problem)
                .allowed(Self::expects())
                .hint("Write it like \"20 ft\", or \"half joint\" for half a sprinkler spacing."),
        );
        None
    }
    fn expects() -> String {
        format!("{} or \"half joint\"", limits::ShiftLength::LIMIT.words())
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": Self::expects(),
            "pattern": format!(r"^\s*({NUMBER}|-?half joint)"),
            "examples": ["20 ft", "half joint"],
        })
    }
}

section! {
    /// A shift both ways; only a hand-moved lateral shifts along the pipe.
    BothWaysFile {
        /// Across the field, + in the direction of travel.
        across: Option<Across>, "Shift across", else "0 ft";
        /// Along the pipe, + away from the mainline; "half joint" is half a sprinkler spacing.
        along: Option<Along>, "Shift along the pipe", else "0 ft";
    }
}

/// A shift from the outlet.
#[derive(Clone, Debug)]
pub(crate) struct ShiftFile {
    pub(crate) at: At,
    pub(crate) across: Option<Across>,
    pub(crate) along: Option<Along>,
}

impl Read for ShiftFile {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let at = node.at.clone();
        if matches!(node.json, Json::Object(_)) {
            let both = BothWaysFile::read(node, issues)?;
            return Some(Self { at, across: both.across, along: both.along });
        }
        Some(Self { at, across: Some(Across::read(node, issues)?), along: None })
    }
    fn expects() -> String {
        "a shift such as \"20 ft\", \"1 turn\" or { \"across\": …, \"along\": … }".to_owned()
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let across = Across::schema(generator);
        let both = BothWaysFile::schema(generator);
        json_schema!({ "anyOf": [across, both] })
    }
}
