//! Strips: the mean depth that each set's own strip of the field gets in a pass.
//!
//! A strip reaches half an outlet spacing to either side of the lateral, or to the middle between
//! it and its neighbor of the same pass where that is nearer, over the whole length of the field
//! along the pipe. Its depth is that of all sets of the pass, so it holds what neighbors lay over
//! the border. Rows belong to the strip that holds their center.

use super::control::RunControl;
use super::error::SeasonError;
use super::prepare::PreparedSeason;
use crate::grid::{Grid, Window};
use crate::lateral::Side;
use crate::model::{Alternative, Scenario};
use crate::schedule::{PassPlan, Plan, SetPlan};
use crate::sprinkler::footprint::FootprintSettings;
use std::ops::Range;

/// The mean net depth of every set's strip in its pass, mm, under the season's own weather: per
/// pass, per set; `None` where the strip holds no cell of the field.
///
/// # Errors
/// As [`super::run()`].
pub(super) fn strip_depths(
    scenario: &Scenario,
    alternative: &Alternative,
    plan: &Plan,
    control: &RunControl<'_>,
) -> Result<Vec<Vec<Option<f64>>>, SeasonError> {
    let alone = Scenario { alternatives: vec![alternative.clone()], ..scenario.clone() };
    let prepared = PreparedSeason::of(&alone, vec![plan.clone()], 0, control.maps())?;
    let makers = prepared.makers(FootprintSettings::default())?;
    let footprints = prepared.footprints(&makers);
    let grid = alone.field.grid;
    let Some(layout) = prepared.layouts.first() else { return Err(SeasonError::NoAlternatives) };
    let (mut pass_mm, mut unused_mm) = (grid.zeros(), grid.zeros());
    let mut depths = Vec::with_capacity(layout.plan.passes.len());
    for (number, pass) in layout.plan.passes.iter().enumerate() {
        control.check(number, layout.plan.passes.len())?;
        let laid = footprints.of_pass(&[layout], number)?;
        let sets = layout.laid(pass, &pass.sets, (0, &laid));
        layout.lay(&grid, layout.pipe(pass), &sets, &mut pass_mm, &mut unused_mm);
        let strips = strips(&grid, pass, alternative.outlets.spacing_m);
        let mean = |(rows, set): (Range<usize>, &SetPlan)| {
            let strip = Window { rows, columns: columns(&grid, alternative, set.side) };
            let inside = |(row, column): &(usize, usize)| {
                alone.field.boundary.as_ref().is_none_or(|b| b.inside()[(*row, *column)])
            };
            let cells =
                strip.rows.clone().flat_map(|row| strip.columns.clone().map(move |c| (row, c)));
            let (sum, count) = cells
                .filter(inside)
                .fold((0.0, 0_usize), |(sum, count), cell| (sum + pass_mm[cell], count + 1));
            (count > 0).then(|| sum / count as f64)
        };
        depths.push(strips.into_iter().zip(&pass.sets).map(mean).collect());
    }
    Ok(depths)
}

/// What every set of `plan` lays on its strip before losses, mm, neighbors left out: for a season
/// whose weather is not known. Discharge of a sprinkler · time / (sprinkler spacing · outlet
/// spacing).
pub(super) fn gross_depths(alternative: &Alternative, plan: &Plan) -> Vec<Vec<Option<f64>>> {
    let area_m2 = alternative.lateral.sprinkler_spacing_m * alternative.outlets.spacing_m;
    // 1 L/s is 3.6 m³/h, and 1 L on 1 m² is 1 mm.
    let of_stated = alternative.stated_sprinklers() / alternative.lateral.sprinklers as f64;
    let mm_h = 3600.0 * alternative.sprinkler.discharge_l_s() * of_stated / area_m2;
    let sets = |pass: &PassPlan| {
        pass.sets.iter().map(|set| Some(mm_h * (set.end_h - set.start_h))).collect()
    };
    plan.passes.iter().map(sets).collect()
}

/// The columns that a set on that side of the mainline serves: up to the middle between the two sides.
fn columns(grid: &Grid, alternative: &Alternative, side: Side) -> Range<usize> {
    let Some(middle_m) = alternative.lateral.mainline_m() else { return 0..grid.cells_along };
    let middle = ((middle_m / grid.cell_m).round().max(0.0) as usize).min(grid.cells_along);
    if side == Side::Left { 0..middle } else { middle..grid.cells_along }
}

/// The rows of each set's strip.
fn strips(grid: &Grid, pass: &PassPlan, spacing_m: f64) -> Vec<Range<usize>> {
    // A center on the border within rounding counts as on it.
    let row = |edge_m: f64| {
        let cells = ((edge_m / grid.cell_m - 0.5) * 1e9).round() / 1e9;
        cells.ceil().max(0.0) as usize
    };
    let strip = |set: &SetPlan| {
        let place_m = set.place_across_m;
        let away = |beyond: &dyn Fn(f64) -> bool| {
            let beside = pass.sets.iter().filter(|other| other.side == set.side);
            let others = beside.map(|other| other.place_across_m - place_m);
            others.filter(|off| beyond(*off)).map(f64::abs).fold(spacing_m, f64::min) / 2.0
        };
        let (before_m, after_m) = (away(&|off| off < 0.0), away(&|off| off > 0.0));
        let first = row(place_m - before_m).min(grid.cells_across);
        first..row(place_m + after_m).clamp(first, grid.cells_across)
    };
    pass.sets.iter().map(strip).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season;
    use crate::season::tests::{alternative, scenario, sprinkler, windy};
    use crate::sprinkler::shape::Shape;

    #[test]
    fn invariant_strips_that_cover_the_field_hold_all_its_water() {
        let fixed = alternative("fixed", &[0.0], sprinkler(Shape::Triangular, 90.0));
        let mut asked = scenario(2.0, 2, vec![fixed]);
        asked.weather = windy(3.5);
        let plan = season::plans(&asked).unwrap().remove(0);
        let control = RunControl::default();
        let depths = strip_depths(&asked, &asked.alternatives[0], &plan, &control).unwrap();
        let outcome = season::run(&asked, RunControl::default()).unwrap();
        for (strips, pass) in depths.iter().zip(&outcome.alternatives[0].passes) {
            // Six strips of equal width: their plain mean is that of the field.
            let mean_mm = strips.iter().map(|depth| depth.unwrap()).sum::<f64>() / 6.0;
            let field_mm = pass.alone.whole.unwrap().mean_depth_mm;
            assert!((mean_mm / field_mm - 1.0).abs() < 1e-12, "{mean_mm} {field_mm}");
        }
    }

    #[test]
    fn closed_gross_depth_of_a_set() {
        let fixed = alternative("fixed", &[0.0], sprinkler(Shape::Triangular, 90.0));
        let asked = scenario(2.0, 1, vec![fixed]);
        let plan = season::plans(&asked).unwrap().remove(0);
        let depths = gross_depths(&asked.alternatives[0], &plan);
        // 96.3 · 4.98 gpm / (40 · 60 ft²) · 11.5 h = 2.298 in (SCS NEH 15-11's constant 96.3).
        assert!((depths[0][5].unwrap() / 25.4 - 2.298).abs() < 0.002, "{depths:?}");
    }

    #[test]
    fn closed_strips_end_halfway_to_the_neighbor_and_at_the_field() {
        let shifted = alternative("shifted", &[15.0], sprinkler(Shape::Triangular, 90.0));
        let asked = scenario(2.0, 1, vec![shifted]);
        let plan = season::plans(&asked).unwrap().remove(0);
        let rows = strips(&asked.field.grid, &plan.passes[0], 60.0 * 0.3048);
        // Places 45, 105 … 345 ft; strips 15–75 … 315–360 ft in rows of 2 ft, centers 1, 3, 5 …
        assert_eq!((rows[0].clone(), rows[5].clone()), (7..37, 157..180));
    }
}
