//! One alternative laid out on the grid: where its lateral stands in every set.

use super::error::SeasonError;
use super::laid_pass::LaidPass;
use super::portions::portions;
use super::pressures::pressures_of;
use super::sprinklers::HoursLaid;
use super::thinning::Thinning;
use crate::grid::{DepthGrid, Grid};
use crate::lateral::hydraulics::PressureLine;
use crate::lateral::{Lateral, Machine, Side, part_turns};
use crate::model::{Alternative, Field, Scenario};
use crate::overlay::{self, LaidSet, NodeSets, PipeOnGrid};
use crate::rotation::Shift;
use crate::schedule::{PassPlan, Plan, SetPlan};
use crate::sprinkler::attitude::Attitude;
use crate::sprinkler::places::Places;

/// An alternative with its schedule and its places on the grid.
#[derive(Clone, Debug)]
pub(crate) struct Layout<'a> {
    pub(crate) alternative: &'a Alternative,
    /// Which of the scenario's alternatives it is.
    pub(crate) index: usize,
    pub(crate) field: &'a Field,
    /// Where the field is looked at.
    pub(crate) thinning: Thinning,
    /// Rows and columns that are looked at; its cells are the field's.
    pub(crate) grid: Grid,
    pub(crate) plan: Plan,
    spacing_cells: usize,
    /// Pressures along the pipe.
    pressures: Option<PressureLine>,
    /// Per node of pressure, how much of that footprint each sprinkler lays, then the same mirrored for
    /// the left of a mainline; `None` where all lay the same.
    portions: Option<Vec<Vec<f64>>>,
}

/// The sets of a pass with their footprints: one list, or one for each node of pressure (and side).
pub(crate) type LaidSets<'b> = Vec<Vec<LaidSet<'b>>>;

impl<'a> Layout<'a> {
    /// All alternatives with their schedules. Where hours are laid by the nearest wind, fields of small cells
    /// are looked at in fewer places.
    pub(crate) fn of_all(
        scenario: &'a Scenario,
        plans: Vec<Plan>,
        hours_laid: HoursLaid,
    ) -> Result<Vec<Self>, SeasonError> {
        let field = &scenario.field;
        let layout = |(index, (alternative, plan)): (usize, (&'a Alternative, Plan))| {
            let thinning = match hours_laid {
                HoursLaid::OwnWind => Thinning::NONE,
                HoursLaid::NearestWind => {
                    Thinning::of(alternative, &field.grid, field.boundary.is_some())
                }
            };
            let grid = thinning.grid(&field.grid);
            let spacing_cells = whole_columns(alternative, grid.cell_m, thinning)?;
            let pressures = pressures_of(alternative)?;
            let portions = portions(alternative, pressures.as_ref())
                .map(|portions| on_all_sides(portions, &alternative.lateral));
            Ok(Self {
                alternative,
                index,
                field,
                thinning,
                grid,
                plan,
                spacing_cells,
                pressures,
                portions,
            })
        };
        scenario.alternatives.iter().zip(plans).enumerate().map(layout).collect()
    }

    /// The sets of pass `pass`; none if the season has no such pass.
    pub(crate) fn sets(&self, pass: usize) -> &[SetPlan] {
        self.plan.passes.get(pass).map_or(&[], |pass| &pass.sets)
    }

    /// The places about the first sprinkler during `set`.
    pub(crate) fn places(&self, set: &SetPlan) -> Places {
        self.place(set).2
    }

    /// How the sprinklers stand during `set`; `None` for upright.
    pub(crate) fn attitude(&self, set: &SetPlan) -> Option<Attitude> {
        let Alternative { lateral, outlets, .. } = self.alternative;
        match &lateral.machine {
            Machine::WheelLine(wheel) => part_turns::attitude(wheel, outlets, set.place_across_m),
            Machine::HandMove => None,
        }
    }

    /// Row of the cell that holds the lateral during `set`.
    pub(crate) fn row(&self, set: &SetPlan) -> isize {
        self.place(set).1
    }

    /// The sprinklers on the grid during `pass`.
    pub(crate) fn pipe(&self, pass: &PassPlan) -> PipeOnGrid {
        PipeOnGrid {
            first_column: self.first_column(pass.shift),
            spacing_cells: self.spacing_cells,
            sprinklers: self.alternative.lateral.sprinklers,
        }
    }

    /// Sets `first..` of pass `pass`, as many as `sets` has, with their footprints.
    pub(crate) fn laid<'b>(
        &self,
        pass: &PassPlan,
        sets: &[SetPlan],
        (first, laid): (usize, &'b LaidPass),
    ) -> LaidSets<'b> {
        let sides = self.alternative.lateral.lines.sides();
        let pipe_column = self.first_column(pass.shift);
        let laid = |set: &SetPlan, at: usize, node: usize| LaidSet {
            footprint: laid.footprint(self.index, first + at, node),
            row: self.row(set),
            column: self.place(set).0 - pipe_column,
        };
        let Some(portions) = &self.portions else {
            return vec![sets.iter().enumerate().map(|(at, set)| laid(set, at, 0)).collect()];
        };
        let nodes = portions.len() / sides.len();
        let at_node = |at_node: usize| {
            let (side, node) = (sides[at_node / nodes], at_node % nodes);
            let here = sets.iter().enumerate().filter(|(_, set)| set.side == side);
            here.map(|(at, set)| laid(set, at, node)).collect()
        };
        (0..portions.len()).map(at_node).collect()
    }

    /// Lays sets down on `grid`: `pass` becomes their depth and is added to `cumulative` (mm).
    /// Returns the sum of the depths on the grid, mm · cells.
    pub(crate) fn lay(
        &self,
        grid: &Grid,
        pipe: PipeOnGrid,
        sets: &LaidSets<'_>,
        pass: &mut DepthGrid,
        cumulative: &mut DepthGrid,
    ) -> f64 {
        match self.nodes(pipe, sets) {
            None => overlay::lay(grid, pipe, &sets[0], pass, cumulative),
            Some(nodes) => overlay::lay_each(grid, pipe, &nodes, pass, cumulative),
        }
    }

    /// The sets by node, each with what the sprinklers of `pipe` lay of it; `None` where all sprinklers
    /// lay the same. A folded pipe has fewer sprinklers, the first of those that come again.
    pub(crate) fn nodes<'b>(
        &'b self,
        pipe: PipeOnGrid,
        sets: &LaidSets<'b>,
    ) -> Option<Vec<NodeSets<'b>>> {
        let nodes = self.portions.as_ref()?.iter().zip(sets);
        let node = |(portions, sets): (&'b Vec<f64>, &Vec<LaidSet<'b>>)| NodeSets {
            portions: &portions[..pipe.sprinklers.min(portions.len())],
            sets: sets.clone(),
        };
        Some(nodes.map(node).collect())
    }

    /// What sets lay outside the field's grid, mm · cells.
    pub(crate) fn off_grid(&self, pipe: PipeOnGrid, sets: &LaidSets<'_>) -> f64 {
        match &self.portions {
            None => sets[0].iter().map(|set| overlay::off_grid(&self.grid, pipe, set)).sum(),
            Some(portions) => {
                let nodes = portions.iter().zip(sets);
                let each = nodes.flat_map(|(portions, sets)| {
                    sets.iter().map(|set| overlay::off_grid_each(&self.grid, pipe, set, portions))
                });
                each.sum()
            }
        }
    }

    /// What all sprinklers deliver together, m³/h.
    pub(crate) fn discharge_m3_h(&self) -> f64 {
        match &self.pressures {
            None => {
                let alternative = self.alternative;
                alternative.sprinkler.discharge_l_s() * 3.6 * alternative.stated_sprinklers()
            }
            Some(line) => line.discharge_l_s() * 3.6,
        }
    }

    /// What is pumped and leaks before it reaches a nozzle, m³/h.
    pub(crate) fn leaked_m3_h(&self) -> f64 {
        self.discharge_m3_h() * self.alternative.condition.leaked_over_delivered()
    }

    /// Sprinklers after which depth comes again along the pipe: 1 where all lay the same; `None`
    /// where it does not, under falling pressure, on a field that is no plain rows, on both sides of a
    /// mainline, or where each sprinkler delivers its own.
    pub(crate) fn repeat(&self) -> Option<usize> {
        let one_side = self.alternative.lateral.lines.left_first_m.is_none();
        let alike = self.pressures.is_none() && self.field.boundary.is_none() && one_side;
        let sprinklers = self.alternative.lateral.sprinklers;
        alike.then(|| self.alternative.discharges.period(sprinklers)).flatten()
    }

    /// The pressures along the pipe, where they were asked for.
    pub(crate) fn into_plan_and_pressures(self) -> (Plan, Option<PressureLine>) {
        (self.plan, self.pressures)
    }

    /// Column of the first sprinkler right of the mainline at a shift.
    fn first_column(&self, shift: Shift) -> isize {
        let along = self.alternative.lateral.first_m(Side::Right, shift.along_m);
        self.thinning.places(along / self.grid.cell_m, 0.0).0
    }

    /// First and last column at which the first sprinkler stands in `passes`, right of the mainline.
    pub(crate) fn first_columns(&self, passes: &[PassPlan]) -> (isize, isize) {
        let of_sets =
            |pass: &PassPlan| -> Vec<Shift> { pass.sets.iter().map(|set| set.shift).collect() };
        let shifts = passes.iter().flat_map(|pass| of_sets(pass).into_iter().chain([pass.shift]));
        let columns = shifts.map(|shift| self.first_column(shift));
        let bounds = columns.fold(None, |bounds: Option<(isize, isize)>, at| {
            Some(bounds.map_or((at, at), |(low, high)| (low.min(at), high.max(at))))
        });
        bounds.unwrap_or((0, 0))
    }

    /// Column and row of the place of the first sprinkler during `set`, and the places about it.
    fn place(&self, set: &SetPlan) -> (isize, isize, Places) {
        let along_m = self.alternative.lateral.first_m(set.side, set.shift.along_m);
        let cell_m = self.grid.cell_m;
        self.thinning.places(along_m / cell_m, set.place_across_m / cell_m)
    }

    /// Width of the ground of a column that is looked at, m.
    pub(crate) fn column_m(&self) -> f64 {
        self.grid.cell_m * self.thinning.columns() as f64
    }

    /// Ground of a place that is looked at, m².
    pub(crate) fn place_m2(&self) -> f64 {
        self.grid.cell_area_m2() * self.thinning.cells()
    }
}

/// The portions, then those of the left side, whose pipe is the mirror image.
fn on_all_sides(mut portions: Vec<Vec<f64>>, lateral: &Lateral) -> Vec<Vec<f64>> {
    if lateral.lines.left_first_m.is_some() {
        let mirrored = |portions: &Vec<f64>| portions.iter().rev().copied().collect();
        let left: Vec<Vec<f64>> = portions.iter().map(mirrored).collect();
        portions.extend(left);
    }
    portions
}

/// Sprinkler spacing in columns that are looked at.
fn whole_columns(
    alternative: &Alternative,
    cell_m: f64,
    thinning: Thinning,
) -> Result<usize, SeasonError> {
    let spacing_m = alternative.lateral.sprinkler_spacing_m;
    let cells = spacing_m / cell_m / thinning.columns() as f64;
    if cells.round() < 1.0 || (cells - cells.round()).abs() > 1e-6 {
        let alternative = alternative.name.clone();
        return Err(SeasonError::Cell { alternative, cell_m, spacing_m });
    }
    Ok(cells.round() as usize)
}
