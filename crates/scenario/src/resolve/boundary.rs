//! The field's boundary: read, checked, brought onto the field's axes.
//!
//! Longitude and latitude are projected about the middle of their box with the radii of curvature
//! of the WGS 84 ellipsoid there, x = N cos φ Δλ, y = M Δφ (equirectangular; the radii from memory,
//! confidence high), turned so that +y is the direction of travel, and put with their box in the middle
//! of the rectangle. The error of a distance at d from the middle is about tan φ · d / R of it; its
//! size is told. Meters and feet are taken as they are, from the rectangle's corner.

use crate::boundary_file::{self, Shape};
use crate::file::{BoundaryFile, CoordinatesName};
use crate::issue::Issue;
use crate::notes::{Notes, decimals, length};
use evenfall_core::boundary::{Boundary, Corner};
use evenfall_core::grid::Grid;
use evenfall_core::model::{Alternative, Field};
use evenfall_core::units::M_PER_FT;

/// Semi-major axis of WGS 84, m, and the square of its eccentricity.
const WGS84: (f64, f64) = (6_378_137.0, 0.006_694_379_990_14);
/// Fields smaller than this are a slip of units, m².
const LEAST_AREA_M2: f64 = 100.0;

/// The boundary on `grid`; `None` if anything about it is bad, and everything is told.
pub(crate) fn resolve(
    given: &BoundaryFile,
    grid: &Grid,
    travel_bearing_deg: f64,
    notes: &mut Notes<'_>,
) -> Option<Boundary> {
    let name = &given.file.value;
    let bytes = notes.file(name, &given.file.at)?;
    let shape = match boundary_file::read(&bytes) {
        Ok(shape) => shape,
        Err(problems) => {
            for problem in problems {
                notes.issues.push(
                    Issue::new(&given.file.at, format!("{name}: {}", problem.what))
                        .hint(problem.hint),
                );
            }
            return None;
        }
    };
    let rings = match given.coordinates {
        CoordinatesName::Meters => Ok(shape.rings.clone()),
        CoordinatesName::Feet => Ok(scaled(&shape, M_PER_FT)),
        CoordinatesName::Degrees => projected(&shape, grid, travel_bearing_deg, given, notes),
    };
    let rings = rings
        .and_then(|rings| within(rings, &shape, grid))
        .map_err(|(what, hint)| {
            let problem = format!("{name}: {what}");
            notes.issues.push(Issue::new(&given.file.at, problem).hint(hint));
        })
        .ok()?;
    let boundary = Boundary::new(rings, grid);
    if boundary.is_none() {
        let problem = format!("{name}: no cell of the grid has its center inside the boundary");
        notes.issues.push(Issue::new(&given.file.at, problem).hint("Use a smaller `cell`."));
    }
    let boundary = boundary?;
    told(&boundary, &shape, grid, name, notes);
    Some(boundary)
}

/// What is wrong and what to do.
type Wrong = (String, String);

fn scaled(shape: &Shape, factor: f64) -> Vec<Vec<Corner>> {
    let ring = |ring: &Vec<Corner>| ring.iter().map(|[x, y]| [x * factor, y * factor]).collect();
    shape.rings.iter().map(ring).collect()
}

/// Least and greatest of both coordinates.
fn bounds(rings: &[Vec<Corner>]) -> [[f64; 2]; 2] {
    let start = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    rings.iter().flatten().fold(start, |[low, high], [x, y]| {
        [[low[0].min(*x), low[1].min(*y)], [high[0].max(*x), high[1].max(*y)]]
    })
}

fn projected(
    shape: &Shape,
    grid: &Grid,
    travel_bearing_deg: f64,
    given: &BoundaryFile,
    notes: &mut Notes<'_>,
) -> Result<Vec<Vec<Corner>>, Wrong> {
    let [low, high] = bounds(&shape.rings);
    if low[0] < -180.0 || high[0] > 180.0 || low[1] < -85.0 || high[1] > 85.0 {
        let what = format!(
            "its numbers ({} to {}, {} to {}) are no longitudes (−180 to 180) and latitudes (−85 \
             to 85)",
            low[0], high[0], low[1], high[1]
        );
        return Err((what, "If they are meters or feet, say so in `coordinates`.".to_owned()));
    }
    let middle = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
    let (east_m, north_m) = meters_a_degree(middle[1]);
    let (sin, cos) = travel_bearing_deg.to_radians().sin_cos();
    // +y has the bearing of travel b, +x lies 90° clockwise of it.
    let turn = |[lon, lat]: &Corner| {
        let (east, north) = ((lon - middle[0]) * east_m, (lat - middle[1]) * north_m);
        [east * cos - north * sin, east * sin + north * cos]
    };
    let turned: Vec<Vec<Corner>> =
        shape.rings.iter().map(|ring| ring.iter().map(turn).collect()).collect();
    let [low_m, high_m] = bounds(&turned);
    let sides_m = [grid.length_along_m(), grid.width_across_m()];
    let move_m = |axis: usize| 0.5 * (sides_m[axis] - low_m[axis] - high_m[axis]);
    let to = [move_m(0), move_m(1)];
    let reach_m = 0.5 * (high_m[0] - low_m[0]).hypot(high_m[1] - low_m[1]);
    let error = middle[1].to_radians().tan().abs() * reach_m / WGS84.0;
    let value = format!("about {:.5}°, {:.5}°", middle[0], middle[1]);
    let why = format!(
        "equirectangular on WGS 84, turned to the direction of travel; distances are true to {} m at the \
         field's ends",
        decimals((error * reach_m).max(1e-4), 4)
    );
    notes.assume(&format!("{}/projection", given.at.pointer), value, why);
    let why = "the middle of the boundary's box lies in the middle of the rectangle";
    notes.assume(&format!("{}/place", given.at.pointer), "centered", why);
    let moved = |[x, y]: &Corner| [x + to[0], y + to[1]];
    Ok(turned.iter().map(|ring| ring.iter().map(moved).collect()).collect())
}

/// Meters in a degree of longitude and of latitude on WGS 84, at latitude `lat_deg`.
fn meters_a_degree(lat_deg: f64) -> (f64, f64) {
    let (axis_m, eccentricity2) = WGS84;
    let (sin, cos) = lat_deg.to_radians().sin_cos();
    let under = 1.0 - eccentricity2 * sin * sin;
    let (across_m, along_m) =
        (axis_m / under.sqrt(), axis_m * (1.0 - eccentricity2) / under.powf(1.5));
    ((across_m * cos).to_radians(), along_m.to_radians())
}

/// The rings if they lie in the rectangle and are no slip of units.
fn within(rings: Vec<Vec<Corner>>, shape: &Shape, grid: &Grid) -> Result<Vec<Vec<Corner>>, Wrong> {
    let [low, high] = bounds(&rings);
    let sides = |x_m: f64, y_m: f64| format!("{} along by {} across", length(x_m), length(y_m));
    let (width_m, depth_m) = (high[0] - low[0], high[1] - low[1]);
    let shown = sides(width_m, depth_m);
    if area_m2(&rings) < LEAST_AREA_M2 {
        let what = format!("the boundary is tiny: {shown}");
        let [low, high] = bounds(&shape.rings);
        let looks = low[0] >= -180.0 && high[0] <= 180.0 && low[1] >= -90.0 && high[1] <= 90.0;
        let hint = if looks {
            "Its numbers look like degrees: then `coordinates` is \"lon/lat\"."
        } else {
            "Are `coordinates` in another unit?"
        };
        return Err((what, hint.to_owned()));
    }
    let slack_m = grid.cell_m;
    let sides_m = [grid.length_along_m(), grid.width_across_m()];
    let outside = (0..2).any(|axis| low[axis] < -slack_m || high[axis] > sides_m[axis] + slack_m);
    if outside {
        let what = format!(
            "the boundary lies outside the rectangle: it is {shown}, from {} along and {} across; \
             the rectangle is {}",
            length(low[0]),
            length(low[1]),
            sides(sides_m[0], sides_m[1])
        );
        let hint = "Make the rectangle (`length_along_pipe`, `width_across`) as large, move the \
                    boundary, or check the unit in `coordinates`.";
        return Err((what, hint.to_owned()));
    }
    Ok(rings)
}

/// Area inside the rings (holes run round inside others and count off), m².
fn area_m2(rings: &[Vec<Corner>]) -> f64 {
    let ring = |ring: &Vec<Corner>| {
        let next = ring.iter().cycle().skip(1);
        let twice: f64 = ring.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum();
        0.5 * twice.abs()
    };
    // The reader puts outer rings the one way round and holes the other, but sizes are enough here.
    rings.iter().map(ring).fold(0.0, f64::max)
}

fn told(boundary: &Boundary, shape: &Shape, grid: &Grid, name: &str, notes: &mut Notes<'_>) {
    let (inside, all) = (boundary.cells(), grid.cells_along * grid.cells_across);
    let share = 100.0 * inside as f64 / all as f64;
    let holes = match shape.holes {
        0 => String::new(),
        1 => ", with a hole".to_owned(),
        holes => format!(", with {holes} holes"),
    };
    notes.assume(
        "/field/boundary",
        format!("{inside} of {all} cells ({} %){holes}", decimals(share, 1)),
        "a cell that the boundary cuts counts if its center lies inside",
    );
    notes.sources.push(format!("Boundary of the field: {name}"));
}

/// Tells of sets whose strip lies wholly outside the boundary.
pub(crate) fn warn_of_dry_sets(field: &Field, alternatives: &[Alternative], notes: &mut Notes<'_>) {
    let Some(boundary) = &field.boundary else { return };
    let rows: Vec<f64> = boundary
        .inside()
        .rows()
        .into_iter()
        .enumerate()
        .filter(|(_, cells)| cells.iter().any(|inside| *inside))
        .map(|(row, _)| (row as f64 + 0.5) * field.grid.cell_m)
        .collect();
    for alternative in alternatives {
        let (outlets, radius_m) = (&alternative.outlets, alternative.sprinkler.radius_m());
        let dry = |shift_m: f64| -> usize {
            let misses = |outlet: &usize| {
                let at_m = outlets.place_m(*outlet) + shift_m;
                rows.iter().all(|row_m| (row_m - at_m).abs() > radius_m)
            };
            (0..outlets.count).filter(misses).count()
        };
        let shifts = alternative.rotation.distinct();
        let most = shifts.iter().map(|shift| dry(shift.across_m)).max().unwrap_or(0);
        if most > 0 {
            notes.warn(format!(
                "{}: {most} of {} sets of a pass water no part of the field inside its boundary \
                 (in still air); their water is off the field",
                alternative.name, outlets.count
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_lengths_of_a_degree() {
        // Length of a degree on WGS 84 at 0, 45 and 60°, km of longitude and latitude: common
        // geodetic tables, from memory, confidence high; half their last printed digit.
        for (lat_deg, lon_km, lat_km) in
            [(0.0, 111.319, 110.574), (45.0, 78.847, 111.132), (60.0, 55.800, 111.412)]
        {
            let (east_m, north_m) = meters_a_degree(lat_deg);
            assert!((east_m / 1000.0 - lon_km).abs() <= 0.0005, "{lat_deg}: {east_m}");
            assert!((north_m / 1000.0 - lat_km).abs() <= 0.0005, "{lat_deg}: {north_m}");
        }
    }
}
