//! A closer look at what a run does not keep: the sets of one pass, one place, the hours' wind.
//!
//! Computed anew for the part that is asked for, by the same steps as the run, so the depths are
//! the run's own.

use super::control::RunControl;
use super::error::SeasonError;
use super::hours::SeasonHours;
use super::laid_pass::LaidPass;
use super::layout::Layout;
use super::outcome::WateredHour;
use super::plans::plans;
use super::prepare::PreparedSeason;
use crate::grid::{DepthGrid, Grid};
use crate::model::Scenario;
use crate::overlay::PipeOnGrid;

/// What a set lays on one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetDepth {
    /// Pass, from 0.
    pub pass: usize,
    /// Start of the set, h from midnight of the first day.
    pub start_h: f64,
    /// Net depth, mm.
    pub depth_mm: f64,
}

/// The wind of every hour with water.
///
/// # Errors
/// If the schedules cannot be made or the weather is not known.
pub fn watered_hours(scenario: &Scenario) -> Result<Vec<WateredHour>, SeasonError> {
    let plans = plans(scenario)?;
    Ok(SeasonHours::of(scenario, &plans, 0)?.watered())
}

/// What looking at a pass is stopped with; the viewer is shown the depth (mm) of every set.
pub type SetsControl<'a> = RunControl<'a, dyn FnMut(&DepthGrid) + 'a>;

/// Shows the viewer the depth (mm) of every set of pass `pass` of alternative `alternative`, in
/// order; shows nothing where there is no such pass.
///
/// # Errors
/// What the scenario asks for cannot be computed, or the run was stopped.
pub fn sets_of_pass(
    scenario: &Scenario,
    (alternative, pass): (usize, usize),
    mut control: SetsControl<'_>,
) -> Result<(), SeasonError> {
    let prepared = PreparedSeason::of(scenario, plans(scenario)?, 0, control.maps())?;
    let makers = prepared.season_makers()?;
    let Some(layout) = prepared.layouts.get(alternative) else { return Ok(()) };
    let Some(plan) = layout.plan.passes.get(pass) else { return Ok(()) };
    let laid = prepared.footprints(&makers).of_pass(&prepared.layouts(), pass)?;
    let (mut set_mm, mut sum_mm) = (layout.grid.zeros(), layout.grid.zeros());
    for (index, set) in plan.sets.iter().enumerate() {
        control.check(index, plan.sets.len())?;
        let placed = layout.laid(plan, std::slice::from_ref(set), (index, &laid));
        layout.lay(&layout.grid, layout.pipe(plan), &placed, &mut set_mm, &mut sum_mm);
        if let Some(viewer) = control.viewer() {
            viewer(&set_mm);
        }
    }
    Ok(())
}

/// What every set lays on the cell that holds the place (x along the pipe, y across), per
/// alternative in order of time; sets that do not reach it are left out. Empty outside the field.
///
/// # Errors
/// What the scenario asks for cannot be computed, or the run was stopped.
pub fn at_place(
    scenario: &Scenario,
    (x_m, y_m): (f64, f64),
    control: &RunControl<'_>,
) -> Result<Vec<Vec<SetDepth>>, SeasonError> {
    let grid = scenario.field.grid;
    let cell = |at_m: f64, cells: usize| {
        let index = (at_m / grid.cell_m).floor();
        (index >= 0.0 && index < cells as f64).then_some(index as isize)
    };
    let place = (cell(y_m, grid.cells_across), cell(x_m, grid.cells_along));
    let (Some(row), Some(column)) = place else {
        return Ok(vec![Vec::new(); scenario.alternatives.len()]);
    };
    let prepared = PreparedSeason::of(scenario, plans(scenario)?, 0, control.maps())?;
    let makers = prepared.season_makers()?;
    let footprints = prepared.footprints(&makers);
    let reach_m = makers.reach_m(prepared.hours.wind_range().fastest_m_s);
    let reach = (reach_m / grid.cell_m).ceil() as isize + 2;
    let near: Vec<Layout<'_>> =
        prepared.layouts.iter().map(|layout| near(layout, row, reach)).collect();
    let by_reference: Vec<&Layout<'_>> = near.iter().collect();
    let mut found = vec![Vec::new(); near.len()];
    for pass in 0..prepared.passes() {
        control.check(pass, prepared.passes())?;
        let laid = footprints.of_pass(&by_reference, pass)?;
        for (layout, found) in near.iter().zip(&mut found) {
            found.extend(on_cell(layout, pass, &laid, (row, column)));
        }
    }
    Ok(found)
}

/// The alternative with those of its sets alone whose lateral stands within `reach` rows of `row`.
fn near<'a>(layout: &Layout<'a>, row: isize, reach: isize) -> Layout<'a> {
    let mut near = layout.clone();
    for pass in &mut near.plan.passes {
        pass.sets.retain(|set| (layout.row(set) - row).abs() <= reach);
    }
    near
}

/// What the sets of one pass lay on one cell.
fn on_cell(
    layout: &Layout<'_>,
    pass: usize,
    laid: &LaidPass,
    (row, column): (isize, isize),
) -> Vec<SetDepth> {
    let Some(plan) = layout.plan.passes.get(pass) else { return Vec::new() };
    let cell = Grid { cells_along: 1, cells_across: 1, ..layout.grid };
    let pipe = layout.pipe(plan);
    let pipe = PipeOnGrid { first_column: pipe.first_column - column, ..pipe };
    let (mut set_mm, mut sum_mm) = (cell.zeros(), cell.zeros());
    let mut found = Vec::new();
    for (index, set) in plan.sets.iter().enumerate() {
        let mut placed = layout.laid(plan, std::slice::from_ref(set), (index, laid));
        for set in placed.iter_mut().flatten() {
            set.row -= row;
        }
        let depth_mm = layout.lay(&cell, pipe, &placed, &mut set_mm, &mut sum_mm);
        if depth_mm > 0.0 {
            found.push(SetDepth { pass, start_h: set.start_h, depth_mm });
        }
    }
    found
}

#[cfg(test)]
#[path = "zoom_tests.rs"]
mod tests;
