//! Rings of a boundary: checked, never mended; their area, and what lies inside one. Plane geometry
//! in the numbers of the file.

use super::parts::{Given, Polygon as Rings, Problem, Shape};
use evenfall_core::boundary::Corner;
use geo::algorithm::{InteriorPoint as _, Validation as _};
use geo::{Coord, LineString, MultiPolygon, Polygon};

/// Most corners of a boundary.
const MOST_CORNERS: usize = 10_000;

/// Area inside a ring, whichever way it runs.
pub(super) fn area(ring: &[Corner]) -> f64 {
    let [x0, y0] = ring.first().copied().unwrap_or_default();
    // From the first corner, so that large map coordinates keep their digits.
    let from = |[x, y]: &Corner| [x - x0, y - y0];
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    let twice = pairs.map(|(a, b)| (from(a), from(b))).map(|(a, b)| a[0] * b[1] - b[0] * a[1]);
    0.5 * twice.sum::<f64>().abs()
}

impl Shape {
    /// Area inside the outer rings less that of the holes, in the unit of the numbers squared.
    pub(crate) fn area(&self) -> f64 {
        let rings = self.rings.iter().zip(&self.is_hole);
        rings.map(|(ring, hole)| if *hole { -area(ring) } else { area(ring) }).sum()
    }
}

/// A place inside a ring; `None` where it has no inside.
pub(super) fn place_inside(ring: &[Corner]) -> Option<Corner> {
    if !ring.iter().flatten().all(|number| number.is_finite()) {
        return None;
    }
    let line = LineString(ring.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect());
    let place = Polygon::new(line, Vec::new()).interior_point()?;
    Some([place.x(), place.y()])
}

/// Whether a place lies inside a ring (even-odd rule).
pub(super) fn holds(ring: &[Corner], [x, y]: Corner) -> bool {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    let crossed = sides.filter(|([x0, y0], [x1, y1])| {
        (*y0 > y) != (*y1 > y) && x < x0 + (y - y0) / (y1 - y0) * (x1 - x0)
    });
    !crossed.count().is_multiple_of(2)
}

/// Refuses more corners than a boundary may have.
pub(super) fn within_bounds(corners: usize) -> Result<(), Vec<Problem>> {
    if corners <= MOST_CORNERS {
        return Ok(());
    }
    let what = format!("it has {corners} corners; allowed are {MOST_CORNERS}");
    Err(vec![Problem::new(what, "Simplify the polygon: a foot or two is enough.")])
}

/// "ring 2" and, with several polygons, of which.
fn ring_name(polygon: usize, ring: usize, polygons: usize) -> String {
    let ring = if ring == 0 { "the outer ring".to_owned() } else { format!("hole {ring}") };
    if polygons > 1 { format!("{ring} of polygon {}", polygon + 1) } else { ring }
}

/// The rings of polygons, if nothing is wrong with them.
pub(super) fn checked(polygons: &[Rings]) -> Result<Shape, Vec<Problem>> {
    let mut problems = Vec::new();
    within_bounds(polygons.iter().flatten().map(Vec::len).sum())?;
    let (mut rings, mut is_hole, mut shapes) = (Vec::new(), Vec::new(), Vec::new());
    for (number, polygon) in polygons.iter().enumerate() {
        let mut lines = Vec::new();
        for (at, ring) in polygon.iter().enumerate() {
            let name = ring_name(number, at, polygons.len());
            let open: Vec<Corner> = ring.iter().copied().flatten().collect();
            let closed = ring_problems(&name, ring, &open, &mut problems);
            lines.push(LineString(open.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect()));
            rings.push(open[..open.len() - usize::from(closed)].to_vec());
            is_hole.push(at > 0);
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
    if problems.is_empty() { Ok(Shape { rings, is_hole }) } else { Err(problems) }
}

/// Tells what is wrong with a ring by itself; whether its last corner is its first.
fn ring_problems(name: &str, ring: &[Given], open: &[Corner], problems: &mut Vec<Problem>) -> bool {
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
