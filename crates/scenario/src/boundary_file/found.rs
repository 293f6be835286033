//! What a file holds: its polygons, and what it says of its coordinates.

use super::parts::{Given, Polygon, Problem, Shape};
use super::rings;
use super::system::System;
use serde_json::{Value, json};

/// What a file holds.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Found {
    pub(super) polygons: Vec<Polygon>,
    /// Whether it is `GeoJSON`, which has longitude and latitude where it says nothing else.
    pub(crate) is_geojson: bool,
    /// What it says of its coordinates, if it says anything.
    pub(crate) system: Option<System>,
}

impl Found {
    /// How many polygons there are.
    pub(crate) fn count(&self) -> usize {
        self.polygons.len()
    }

    /// One polygon, counted from 1, or all of them, checked.
    pub(crate) fn shape(&self, number: Option<usize>) -> Result<Shape, Vec<Problem>> {
        let Some(number) = number else { return rings::checked(&self.polygons) };
        let at = number.wrapping_sub(1);
        let Some(one) = self.polygons.get(at..=at) else {
            let what = format!("it has no polygon {number}, for it holds {}", self.count());
            return Err(vec![Problem::new(what, "Count its polygons from 1.")]);
        };
        rings::checked(one)
    }

    /// The same as the text of a `GeoJSON` file that says what its numbers are.
    pub(super) fn geojson(&self) -> String {
        let corner = |given: &Given| given.map_or(Value::Null, |[x, y]| json!([x, y]));
        let ring = |ring: &Vec<Given>| Value::Array(ring.iter().map(corner).collect());
        let polygon = |rings: &Polygon| Value::Array(rings.iter().map(ring).collect());
        let mut text = json!({
            "type": "MultiPolygon",
            "coordinates": self.polygons.iter().map(polygon).collect::<Vec<_>>(),
        });
        if let Some(system) = &self.system {
            text["crs"] = json!({ "type": "name", "properties": { "name": system.written() } });
        }
        format!("{text}\n")
    }
}
