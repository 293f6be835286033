//! Keeping count of one alternative: its depths, its figures and its water.

use super::outcome::{AlternativeOutcome, PassOutcome, RegionFigures, Snapshot, WaterBalance};
use super::prepare::LaidPass;
use super::{Alternative, Scenario, SeasonError, WATER_TOLERANCE};
use crate::compare::unevenness_split;
use crate::grid::{DepthGrid, Grid, Window};
use crate::overlay::{self, LaidSet, PipeOnGrid};
use crate::rotation::Shift;
use crate::schedule::{Plan, SetPlan};
use crate::sprinkler::footprint::Phase;
use crate::uniformity::figures;

/// Litres in a millimetre on a square metre are 1; cubic metres:
const M3_PER_MM_M2: f64 = 1e-3;

/// The parts of the field for which figures are taken, the same for every alternative.
#[derive(Debug)]
pub(super) struct Regions {
    whole: Window,
    interior: Window,
    first_strip: Window,
    last_strip: Window,
    /// The widest outlet spacing, so that all alternatives are judged on the same ground, m.
    pub(super) margin_m: f64,
}

impl Regions {
    pub(super) fn of(scenario: &Scenario) -> Self {
        let grid = scenario.field.grid;
        let spacings = scenario.alternatives.iter().map(|a| a.outlets.spacing_m);
        let margin_m = spacings.fold(0.0, f64::max);
        Self {
            whole: grid.whole(),
            interior: grid.inset(margin_m),
            first_strip: grid.edge_strip(margin_m, false),
            last_strip: grid.edge_strip(margin_m, true),
            margin_m,
        }
    }

    fn figures(&self, depth_mm: &DepthGrid) -> RegionFigures {
        let of = |window: &Window| figures(&window.of(depth_mm));
        RegionFigures {
            whole: of(&self.whole),
            interior: of(&self.interior),
            first_strip: of(&self.first_strip),
            last_strip: of(&self.last_strip),
        }
    }
}

/// One alternative while its season is laid down.
#[derive(Debug)]
pub(super) struct Tally<'a> {
    alternative: &'a Alternative,
    index: usize,
    grid: Grid,
    spacing_cells: usize,
    pub(super) plan: Plan,
    pass_mm: DepthGrid,
    cumulative_mm: DepthGrid,
    passes: Vec<PassOutcome>,
    snapshots: Vec<Snapshot>,
    water: WaterBalance,
}

impl<'a> Tally<'a> {
    /// Empty tallies for all alternatives with their schedules.
    pub(super) fn for_all(
        scenario: &'a Scenario,
        plans: Vec<Plan>,
    ) -> Result<Vec<Self>, SeasonError> {
        let grid = scenario.field.grid;
        let tally = |(index, (alternative, plan)): (usize, (&'a Alternative, Plan))| {
            let spacing_cells = whole_cells(alternative, grid)?;
            let water =
                WaterBalance { gross_m3: 0.0, on_field_m3: 0.0, off_field_m3: 0.0, losses_m3: 0.0 };
            Ok(Self {
                alternative,
                index,
                grid,
                spacing_cells,
                plan,
                pass_mm: grid.zeros(),
                cumulative_mm: grid.zeros(),
                passes: Vec::new(),
                snapshots: Vec::new(),
                water,
            })
        };
        scenario.alternatives.iter().zip(plans).enumerate().map(tally).collect()
    }

    /// Where in its cell the first sprinkler stands during `set` of pass `pass`.
    pub(super) fn phase(&self, pass: usize, set: &SetPlan) -> Phase {
        let shift = self.plan.passes[pass].shift;
        let along = place(self.first_sprinkler_m(shift), self.grid.cell_m).1;
        Phase { along, across: place(set.place_across_m, self.grid.cell_m).1 }
    }

    fn first_sprinkler_m(&self, shift: Shift) -> f64 {
        self.alternative.lateral.first_sprinkler_m + shift.along_m
    }

    /// Lays pass `pass` down, if the season still has it, and takes its figures.
    pub(super) fn lay_pass(&mut self, pass: usize, laid: &LaidPass, regions: &Regions) {
        let Some(plan) = self.plan.passes.get(pass) else { return };
        let (first_column, _) = place(self.first_sprinkler_m(plan.shift), self.grid.cell_m);
        let sprinklers = self.alternative.lateral.sprinklers;
        let pipe = PipeOnGrid { first_column, spacing_cells: self.spacing_cells, sprinklers };
        let sets: Vec<LaidSet<'_>> = plan
            .sets
            .iter()
            .enumerate()
            .map(|(index, set)| LaidSet {
                footprint: laid.footprint(self.index, index),
                row: place(set.place_across_m, self.grid.cell_m).0,
            })
            .collect();
        let on_field_mm =
            overlay::lay(&self.grid, pipe, &sets, &mut self.pass_mm, &mut self.cumulative_mm);
        let off_field_mm: f64 =
            sets.iter().map(|set| overlay::off_grid(&self.grid, pipe, set)).sum();
        let set_hours: f64 = plan.sets.iter().map(|set| set.end_h - set.start_h).sum();
        let discharge_m3_h = self.alternative.sprinkler.discharge_l_s() * 3.6;
        let m3_per_mm_cell = self.grid.cell_area_m2() * M3_PER_MM_M2;
        let gross_m3 = discharge_m3_h * sprinklers as f64 * set_hours;
        self.water.gross_m3 += gross_m3;
        self.water.on_field_m3 += on_field_mm * m3_per_mm_cell;
        self.water.off_field_m3 += off_field_mm * m3_per_mm_cell;
        self.water.losses_m3 += laid.lost_hours(self.index) * discharge_m3_h * sprinklers as f64;
        self.passes.push(PassOutcome {
            alone: regions.figures(&self.pass_mm),
            cumulative: regions.figures(&self.cumulative_mm),
        });
        let after_pass = pass + 1;
        if after_pass <= 3 || after_pass == self.plan.passes.len() {
            self.snapshots.push(Snapshot { after_pass, depth_mm: self.cumulative_mm.clone() });
        }
    }

    /// The finished season of this alternative.
    ///
    /// # Errors
    /// If the water does not add up: a fault of the program that must never pass for a result.
    pub(super) fn close(self) -> Result<AlternativeOutcome, SeasonError> {
        let imbalance = self.water.imbalance();
        if imbalance.abs() > WATER_TOLERANCE || imbalance.is_nan() {
            let alternative = self.alternative.name.clone();
            return Err(SeasonError::WaterLost { alternative, imbalance });
        }
        let interior_cu: Vec<f64> = self
            .passes
            .iter()
            .filter_map(|pass| pass.cumulative.interior.or(pass.cumulative.whole))
            .map(|figures| figures.cu)
            .collect();
        Ok(AlternativeOutcome {
            split: unevenness_split(&interior_cu, self.plan.cycle),
            plan: self.plan,
            passes: self.passes,
            snapshots: self.snapshots,
            water: self.water,
        })
    }
}

/// Sprinkler spacing in cells.
fn whole_cells(alternative: &Alternative, grid: Grid) -> Result<usize, SeasonError> {
    let (cell_m, spacing_m) = (grid.cell_m, alternative.lateral.sprinkler_spacing_m);
    let cells = spacing_m / cell_m;
    if cells.round() < 1.0 || (cells - cells.round()).abs() > 1e-6 {
        let alternative = alternative.name.clone();
        return Err(SeasonError::Cell { alternative, cell_m, spacing_m });
    }
    Ok(cells.round() as usize)
}

/// The cell that holds a place, and where in it, as a fraction; a place within a billionth of a
/// cell of a border counts as on it, so that unit conversions do not make phases differ.
fn place(place_m: f64, cell_m: f64) -> (isize, f64) {
    let cells = (place_m / cell_m * 1e9).round() / 1e9;
    (cells.floor() as isize, cells - cells.floor())
}
