//! The field's boundary: read, checked, brought onto the field's axes (module `placing`).

mod placing;

use self::placing::{Wrong, bounds, is_lon_lat, placed};
use crate::boundary_file::{self, Problem, Shape};
use crate::document::At;
use crate::file::{BoundaryFile, CornerFile};
use crate::issue::Issue;
use crate::notes::{Notes, area, decimals, length};
use evenfall_core::boundary::{Boundary, Corner};
use evenfall_core::grid::Grid;
use evenfall_core::model::{Alternative, Field};

/// Fields smaller than this are a slip of units, m².
const LEAST_AREA_M2: f64 = 100.0;
/// Farther than this from the corner, numbers are of a map and not from the field's corner.
const FAR_M: f64 = 20_000.0;

/// A boundary that was read.
struct Drawn<'a> {
    /// What it is called in messages, with a colon after it.
    name: String,
    at: &'a At,
    shape: Shape,
    /// Its rings on the field's axes, m.
    rings: Vec<Vec<Corner>>,
}

/// The boundary on `grid`; `None` if anything about it is bad, and everything is told.
pub(crate) fn resolve(
    given: &BoundaryFile,
    grid: &Grid,
    travel_bearing_deg: f64,
    notes: &mut Notes<'_>,
) -> Option<Boundary> {
    let drawn = match &given.corners {
        Some(corners) => from_corners(&corners.at, &corners.items, grid, notes)?,
        None => from_file(given, (grid, travel_bearing_deg), notes)?,
    };
    let Drawn { name, at, shape, rings } = drawn;
    let rings =
        within(rings, &shape, grid).map_err(|wrong| refuse(wrong, &name, at, notes)).ok()?;
    let size_m2 = area_m2(&rings, &shape);
    let boundary = Boundary::new(rings, grid);
    if boundary.is_none() {
        let wrong = "no cell of the grid has its center inside the boundary".to_owned();
        refuse((wrong, "Use a smaller `cell`.".to_owned()), &name, at, notes);
    }
    let boundary = boundary?;
    told(&boundary, size_m2, &shape, grid, notes);
    Some(boundary)
}

fn refuse((what, hint): Wrong, name: &str, at: &At, notes: &mut Notes<'_>) {
    notes.issues.push(Issue::new(at, format!("{name}{what}")).hint(hint));
}

fn refuse_all(problems: Vec<Problem>, name: &str, at: &At, notes: &mut Notes<'_>) {
    for Problem { what, hint } in problems {
        refuse((what, hint), name, at, notes);
    }
}

/// The polygon of a file.
fn from_file<'a>(
    given: &'a BoundaryFile,
    field: (&Grid, f64),
    notes: &mut Notes<'_>,
) -> Option<Drawn<'a>> {
    let Some(file) = &given.file else {
        let problem = "the boundary has neither `corners` nor `file`";
        let hint = "Give the corners in turn, or name a file that holds the polygon.";
        notes.issues.push(Issue::new(&given.at.opening(), problem).hint(hint));
        return None;
    };
    let name = format!("{}: ", file.value);
    let bytes = notes.file(&file.value, &file.at)?;
    let mut beside = || notes.file_if_there(&prj_of(&file.value)?);
    let found = match boundary_file::read(&bytes, &mut beside) {
        Ok(found) => found,
        Err(problems) => {
            refuse_all(problems, &name, &file.at, notes);
            return None;
        }
    };
    let number = given.polygon.as_ref();
    let shape = match found.shape(number.map(|number| number.value as usize)) {
        Ok(shape) => shape,
        Err(problems) => {
            let at = number.map_or(&file.at, |number| &number.at);
            refuse_all(problems, &name, at, notes);
            return None;
        }
    };
    notes.sources.push(format!("Boundary of the field: {}", file.value));
    let rings = placed(given, &found, &shape, field, notes)
        .and_then(|rings| match found.count() {
            // Of several the likely slip is that one was meant, so it is told before all else.
            several if several > 1 && number.is_none() => {
                within(rings, &shape, field.0).map_err(|(what, hint)| {
                    let hint = format!(
                        "Its {several} polygons are taken together; `polygon` picks one. {hint}"
                    );
                    (what, hint)
                })
            }
            _ => Ok(rings),
        })
        .map_err(|wrong| refuse(wrong, &name, &file.at, notes))
        .ok()?;
    Some(Drawn { name, at: &file.at, shape, rings })
}

/// Name of the file that tells a shapefile's coordinates.
fn prj_of(name: &str) -> Option<String> {
    let (stem, ending) = name.rsplit_once('.')?;
    let prj = if ending == "SHP" { "PRJ" } else { "prj" };
    Some(format!("{stem}.{prj}"))
}

/// Corners as typed.
fn from_corners<'a>(
    at: &'a At,
    corners: &[CornerFile],
    grid: &Grid,
    notes: &mut Notes<'_>,
) -> Option<Drawn<'a>> {
    let sides_m = [grid.length_along_m(), grid.width_across_m()];
    let place = |corner: &CornerFile| [corner.along.value, corner.across.value];
    let mut is_sound = true;
    for corner in corners {
        for (axis, word) in [(0, "along the pipe"), (1, "in the direction of travel")] {
            // The rectangle may have been moved by up to a cell to whole cells.
            if place(corner)[axis] > sides_m[axis] + grid.cell_m {
                is_sound = false;
                let problem = format!("the corner lies {} {word}", length(place(corner)[axis]));
                let hint = "Move it, or make the rectangle as large.";
                let most = format!("at most {}, the rectangle's side", length(sides_m[axis]));
                notes.issues.push(Issue::new(&corner.at, problem).allowed(most).hint(hint));
            }
        }
    }
    let rings: Vec<Corner> = corners.iter().map(place).collect();
    match boundary_file::typed(&rings) {
        Ok(shape) if is_sound => {
            let rings = shape.rings.clone();
            Some(Drawn { name: String::new(), at, shape, rings })
        }
        Ok(_) => None,
        Err(problems) => {
            refuse_all(problems, "", at, notes);
            None
        }
    }
}

/// The rings if they lie in the rectangle and are no slip of units.
fn within(rings: Vec<Vec<Corner>>, shape: &Shape, grid: &Grid) -> Result<Vec<Vec<Corner>>, Wrong> {
    let [low, high] = bounds(&rings);
    let sides = |x_m: f64, y_m: f64| format!("{} along by {} across", length(x_m), length(y_m));
    let (width_m, depth_m) = (high[0] - low[0], high[1] - low[1]);
    let shown = sides(width_m, depth_m);
    if area_m2(&rings, shape) < LEAST_AREA_M2 {
        let what = format!("the boundary is tiny: {shown}");
        let hint = if is_lon_lat(shape) {
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
        let hint = if low[0].abs().max(low[1].abs()) > FAR_M {
            "Its numbers look like those of a map (UTM, State Plane): then `coordinates` is \
             \"projected m\" or \"projected ft\"."
        } else {
            "Make the rectangle (`length_along_pipe`, `width_across`) as large, move the \
             boundary, or check the unit in `coordinates`."
        };
        return Err((what, hint.to_owned()));
    }
    Ok(rings)
}

/// Area inside the rings on the field's axes, m².
fn area_m2(rings: &[Vec<Corner>], shape: &Shape) -> f64 {
    Shape { rings: rings.to_vec(), is_hole: shape.is_hole.clone() }.area()
}

fn told(boundary: &Boundary, size_m2: f64, shape: &Shape, grid: &Grid, notes: &mut Notes<'_>) {
    let (inside, all) = (boundary.cells(), grid.cells_along * grid.cells_across);
    let share = 100.0 * inside as f64 / all as f64;
    let holes = match shape.is_hole.iter().filter(|hole| **hole).count() {
        0 => String::new(),
        1 => ", with a hole".to_owned(),
        holes => format!(", with {holes} holes"),
    };
    let cells = format!("{inside} of {all} cells ({} %){holes}", decimals(share, 1));
    let area_told = area(inside as f64 * grid.cell_area_m2());
    notes.assume(
        "/field/boundary",
        format!("{area_told}: {cells}"),
        format!(
            "a cell that the boundary cuts counts if its center lies inside; inside the lines lie {}",
            area(size_m2)
        ),
    );
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
