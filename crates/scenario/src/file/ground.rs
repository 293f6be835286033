//! Soil and climate as written.

use super::climate::{Et0YearFile, RainWays};
use crate::declare::section;
use crate::document::{Json, Node};
use crate::issue::Issues;
use crate::limits::{self, Limited};
use crate::read::Read;
use crate::read_quantity::Quantity;
use crate::section::not_a_choice;
use evenfall_core::soil::{TEXTURES, Texture, texture_named};
use schemars::{Schema, SchemaGenerator, json_schema};

section! {
    /// The soil: a texture class, or its water contents.
    SoilFile, one of texture | field_capacity, one of texture | wilting_point {
        /// Texture class, as a soil map has it or by feel.
        texture: Option<TextureName>, "Texture", else "given by its water contents";
        /// Water content at field capacity, volume of water in a volume of soil.
        field_capacity: Option<Quantity<limits::FieldCapacity>>,
            "Field capacity", else "FAO-56, Table 19";
        /// Water content at wilting point, volume of water in a volume of soil.
        wilting_point: Option<Quantity<limits::WiltingPoint>>,
            "Wilting point", else "FAO-56, Table 19";
        /// Share of the available water that is used up on the day of planting.
        start_depletion: Option<Quantity<limits::StartDepletion>>,
            "Depletion at planting",
            else "0 %" because "the soil is taken as full on the day of planting";
        /// Rate at which the soil takes water in without runoff, from a soil survey or a test on your
        /// field: the check of the plan holds the application rate against it.
        intake_rate: Option<Quantity<limits::IntakeRate>>,
            "Intake rate", else "not known: the application rate is not checked";
        /// How far roots and soil spread the water before the crop takes it: standard deviation of a
        /// Gaussian.
        smoothing: Option<Quantity<limits::Smoothing>>,
            "Spread by roots and soil",
            else "0 m" because "no spreading; published studies disagree (Stern & Bresler 1983 found \
                some)";
    }
}

section! {
    /// What the crop loses to the air and gets from the sky.
    ClimateFile {
        /// Reference evapotranspiration.
        et0: Et0File, "Reference evapotranspiration";
        /// Rain: days by hand, or a record.
        rain: Option<RainWays>, "Rain", else "a season without rain";
        /// How much a day's evapotranspiration differs from its mean for sun and warmth, as a
        /// coefficient of variation; where evapotranspiration is constant or by month and the wind
        /// is generated. The wind's own part comes on top.
        et0_day_spread: Option<Quantity<limits::DaySpread>>,
            "Evapotranspiration, day to day",
            else "24 %"
            because "days about their month in the TMY3 record of Greensboro, May to September";
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
    Year(Box<Et0YearFile>),
}

impl Read for Et0File {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        if matches!(node.json, Json::Object(_)) {
            return Et0YearFile::read(node, issues).map(|year| Self::Year(Box::new(year)));
        }
        Quantity::read(node, issues).map(Self::Constant)
    }
    fn expects() -> String {
        format!("{} or {}", limits::ReferenceEt::LIMIT.words(), Et0YearFile::expects())
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let constant = Quantity::<limits::ReferenceEt>::schema(generator);
        let year = Et0YearFile::schema(generator);
        json_schema!({ "anyOf": [constant, year] })
    }
}
