//! The field's grid: a cell that divides every sprinkler spacing, sides of whole cells.

use super::boundary;
use crate::file::{FieldFile, ScenarioFile};
use crate::issue::Issue;
use crate::limits::MOST_CELLS;
use crate::notes::{Notes, decimals, length};
use crate::read::optional;
use evenfall_core::grid::Grid;
use evenfall_core::model::{Alternative, Field};
use evenfall_core::season::CELL_BYTES;

/// Fewest cells a spacing without a warning. The demo with 20, 10, 8, 4 and 2 of them a sprinkler
/// spacing, against 40: DUlq of the fixed stops 0.2, 0.7, 1.1, 3.6 and 8.5 points too high.
const FINE_ENOUGH: f64 = 10.0;
/// Round-off allowed in "a whole number of cells".
const WHOLE_SLACK: f64 = 1e-6;

/// The field with its grid; `None` where something it hangs on was bad.
pub(crate) fn resolve(
    file: &ScenarioFile,
    alternatives: Option<&[Alternative]>,
    notes: &mut Notes<'_>,
) -> Option<Field> {
    let given = file.field.0.as_ref()?;
    // A cell that could not be read has been told already.
    given.cell.0.as_ref()?;
    let asked_m = FieldFile::cell.or_start(Some(&given.cell), "/field", notes);
    check_size(given, asked_m, alternatives.map_or(1, <[_]>::len), notes)?;
    let spacings_m: Vec<f64> =
        alternatives?.iter().map(|alternative| alternative.lateral.sprinkler_spacing_m).collect();
    let cell_m = common_cell(given, asked_m, &spacings_m, notes)?;
    warn_if_coarse(cell_m, alternatives?, notes);
    let grid = Grid::over(given.length_along_pipe.value, given.width_across.value, cell_m);
    told_if_moved(
        "/field/length_along_pipe",
        given.length_along_pipe.value,
        grid.length_along_m(),
        notes,
    );
    told_if_moved("/field/width_across", given.width_across.value, grid.width_across_m(), notes);
    let travel_bearing_deg = given.travel_bearing.0.as_ref()?.value.rem_euclid(360.0);
    let boundary = match given.boundary.0.as_ref()? {
        None => None,
        Some(asked) => Some(boundary::resolve(asked, &grid, travel_bearing_deg, notes)?),
    };
    let field = Field { grid, travel_bearing_deg, boundary };
    boundary::warn_of_dry_sets(&field, alternatives?, notes);
    warn_if_short(&field, alternatives?, notes);
    let spacings = alternatives?.iter().map(|alternative| alternative.outlets.spacing_m);
    let margin_m = interior_margin_m(file).unwrap_or_else(|| spacings.fold(0.0, f64::max));
    warn_if_no_interior(&field, margin_m, notes);
    Some(field)
}

/// The margin of the interior, where it is given, m.
pub(crate) fn interior_margin_m(file: &ScenarioFile) -> Option<f64> {
    let given = file.field.0.as_ref()?.interior_margin.0.as_ref()?;
    given.as_ref().map(|margin| margin.value)
}

/// Coarse cells average over the very unevenness that is looked for.
fn warn_if_coarse(cell_m: f64, alternatives: &[Alternative], notes: &mut Notes<'_>) {
    let spacings =
        alternatives.iter().flat_map(|a| [a.lateral.sprinkler_spacing_m, a.outlets.spacing_m]);
    let closest_m = spacings.fold(f64::INFINITY, f64::min);
    if closest_m < (FINE_ENOUGH - WHOLE_SLACK) * cell_m {
        notes.warn(format!(
            "cells of {} are coarse for a spacing of {}: they average out part of the pattern, and CU \
             and DUlq come out points too high; use {} or less",
            length(cell_m),
            length(closest_m),
            length(closest_m / FINE_ENOUGH)
        ));
    }
}

/// A pipe that ends far from the field's edges leaves strips dry that no rotation helps.
fn warn_if_short(field: &Field, alternatives: &[Alternative], notes: &mut Notes<'_>) {
    if field.boundary.is_some() {
        // Ends of the rectangle may lie beyond the field.
        return;
    }
    let end_m = field.grid.length_along_m();
    for lateral in alternatives.iter().map(|alternative| &alternative.lateral) {
        let apart_m = lateral.sprinkler_spacing_m;
        let span_m = apart_m * (lateral.sprinklers.saturating_sub(1)) as f64;
        let first_m = lateral.lines.left_first_m.unwrap_or(lateral.first_sprinkler_m);
        let last_m = lateral.first_sprinkler_m + span_m;
        if first_m.max(end_m - last_m) > apart_m + WHOLE_SLACK {
            notes.warn(format!(
                "the pipe is short for the field: its end sprinklers stand {} and {} from the edges, \
                 more than the {} between sprinklers, and the strips beyond them stay dry",
                length(first_m),
                length(end_m - last_m),
                length(apart_m)
            ));
        }
    }
}

/// Without an interior the edges count in every figure, and lower them.
pub(crate) fn warn_if_no_interior(field: &Field, spacing_m: f64, notes: &mut Notes<'_>) {
    if field.interior(spacing_m).cells() > 0 {
        return;
    }
    let (width_m, long_m) = (field.grid.width_across_m(), field.grid.length_along_m());
    let size = if width_m <= long_m {
        format!("{} wide", length(width_m))
    } else {
        format!("{} long along the pipe", length(long_m))
    };
    notes.warn(format!(
        "the field is {size} and the outlet spacing is {}: leaving out one outlet spacing at each \
         edge leaves no interior, so uniformity is that of the whole field, edges included",
        length(spacing_m)
    ));
}

fn told_if_moved(what: &str, asked_m: f64, got_m: f64, notes: &mut Notes<'_>) {
    if (asked_m - got_m).abs() > WHOLE_SLACK {
        let why = format!("moved from {} to a whole number of cells", length(asked_m));
        notes.assume(what, length(got_m), why);
    }
}

fn check_size(
    given: &FieldFile,
    cell_m: f64,
    alternatives: usize,
    notes: &mut Notes<'_>,
) -> Option<()> {
    let cells = given.length_along_pipe.value / cell_m * given.width_across.value / cell_m;
    let memory_gb = cells * CELL_BYTES as f64 * alternatives as f64 / 1e9;
    if cells > MOST_CELLS as f64 {
        let at = optional(&given.cell).map_or_else(|| given.at.opening(), |cell| cell.at.clone());
        let finest_m = cell_m * (cells / MOST_CELLS as f64).sqrt();
        notes.issues.push(
            Issue::new(&at, format!("the grid would have {:.0} million cells", cells / 1e6))
                .allowed(format!("at most {} million cells", MOST_CELLS / 1_000_000))
                .hint(format!(
                    "It would need about {memory_gb:.0} GB. Take a cell of {} or more.",
                    length(finest_m)
                )),
        );
        return None;
    }
    if memory_gb > 1.0 {
        notes.warn(format!("the grid needs about {memory_gb:.1} GB of memory"));
    }
    Some(())
}

/// The cell nearest to the asked one that divides every spacing along the pipe.
fn common_cell(
    given: &FieldFile,
    asked_m: f64,
    spacings_m: &[f64],
    notes: &mut Notes<'_>,
) -> Option<f64> {
    let first_m = *spacings_m.first()?;
    let divides = |cell_m: f64| {
        spacings_m.iter().all(|spacing_m| {
            let cells = spacing_m / cell_m;
            (cells - cells.round()).abs() < WHOLE_SLACK * cells.max(1.0) && cells > 0.5
        })
    };
    // From half to twice the asked size; farther would be another scenario.
    let (fewest, most) = ((first_m / (2.0 * asked_m)).ceil(), (first_m / (0.5 * asked_m)).floor());
    let candidates =
        (fewest.max(1.0) as u32..=most.max(1.0) as u32).map(|n| first_m / f64::from(n));
    let nearness = |cell_m: f64| (cell_m / asked_m).ln().abs();
    let best = candidates
        .filter(|&cell_m| divides(cell_m))
        .min_by(|&a, &b| nearness(a).total_cmp(&nearness(b)));
    let Some(cell_m) = best else {
        let at = optional(&given.cell).map_or_else(|| given.at.opening(), |cell| cell.at.clone());
        let list = spacings_m.iter().map(|m| length(*m)).collect::<Vec<_>>().join(", ");
        notes.issues.push(
            Issue::new(
                &at,
                format!("no cell near {} divides the sprinkler spacings", length(asked_m)),
            )
            .allowed(format!("a common part of {list}"))
            .hint("Choose spacings with a common part, or a cell that divides them all."),
        );
        return None;
    };
    if (cell_m - asked_m).abs() > 1e-9 {
        let why = format!(
            "moved from {} so that {} cells make one sprinkler spacing",
            length(asked_m),
            decimals(first_m / cell_m, 0)
        );
        notes.assume("/field/cell", length(cell_m), why);
    }
    Some(cell_m)
}
