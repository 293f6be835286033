//! Shapefiles: the `.shp` alone, or in a `.zip` with its `.prj`.
//!
//! The library reads them; which rings are holes is found here by what lies inside what (the format
//! says it by the direction of a ring, which not every program keeps). Attributes (`.dbf`) and the
//! index (`.shx`) are not needed and not read. Points, lines and patches are no boundary.

use super::found::Found;
use super::parts::{Given, Polygon, Problem};
use super::rings;
use super::system::System;
use evenfall_core::boundary::Corner;
use shapefile::record::traits::HasXY;
use shapefile::{PolygonRing, Shape, ShapeReader};
use std::io::{Cursor, Read as _};
use zip::ZipArchive;

/// What a `.shp` begins with (9994, most significant byte first), and a `.zip`.
const SHAPEFILE: [u8; 4] = [0, 0, 0x27, 0x0a];
const PACKED: [u8; 4] = *b"PK\x03\x04";
/// Most bytes of an unpacked file.
const MOST_BYTES: u64 = 32 << 20;
const EXPORT: &str = "Export the field as a polygon shapefile, or as GeoJSON.";

pub(super) fn is_it(bytes: &[u8]) -> bool {
    bytes.starts_with(&SHAPEFILE)
}

pub(super) fn is_packed(bytes: &[u8]) -> bool {
    bytes.starts_with(&PACKED)
}

/// The polygons of a `.shp`; `prj` tells its coordinates.
pub(super) fn read(bytes: &[u8], prj: Option<&[u8]>) -> Result<Found, Vec<Problem>> {
    let broken = |error: shapefile::Error| {
        let what = format!("it is a shapefile that cannot be read: {error}");
        vec![Problem::new(what, "Export it again: it may have been cut off.")]
    };
    let mut reader = ShapeReader::new(Cursor::new(bytes)).map_err(broken)?;
    let (mut polygons, mut others) = (Vec::new(), Vec::new());
    for shape in reader.iter_shapes() {
        let shape = shape.map_err(broken)?;
        let kind = shape.shapetype().to_string();
        match rings_of(shape) {
            Some(rings) => polygons.extend(grouped(&rings)?),
            None => others.push(kind),
        }
    }
    if polygons.is_empty() {
        others.dedup();
        let found = if others.is_empty() { "nothing".to_owned() } else { others.join(", ") };
        return Err(vec![Problem::new(format!("it holds no polygon, but {found}"), EXPORT)]);
    }
    let text = prj.map(|prj| String::from_utf8_lossy(prj).into_owned());
    Ok(Found { polygons, is_geojson: false, system: text.map(|text| System::described(&text)) })
}

/// The polygons of the one shapefile in a `.zip`.
pub(super) fn unpack(bytes: &[u8]) -> Result<Found, Vec<Problem>> {
    let one = |what: String, hint: &str| vec![Problem::new(what, hint)];
    let again = "Pack the .shp and the .prj again.";
    let mut archive = ZipArchive::new(Cursor::new(bytes))
        .map_err(|error| one(format!("it is a .zip that cannot be unpacked: {error}"), again))?;
    let names: Vec<String> = archive.file_names().map(str::to_owned).collect();
    let ends = |name: &str, end: &str| name.to_ascii_lowercase().ends_with(end);
    // What one system packs beside every file is not the file.
    let is_own = |name: &&String| ends(name, ".shp") && !name.starts_with("__MACOSX");
    let shapes: Vec<&String> = names.iter().filter(is_own).collect();
    let [name] = shapes.as_slice() else {
        let what = format!("it is a .zip with {} shapefiles", shapes.len());
        return Err(one(what, "Pack one .shp with its .prj."));
    };
    let stem = name[..name.len() - ".shp".len()].to_ascii_lowercase();
    let prj = names.iter().find(|other| other.to_ascii_lowercase() == format!("{stem}.prj"));
    let mut take = |name: &str| -> Result<Vec<u8>, Vec<Problem>> {
        let broken = |why: String| one(format!("{name} in it cannot be unpacked: {why}"), again);
        let file = archive.by_name(name).map_err(|error| broken(error.to_string()))?;
        let mut content = Vec::new();
        // What a file says of its size need not be so.
        let read = file.take(MOST_BYTES + 1).read_to_end(&mut content);
        read.map_err(|error| broken(error.to_string()))?;
        if content.len() as u64 > MOST_BYTES {
            return Err(one(format!("{name} in it is larger than 32 MB"), EXPORT));
        }
        Ok(content)
    };
    let content = take(name)?;
    let prj = prj.map(|name| take(name)).transpose()?;
    if !is_it(&content) {
        return Err(one(format!("{name} in it is no shapefile"), again));
    }
    read(&content, prj.as_deref())
}

/// The rings of a shape; `None` if it is no polygon.
fn rings_of(shape: Shape) -> Option<Vec<Vec<Corner>>> {
    fn plain<P: HasXY>(rings: &[PolygonRing<P>]) -> Vec<Vec<Corner>> {
        let corners = |ring: &PolygonRing<P>| {
            ring.points().iter().map(|point| [point.x(), point.y()]).collect()
        };
        rings.iter().map(corners).collect()
    }
    match shape {
        Shape::Polygon(polygon) => Some(plain(polygon.rings())),
        Shape::PolygonM(polygon) => Some(plain(polygon.rings())),
        Shape::PolygonZ(polygon) => Some(plain(polygon.rings())),
        Shape::NullShape => Some(Vec::new()),
        _ => None,
    }
}

/// Rings of one shape as polygons: a ring inside an odd number of larger ones is a hole of the smallest
/// outer ring around it.
fn grouped(all: &[Vec<Corner>]) -> Result<Vec<Polygon>, Vec<Problem>> {
    rings::within_bounds(all.iter().map(Vec::len).sum())?;
    let sizes: Vec<f64> = all.iter().map(|ring| rings::area(ring)).collect();
    let around = |at: usize| -> Vec<usize> {
        let Some(place) = rings::place_inside(&all[at]) else { return Vec::new() };
        let larger = (0..all.len()).filter(|other| sizes[*other] > sizes[at]);
        larger.filter(|other| rings::holds(&all[*other], place)).collect()
    };
    let nested: Vec<Vec<usize>> = (0..all.len()).map(around).collect();
    let is_outer = |at: usize| nested[at].len().is_multiple_of(2);
    let outers: Vec<usize> = (0..all.len()).filter(|at| is_outer(*at)).collect();
    let given = |at: usize| -> Vec<Given> { all[at].iter().copied().map(finite).collect() };
    let mut polygons: Vec<Polygon> = outers.iter().map(|at| vec![given(*at)]).collect();
    for at in (0..all.len()).filter(|at| !is_outer(*at)) {
        let own = nested[at].iter().copied().filter(|outer| is_outer(*outer));
        let smallest = own.min_by(|a, b| sizes[*a].total_cmp(&sizes[*b]));
        // Around a hole there is an outer ring always: the largest ring of all lies in none.
        if let Some(place) = outers.iter().position(|outer| Some(*outer) == smallest) {
            polygons[place].push(given(at));
        }
    }
    Ok(polygons)
}

fn finite([x, y]: Corner) -> Given {
    (x.is_finite() && y.is_finite()).then_some([x, y])
}
