//! The field's boundary as written: corners in turn, or a polygon in a file.

use crate::declare::{choice, section};
use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::{self, Limited as _};
use crate::read::{Count, Read};
use crate::read_plain::{List, Text};
use crate::read_quantity::Quantity;
use schemars::{Schema, SchemaGenerator, json_schema};

choice! {
    /// What the numbers of a boundary are.
    pub(crate) CoordinatesName {
        /// Meters from the field's corner: along the pipe, then the direction of travel.
        Meters = "m",
        /// Feet from the field's corner, likewise.
        Feet = "ft",
        /// Longitude and latitude in degrees, WGS 84, as RFC 7946 has it.
        Degrees = "lon/lat",
        /// Meters east and north of a projected system, such as UTM.
        ProjectedMeters = "projected m",
        /// Feet east and north of a projected system, such as State Plane.
        ProjectedFeet = "projected ft",
    }
}

/// A corner of the boundary: how far along the pipe, and how far in the direction of travel.
#[derive(Clone, Debug)]
pub(crate) struct CornerFile {
    pub(crate) at: At,
    pub(crate) along: Quantity<limits::PlaceInField>,
    pub(crate) across: Quantity<limits::PlaceInField>,
}

impl Read for CornerFile {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let Json::List(nodes) = &node.json else {
            crate::read::unexpected::<Self>(node, issues);
            return None;
        };
        let [along, across] = nodes.as_slice() else {
            let problem = format!("{} is {}", issues.subject(), node.shown());
            let hint = "Two lengths: along the pipe, then in the direction of travel.";
            issues.push(Issue::new(&node.at, problem).allowed(Self::expects()).hint(hint));
            return None;
        };
        // Both are read before either is given up, so that all problems are told.
        let (along, across) = (Quantity::read(along, issues), Quantity::read(across, issues));
        Some(Self { at: node.at.clone(), along: along?, across: across? })
    }
    fn expects() -> String {
        "a corner such as [\"660 ft\", \"1320 ft\"]: along the pipe, then in the direction of travel"
            .to_owned()
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let mut length = Quantity::<limits::PlaceInField>::schema(generator);
        let words = limits::PlaceInField::LIMIT.words();
        let help = "From the field's corner, along the pipe and then in the direction of travel";
        length.insert("description".to_owned(), format!("{help}: {words}").into());
        json_schema!({ "type": "array", "items": length, "minItems": 2, "maxItems": 2 })
    }
}

section! {
    /// The field's edge where it is not the whole rectangle: corners in turn, or a polygon from a file,
    /// with or without holes.
    BoundaryFile, one of corners | file & coordinates & polygon {
        /// The corners in turn, from the field's corner: each as far along the pipe and as far in the
        /// direction of travel. The first need not come again.
        corners: Option<List<CornerFile, { limits::MOST_FIELD_CORNERS }>>,
            "Corners", else "the polygon of the file";
        /// Name of the `GeoJSON` file, of the shapefile (`.shp`, with its `.prj` beside it) or of a `.zip`
        /// with both, beside the scenario.
        file: Option<Text>, "Boundary file", else "the corners that are given";
        /// What the numbers in the file are.
        coordinates: Option<CoordinatesName>,
            "Coordinates",
            else "what the file says of itself; asked for where it says nothing";
        /// Which polygon of the file is the field, counted from 1.
        polygon: Option<Count<limits::PolygonNumber>>,
            "Polygon of the file", else "all of them together";
    }
}
