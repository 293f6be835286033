//! Keeping count of one alternative: its depths, its figures and its water.

use super::changed::OfPass;
use super::error::{SeasonError, WATER_TOLERANCE};
use super::laid_pass::LaidPass;
use super::layout::Layout;
use super::outcome::{
    AlternativeOutcome, Laid, PassOutcome, RegionFigures, Snapshot, WaterBalance,
};
use crate::grid::DepthGrid;
use crate::model::{Region, Scenario};
use crate::unevenness::sample::Places;
use crate::unevenness::{Groups, split};
use std::sync::Arc;

/// Cubic meters in a millimeter on a square meter.
const M3_PER_MM_M2: f64 = 1e-3;

/// The parts of the field for which figures are taken, the same for every alternative.
#[derive(Debug)]
pub(super) struct Regions {
    whole: Region,
    interior: Region,
    first_strip: Region,
    last_strip: Region,
    /// Places at which cycles are told apart: of the interior, or of the whole field.
    places: Places,
    /// Margin of the interior and depth of the strips, m.
    pub(super) margin_m: f64,
}

impl Regions {
    pub(super) fn of(scenario: &Scenario) -> Self {
        let field = &scenario.field;
        let margin_m = scenario.interior_margin_m();
        Self {
            whole: field.whole(),
            interior: field.interior(margin_m),
            first_strip: field.edge_strip(margin_m, false),
            last_strip: field.edge_strip(margin_m, true),
            places: Places::of(&field.interior_or_whole(margin_m), field.grid.cells_along),
            margin_m,
        }
    }

    fn figures(&self, depth_mm: &DepthGrid) -> RegionFigures {
        let of = |region: &Region| region.figures(depth_mm);
        let inside = || (of(&self.interior), of(&self.first_strip), of(&self.last_strip));
        let (whole, (interior, first_strip, last_strip)) = rayon::join(|| of(&self.whole), inside);
        RegionFigures { whole, interior, first_strip, last_strip }
    }
}

/// One alternative while its season is laid down.
#[derive(Debug)]
pub(super) struct Tally<'a> {
    layout: Layout<'a>,
    pass_mm: DepthGrid,
    cumulative_mm: DepthGrid,
    keeps_first: bool,
    groups: Groups,
    /// Depths of whole cycles at the places where they are told apart, mm.
    cycles_mm: Vec<Vec<f64>>,
    passes: Vec<PassOutcome>,
    snapshots: Vec<Snapshot>,
    water: WaterBalance,
}

impl<'a> Tally<'a> {
    /// An empty tally; `keeps_first` says whether the depth after the first passes is kept.
    pub(super) fn new(layout: Layout<'a>, keeps_first: bool) -> Self {
        let zeros = layout.grid.zeros();
        let water = WaterBalance {
            gross_m3: 0.0,
            on_field_m3: 0.0,
            off_field_m3: 0.0,
            losses_m3: 0.0,
            leaked_m3: 0.0,
        };
        let groups = Groups::of(layout.plan.passes.len(), layout.plan.cycle);
        Self {
            layout,
            groups,
            cycles_mm: vec![Vec::new(); groups.count],
            pass_mm: zeros.clone(),
            cumulative_mm: zeros,
            keeps_first,
            passes: Vec::new(),
            snapshots: Vec::new(),
            water,
        }
    }

    /// Lays pass `pass` down, if the season still has it, takes its figures, and gives what `of_pass` makes
    /// of it.
    pub(super) fn lay_pass<T: Send>(
        &mut self,
        pass: usize,
        laid: &LaidPass,
        regions: &Regions,
        of_pass: OfPass<'_, T>,
    ) -> Option<T> {
        let plan = self.layout.plan.passes.get(pass)?;
        let (grid, pipe) = (&self.layout.grid, self.layout.pipe(plan));
        let sets = self.layout.laid(plan, &plan.sets, (0, laid));
        let on_grid_mm =
            self.layout.lay(grid, pipe, &sets, &mut self.pass_mm, &mut self.cumulative_mm);
        if let Some(cycle_mm) = self.groups.group(pass).map(|group| &mut self.cycles_mm[group]) {
            cycle_mm.resize(regions.places.len(), 0.0);
            regions.places.add(&self.pass_mm, cycle_mm);
        }
        let field = self.layout.field;
        let (on_field_mm, beside_mm) =
            field.boundary.as_ref().map_or((on_grid_mm, 0.0), |b| b.sums(&self.pass_mm));
        let off_field_mm = self.layout.off_grid(pipe, &sets) + beside_mm;
        let set_hours: f64 = plan.sets.iter().map(|set| set.end_h - set.start_h).sum();
        let discharge_m3_h = self.layout.discharge_m3_h();
        let m3_per_mm_cell = grid.cell_area_m2() * M3_PER_MM_M2;
        self.water.gross_m3 += discharge_m3_h * set_hours;
        self.water.on_field_m3 += on_field_mm * m3_per_mm_cell;
        self.water.off_field_m3 += off_field_mm * m3_per_mm_cell;
        self.water.losses_m3 += laid.lost_hours(self.layout.index) * discharge_m3_h;
        self.water.leaked_m3 += self.layout.leaked_m3_h() * set_hours;
        let (alone, (cumulative, (profile_mm, made))) = rayon::join(
            || regions.figures(&self.pass_mm),
            || {
                rayon::join(
                    || regions.figures(&self.cumulative_mm),
                    || {
                        let profile_mm = field.profile_mm(regions.margin_m, &self.pass_mm);
                        (profile_mm, of_pass(self.grids_of(pass)))
                    },
                )
            },
        );
        self.passes.push(PassOutcome { alone, cumulative, profile_mm });
        let after_pass = pass + 1;
        if self.keeps_first && after_pass <= 3 && after_pass < self.layout.plan.passes.len() {
            self.snapshots.push(Snapshot::of(after_pass, &self.cumulative_mm));
        }
        Some(made)
    }

    /// Pass `pass`, if it is the one laid down last.
    pub(super) fn laid(&self, pass: usize) -> Option<Laid<'_>> {
        (self.passes.len() == pass + 1).then(|| self.grids_of(pass))
    }

    /// The grids as they stand, which are those of pass `pass`.
    fn grids_of(&self, pass: usize) -> Laid<'_> {
        let (pass_mm, cumulative_mm) = (&self.pass_mm, &self.cumulative_mm);
        Laid { alternative: self.layout.index, pass, pass_mm, cumulative_mm }
    }

    /// The finished season of this alternative.
    ///
    /// # Errors
    /// If the water does not add up: a fault of the program that must never pass for a result.
    pub(super) fn close(self) -> Result<AlternativeOutcome, SeasonError> {
        let imbalance = self.water.imbalance();
        if imbalance.abs() > WATER_TOLERANCE || imbalance.is_nan() {
            let alternative = self.layout.alternative.name.clone();
            return Err(SeasonError::WaterLost { alternative, imbalance });
        }
        let interior_cu: Vec<f64> = self
            .passes
            .iter()
            .filter_map(|pass| pass.cumulative.interior.or(pass.cumulative.whole))
            .map(|figures| figures.cu)
            .collect();
        let places = self.cycles_mm.first().map_or(0, Vec::len);
        let split = split(&self.cycles_mm, &vec![1.0; places], self.groups);
        let split_miss = split.and_then(|split| split.miss(&interior_cu, self.layout.plan.cycle));
        let (plan, pressures) = self.layout.into_plan_and_pressures();
        Ok(AlternativeOutcome {
            split,
            split_miss,
            plan,
            pressures,
            passes: self.passes,
            season_mm: Arc::new(self.cumulative_mm),
            snapshots: self.snapshots,
            water: self.water,
        })
    }
}
