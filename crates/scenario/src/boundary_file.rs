//! Reading a boundary: `GeoJSON` (RFC 7946) in, rings of plain numbers out, or all that is wrong.
//!
//! One polygon or several that do not overlap, bare or as a feature; rings that cross themselves or
//! each other, that are open, or holes outside their polygon are refused, not mended.

use evenfall_core::boundary::Corner;
use geo::algorithm::Validation;
use geo::{Coord, LineString, MultiPolygon, Polygon};
use geojson::{Feature, GeoJson, Geometry, GeometryValue, Position};

/// Most corners of a boundary.
const MOST_CORNERS: usize = 10_000;

/// The rings of a boundary, in the numbers of the file.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Shape {
    /// Outer rings and holes, each without its closing corner.
    pub(crate) rings: Vec<Vec<Corner>>,
    /// How many of them are holes.
    pub(crate) holes: usize,
}

/// Something wrong with a boundary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Problem {
    pub(crate) what: String,
    pub(crate) hint: String,
}

impl Problem {
    fn new(what: impl Into<String>, hint: &str) -> Self {
        Self { what: what.into(), hint: hint.to_owned() }
    }
}

/// Reads a boundary.
pub(crate) fn read(bytes: &[u8]) -> Result<Shape, Vec<Problem>> {
    let one = |problem: Problem| vec![problem];
    let text = std::str::from_utf8(bytes)
        .map_err(|_| one(Problem::new("it is not text in UTF-8", "GeoJSON is text.")))?;
    let parsed: GeoJson = text.parse().map_err(|error: geojson::Error| {
        one(Problem::new(
            format!("it is not GeoJSON: {error}"),
            "Export the field's edge as a GeoJSON polygon (RFC 7946).",
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
    checked(&polygons)
}

/// The polygons of a document, and the names of what else it holds.
fn collect(json: &GeoJson, polygons: &mut Vec<Vec<Vec<Position>>>, others: &mut Vec<&'static str>) {
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

fn of_geometry(
    geometry: &Geometry,
    polygons: &mut Vec<Vec<Vec<Position>>>,
    others: &mut Vec<&'static str>,
) {
    match &geometry.value {
        GeometryValue::Polygon { coordinates } => polygons.push(coordinates.clone()),
        GeometryValue::MultiPolygon { coordinates } => polygons.extend(coordinates.iter().cloned()),
        GeometryValue::GeometryCollection { geometries } => {
            for one in geometries {
                of_geometry(one, polygons, others);
            }
        }
        other => others.push(other.type_name()),
    }
}

/// "ring 2" and, with several polygons, of which.
fn ring_name(polygon: usize, ring: usize, polygons: usize) -> String {
    let ring = if ring == 0 { "the outer ring".to_owned() } else { format!("hole {ring}") };
    if polygons > 1 { format!("{ring} of polygon {}", polygon + 1) } else { ring }
}

fn checked(polygons: &[Vec<Vec<Position>>]) -> Result<Shape, Vec<Problem>> {
    let mut problems = Vec::new();
    let corners: usize = polygons.iter().flatten().map(Vec::len).sum();
    if corners > MOST_CORNERS {
        let what = format!("it has {corners} corners; allowed are {MOST_CORNERS}");
        return Err(vec![Problem::new(what, "Simplify the polygon: a foot or two is enough.")]);
    }
    let (mut rings, mut holes, mut shapes) = (Vec::new(), 0, Vec::new());
    for (number, polygon) in polygons.iter().enumerate() {
        let mut lines = Vec::new();
        for (at, ring) in polygon.iter().enumerate() {
            let name = ring_name(number, at, polygons.len());
            let open: Vec<Corner> = ring.iter().filter_map(corner).collect();
            let closed = ring_problems(&name, ring, &open, &mut problems);
            lines.push(LineString(open.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect()));
            rings.push(open[..open.len() - usize::from(closed)].to_vec());
            holes += usize::from(at > 0);
        }
        let mut lines = lines.into_iter();
        let outer = lines.next().unwrap_or_else(|| LineString(Vec::new()));
        shapes.push(Polygon::new(outer, lines.collect()));
    }
    // Crossings are told of sound rings only: of an open one they would mislead.
    if problems.is_empty() {
        let hint = "Draw the edge once round without crossing it; holes lie inside it and apart.";
        let found = MultiPolygon(shapes).validation_errors();
        problems.extend(found.iter().map(|error| Problem::new(plain(&error.to_string()), hint)));
    }
    if problems.is_empty() { Ok(Shape { rings, holes }) } else { Err(problems) }
}

fn corner(position: &Position) -> Option<Corner> {
    match position.as_slice() {
        [x, y, ..] if x.is_finite() && y.is_finite() => Some([*x, *y]),
        _ => None,
    }
}

/// Tells what is wrong with a ring by itself; whether its last corner is its first.
fn ring_problems(
    name: &str,
    ring: &[Position],
    open: &[Corner],
    problems: &mut Vec<Problem>,
) -> bool {
    if open.len() < ring.len() {
        let what =
            format!("{name} has {} corners that are not two numbers", ring.len() - open.len());
        problems.push(Problem::new(what, "Each corner is [x, y]."));
    }
    let closed = open.len() > 1 && open.first() == open.last();
    if !closed {
        let what = format!("{name} is open: its last corner is not its first");
        problems.push(Problem::new(what, "Repeat the first corner at the end (RFC 7946, 3.1.6)."));
    }
    if open.len() < 4 {
        let what =
            format!("{name} has {} corners; a ring has at least 4 with the last", open.len());
        problems.push(Problem::new(what, "Three different corners and the first again."));
    }
    closed
}

/// The library's words in ours.
fn plain(error: &str) -> String {
    error
        .replace("polygon at index 0 is invalid: ", "")
        .replace("exterior ring has a self-intersection", "the outer ring crosses itself")
        .replace("has a self-intersection", "crosses itself")
        .replace("the polygon's exterior", "the outer ring")
        .replace("exterior ring", "the outer ring")
        .replace("interior ring at index", "hole (counted from 0)")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> Vec<String> {
        match read(text.as_bytes()) {
            Ok(shape) => panic!("{shape:?}"),
            Err(problems) => problems.into_iter().map(|problem| problem.what).collect(),
        }
    }

    fn polygon(rings: &str) -> String {
        format!(r#"{{"type":"Polygon","coordinates":{rings}}}"#)
    }

    #[test]
    fn closed_a_square_with_a_hole_in_a_feature() {
        let square = "[[[0,0],[9,0],[9,9],[0,9],[0,0]],[[2,2],[2,4],[4,4],[4,2],[2,2]]]";
        let bare = read(polygon(square).as_bytes()).unwrap();
        assert_eq!((bare.rings.len(), bare.rings[1].len(), bare.holes), (2, 4, 1));
        let geometry = polygon(square);
        let feature = format!(r#"{{"type":"Feature","properties":null,"geometry":{geometry}}}"#);
        let all = format!(r#"{{"type":"FeatureCollection","features":[{feature}]}}"#);
        for text in [feature, all] {
            assert_eq!(read(text.as_bytes()).unwrap(), bare);
        }
    }

    #[test]
    fn closed_bad_rings_are_told_all_at_once() {
        let bow = said(&polygon("[[[0,0],[9,9],[9,0],[0,9],[0,0]]]"));
        assert_eq!(bow, ["the outer ring crosses itself"]);
        let open = said(&polygon("[[[0,0],[9,0],[9,9],[0,9]],[[2,2],[3,3],[2,2]]]"));
        assert!(open[0].contains("the outer ring is open"), "{open:?}");
        assert!(open[1].contains("hole 1 has 3 corners"), "{open:?}");
        let outside = said(&polygon(
            "[[[0,0],[9,0],[9,9],[0,9],[0,0]],[[20,20],[20,24],[24,24],[24,20],[20,20]]]",
        ));
        assert!(outside[0].contains("not contained within the outer ring"), "{outside:?}");
    }

    #[test]
    fn closed_what_is_no_polygon_is_told() {
        assert!(said("{")[0].contains("not GeoJSON"));
        assert!(
            said(r#"{"type":"Point","coordinates":[1,2]}"#)[0].contains("no polygon, but Point")
        );
        assert!(said(r#"{"type":"FeatureCollection","features":[]}"#)[0].contains("nothing"));
        assert!(matches!(read(&[0xff, 0xfe]), Err(problems) if problems.len() == 1));
    }
}
