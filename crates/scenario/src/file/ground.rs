//! Soil and climate as written.

use super::climate::{Et0WaysFile, RainWays};
use crate::declare::section;
use crate::document::{Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::{self, Limited};
use crate::read::Read;
use crate::read_plain::{Day, List};
use crate::read_quantity::Quantity;
use crate::section::not_a_choice;
use evenfall_core::soil::{TEXTURES, Texture, texture_named};
use schemars::{Schema, SchemaGenerator, json_schema};

section! {
    /// The soil: a texture class, or its water contents.
    SoilFile, one of texture | field_capacity, one of texture | wilting_point {
        /// Texture class.
        texture: Option<TextureName>,
        /// Water content at field capacity, volume of water in a volume of soil.
        field_capacity: Option<Quantity<limits::FieldCapacity>>,
        /// Water content at wilting point, volume of water in a volume of soil.
        wilting_point: Option<Quantity<limits::WiltingPoint>>,
        /// Share of the available water that is missing on the day of planting.
        start_depletion: Option<Quantity<limits::StartDepletion>>,
    }
}

section! {
    /// What the crop loses to the air and gets from the sky.
    ClimateFile {
        /// Reference evapotranspiration.
        et0: Et0File,
        /// Days with rain; without it there is none.
        rain: Option<RainWays>,
    }
}

section! {
    /// Rain on one day.
    RainFile {
        /// The day.
        date: Day,
        /// Depth.
        depth: Quantity<limits::RainDepth>,
    }
}

/// A texture class of the core's table.
#[derive(Clone, Debug)]
pub(crate) struct TextureName(pub(crate) &'static Texture);

impl Read for TextureName {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let named = match &node.json {
            Json::Text(text) => texture_named(text),
            _ => None,
        };
        if named.is_none() {
            not_a_choice(node, &TEXTURES.map(|texture| texture.name), issues);
        }
        named.map(Self)
    }
    fn expects() -> String {
        TEXTURES.map(|texture| format!("\"{}\"", texture.name)).join(" or ")
    }
    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "enum": TEXTURES.map(|texture| texture.name) })
    }
}

/// Reference evapotranspiration, mm/h.
#[derive(Clone, Debug)]
pub(crate) enum Et0File {
    /// The same every day.
    Constant(Quantity<limits::ReferenceEt>),
    /// In the course of the year.
    Ways(Box<Et0WaysFile>),
}

impl Read for Et0File {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        if matches!(node.json, Json::Object(_)) {
            return Et0WaysFile::read(node, issues).map(|ways| Self::Ways(Box::new(ways)));
        }
        Quantity::read(node, issues).map(Self::Constant)
    }
    fn expects() -> String {
        format!("{} or {}", limits::ReferenceEt::LIMIT.words(), Et0WaysFile::expects())
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let constant = Quantity::<limits::ReferenceEt>::schema(generator);
        let ways = Et0WaysFile::schema(generator);
        json_schema!({ "anyOf": [constant, ways] })
    }
}

/// Twelve rates, January first, mm/h.
#[derive(Clone, Debug)]
pub(crate) struct Months(pub(crate) [f64; 12]);

type MonthList = List<Quantity<limits::DailyEt>, 12>;

impl Read for Months {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let list = MonthList::read(node, issues)?;
        let rates: Vec<f64> = list.items.iter().map(|rate| rate.value).collect();
        let months = <[f64; 12]>::try_from(rates).ok();
        if months.is_none() {
            let problem = format!("{} months are given, a year has 12", list.items.len());
            issues.push(Issue::new(&list.at, problem).allowed(Self::expects()));
        }
        months.map(Self)
    }
    fn expects() -> String {
        format!("a list of 12 items, January first, each {}", limits::DailyEt::LIMIT.words())
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let item = Quantity::<limits::DailyEt>::schema(generator);
        json_schema!({ "type": "array", "items": item, "minItems": 12, "maxItems": 12 })
    }
}
