//! `GeoJSON` (RFC 7946): one polygon or several that do not overlap, bare or as features, and what the
//! file says of its coordinates in a member `crs` (of the format's first edition of 2008; RFC 7946 has
//! longitude and latitude only, but programs still write it).

use super::found::Found;
use super::parts::{Given, Polygon, Problem};
use super::system::System;
use ::geojson::{Error, Feature, GeoJson, Geometry, GeometryValue, JsonObject, Position};

/// Reads the polygons of a text.
pub(super) fn read(bytes: &[u8]) -> Result<Found, Vec<Problem>> {
    let one = |problem: Problem| vec![problem];
    let text = std::str::from_utf8(bytes).map_err(|_| {
        let hint = "GeoJSON is text in UTF-8; a shapefile is opened by its .shp.";
        one(Problem::new("it is neither GeoJSON nor a shapefile", hint))
    })?;
    let parsed: GeoJson = text.parse().map_err(|error: Error| {
        one(Problem::new(
            format!("it is not GeoJSON: {error}"),
            "Export the field's edge as a GeoJSON polygon (RFC 7946) or as a shapefile.",
        ))
    })?;
    let mut polygons = Vec::new();
    let mut others = Vec::new();
    collect(&parsed, &mut polygons, &mut others);
    if polygons.is_empty() {
        let found = if others.is_empty() { "nothing".to_owned() } else { others.join(", ") };
        let what = format!("it holds no polygon, but {found}");
        return Err(one(Problem::new(what, "Give one Polygon or MultiPolygon.")));
    }
    Ok(Found { polygons, is_geojson: true, system: system(&parsed) })
}

/// What the member `crs` names.
fn system(json: &GeoJson) -> Option<System> {
    let members: &Option<JsonObject> = match json {
        GeoJson::Geometry(geometry) => &geometry.foreign_members,
        GeoJson::Feature(feature) => &feature.foreign_members,
        GeoJson::FeatureCollection(all) => &all.foreign_members,
    };
    let name = members.as_ref()?.get("crs")?.pointer("/properties/name")?.as_str()?;
    Some(System::named(name))
}

/// The polygons of a document, and the names of what else it holds.
fn collect(json: &GeoJson, polygons: &mut Vec<Polygon>, others: &mut Vec<&'static str>) {
    let mut feature = |feature: &Feature| {
        if let Some(geometry) = &feature.geometry {
            of_geometry(geometry, polygons, others);
        }
    };
    match json {
        GeoJson::Geometry(geometry) => of_geometry(geometry, polygons, others),
        GeoJson::Feature(one) => feature(one),
        GeoJson::FeatureCollection(all) => all.features.iter().for_each(feature),
    }
}

fn of_geometry(geometry: &Geometry, polygons: &mut Vec<Polygon>, others: &mut Vec<&'static str>) {
    match &geometry.value {
        GeometryValue::Polygon { coordinates } => polygons.push(polygon(coordinates)),
        GeometryValue::MultiPolygon { coordinates } => {
            polygons.extend(coordinates.iter().map(|rings| polygon(rings)));
        }
        GeometryValue::GeometryCollection { geometries } => {
            for one in geometries {
                of_geometry(one, polygons, others);
            }
        }
        other => others.push(other.type_name()),
    }
}

fn polygon(rings: &[Vec<Position>]) -> Polygon {
    rings.iter().map(|ring| ring.iter().map(corner).collect()).collect()
}

fn corner(position: &Position) -> Given {
    match position.as_slice() {
        [x, y, ..] if x.is_finite() && y.is_finite() => Some([*x, *y]),
        _ => None,
    }
}
