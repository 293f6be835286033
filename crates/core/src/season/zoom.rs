//! A closer look at what a run does not keep: the sets of one pass, one place, the hours' wind.
//!
//! Computed anew for the part that is asked for, by the same steps as the run, so the depths are
//! the run's own.

use super::hours::SeasonHours;
use super::kept::LandingMapCache;
use super::layout::Layout;
use super::prepare::{self, LaidPass, Makers, Sprinklers};
use super::{GoOn, SeasonError, plans};
use crate::grid::{DepthGrid, Grid};
use crate::model::Scenario;
use crate::overlay::PipeOnGrid;
use crate::sprinkler::footprint::FootprintSettings;

/// An hour in which water runs under some alternative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WateredHour {
    /// Start, h from midnight of the first day.
    pub hour: usize,
    /// Wind speed at measuring height, m/s.
    pub speed_m_s: f64,
    /// Where the wind comes from, degrees clockwise from north.
    pub from_deg: f64,
}

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

/// Shows `seen` the depth (mm) of every set of pass `pass` of alternative `alternative`, in order;
/// shows nothing where there is no such pass.
///
/// # Errors
/// What the scenario asks for cannot be computed, or `go_on` says no.
pub fn sets_of_pass(
    scenario: &Scenario,
    kept: &LandingMapCache,
    (alternative, pass): (usize, usize),
    seen: &mut dyn FnMut(&DepthGrid),
    go_on: GoOn<'_>,
) -> Result<(), SeasonError> {
    with_parts(scenario, kept, |parts| {
        let Some(layout) = parts.layouts.get(alternative) else { return Ok(()) };
        let Some(plan) = layout.plan.passes.get(pass) else { return Ok(()) };
        let all: Vec<&Layout<'_>> = parts.layouts.iter().collect();
        let laid = prepare::footprints(&all, pass, parts.hours, parts.makers)?;
        let (mut set_mm, mut sum_mm) = (layout.grid.zeros(), layout.grid.zeros());
        for (index, set) in plan.sets.iter().enumerate() {
            super::asked(go_on, index, plan.sets.len())?;
            let placed = layout.laid(std::slice::from_ref(set), index, &laid);
            layout.lay(&layout.grid, layout.pipe(plan), &placed, &mut set_mm, &mut sum_mm);
            seen(&set_mm);
        }
        Ok(())
    })
}

/// What every set lays on the cell that holds the place (x along the pipe, y across), per
/// alternative in order of time; sets that do not reach it are left out. Empty outside the field.
///
/// # Errors
/// What the scenario asks for cannot be computed, or `go_on` says no.
pub fn at_place(
    scenario: &Scenario,
    kept: &LandingMapCache,
    (x_m, y_m): (f64, f64),
    go_on: GoOn<'_>,
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
    with_parts(scenario, kept, |parts| {
        let reach_m = parts.makers.reach_m(parts.hours.fastest_m_s());
        let reach = (reach_m / grid.cell_m).ceil() as isize + 2;
        let near: Vec<Layout<'_>> =
            parts.layouts.iter().map(|layout| near(layout, row, reach)).collect();
        let by_reference: Vec<&Layout<'_>> = near.iter().collect();
        let most = near.iter().map(|layout| layout.plan.passes.len()).max().unwrap_or(0);
        let mut found = vec![Vec::new(); near.len()];
        for pass in 0..most {
            super::asked(go_on, pass, most)?;
            let laid = prepare::footprints(&by_reference, pass, parts.hours, parts.makers)?;
            for (layout, found) in near.iter().zip(&mut found) {
                found.extend(on_cell(layout, pass, &laid, (row, column)));
            }
        }
        Ok(found)
    })
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
        let mut placed = layout.laid(std::slice::from_ref(set), index, laid);
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

/// A season made ready, to look at parts of it.
struct Parts<'a> {
    hours: &'a SeasonHours,
    makers: &'a Makers,
    layouts: &'a [Layout<'a>],
}

fn with_parts<T>(
    scenario: &Scenario,
    kept: &LandingMapCache,
    look: impl FnOnce(&Parts<'_>) -> Result<T, SeasonError>,
) -> Result<T, SeasonError> {
    let plans = plans(scenario)?;
    let hours = SeasonHours::of(scenario, &plans, 0)?;
    let (measured_at_m, fastest_m_s) = (hours.measured_at_m(), hours.fastest_m_s());
    let sprinklers = Sprinklers::of(scenario, kept, measured_at_m, fastest_m_s)?;
    let makers = sprinklers.makers(scenario.field.grid.cell_m, FootprintSettings::default())?;
    let layouts = Layout::of_all(scenario, plans)?;
    look(&Parts { hours: &hours, makers: &makers, layouts: &layouts })
}

#[cfg(test)]
#[path = "zoom_tests.rs"]
mod tests;
