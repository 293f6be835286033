//! One season walked day by day: water laid down, drained, used.
//!
//! The field is folded along the pipe (see [`super::compact`]), so each column of cells that
//! repeats is computed once. A boundary breaks the repeat, and so do pressure that changes along
//! the pipe and sprinklers that each deliver their own: such a field is not folded. Figures of a field with a boundary are means over the cells
//! inside. Water of a set counts for the day on which it starts, and is spread by roots and soil (see
//! [`super::smoothing`]) before the crop takes it; figures of depth are of what cans would catch.

use super::compact::CompactField;
use super::figures::SeasonFigures;
use super::outcome::{MeanMaps, Walked};
use super::smoothing::{Smoothing, reach_cells};
use crate::grid::{DepthGrid, Grid};
use crate::overlay::PipeOnGrid;
use crate::root_zone::cells::CellStates;
use crate::root_zone::ground::Ground;
use crate::root_zone::yields::yield_fraction;
use crate::schedule::SetPlan;
use crate::season::laid_pass::LaidPass;
use crate::season::layout::{LaidSets, Layout};
use crate::season::prepare::Footprints;
use crate::season::{SeasonError, WATER_TOLERANCE};
use ndarray::ArrayView2;

/// Season number `season` of the weather over the ground.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SeasonWalk<'a> {
    /// Crop and soil.
    pub(crate) ground: &'a Ground,
    /// Which season of the ground.
    pub(crate) season: usize,
    /// Sprinklers in the wind of that season.
    pub(crate) footprints: Footprints<'a>,
    /// Margin of the interior, m.
    pub(crate) margin_m: f64,
    /// Standard deviation over which roots and soil spread the water, m.
    pub(crate) smoothing_m: f64,
}

impl SeasonWalk<'_> {
    /// Walks the season for all of `layouts`, numbered as they stand here; of each, what `keep`
    /// makes of it stays, so that many alternatives fit into memory.
    pub(crate) fn of<T>(
        &self,
        layouts: &[Layout<'_>],
        keep: impl Fn(Walked) -> T,
    ) -> Result<Vec<T>, SeasonError> {
        let by_reference: Vec<&Layout<'_>> = layouts.iter().collect();
        let passes = layouts.iter().map(|layout| layout.plan.passes.len()).max().unwrap_or(0);
        let laid: Vec<LaidPass> = (0..passes)
            .map(|pass| self.footprints.of_pass(&by_reference, pass))
            .collect::<Result<_, _>>()?;
        let reach = laid.iter().flat_map(LaidPass::footprints).map(reach_along).max().unwrap_or(0);
        let walk = |layout: &Layout<'_>| {
            let mut walk = Walk::new(layout, self, reach);
            for (pass, laid) in laid.iter().enumerate() {
                walk.pass(layout, pass, laid);
            }
            walk.close(layout, self.margin_m).map(&keep)
        };
        layouts.iter().map(walk).collect()
    }
}

/// How far a footprint reaches along the pipe to either side of its sprinkler's cell.
fn reach_along(footprint: &crate::sprinkler::footprint::Footprint) -> usize {
    let end = footprint.first_column + footprint.values.ncols() as isize;
    footprint.first_column.unsigned_abs().max(end.unsigned_abs())
}

/// One alternative on its way through a season.
struct Walk<'a> {
    ground: &'a Ground,
    season: usize,
    compact: CompactField,
    grid: Grid,
    cells: CellStates,
    /// Day (of the season) whose water is being laid down.
    day: i64,
    /// Next day of the crop to be stepped.
    crop_day: usize,
    /// Zeros: the irrigation of a dry day.
    no_water_mm: Vec<f64>,
    smoothing: Option<Smoothing>,
    day_mm: DepthGrid,
    set_mm: DepthGrid,
    season_mm: DepthGrid,
    idle_mm: DepthGrid,
    gross_m3: f64,
    leaked_m3: f64,
    losses_m3: f64,
    off_field_mm_cells: f64,
}

impl<'a> Walk<'a> {
    fn new(layout: &Layout<'_>, asked: &SeasonWalk<'a>, reach: usize) -> Self {
        let SeasonWalk { ground, season, smoothing_m, .. } = *asked;
        // A hand-moved lateral shifts along the pipe from stop to stop: fold what all share.
        let (first, last) = layout.first_columns(&layout.plan.passes);
        let any = layout.plan.passes.first().map(|pass| layout.pipe(pass));
        let pipe = any.unwrap_or(PipeOnGrid { first_column: 0, spacing_cells: 1, sprinklers: 0 });
        let spread = reach_cells(smoothing_m, layout.grid.cell_m);
        let reach = reach + (last - first) as usize + spread;
        let pipe = PipeOnGrid { first_column: first, ..pipe };
        let compact = CompactField::new(&layout.grid, pipe, reach, layout.repeat());
        let grid = compact.grid(&layout.grid);
        let zeros = grid.zeros();
        Self {
            ground,
            season,
            compact,
            grid,
            cells: CellStates::new(zeros.len(), ground.depletion_mm),
            day: i64::MIN,
            crop_day: 0,
            no_water_mm: vec![0.0; zeros.len()],
            smoothing: Smoothing::new(smoothing_m, layout.field),
            day_mm: zeros.clone(),
            set_mm: zeros.clone(),
            season_mm: zeros.clone(),
            idle_mm: zeros,
            gross_m3: 0.0,
            leaked_m3: 0.0,
            losses_m3: 0.0,
            off_field_mm_cells: 0.0,
        }
    }

    /// Lays pass `pass` down day by day.
    fn pass(&mut self, layout: &Layout<'_>, pass: usize, laid: &LaidPass) {
        let Some(plan) = layout.plan.passes.get(pass) else { return };
        let pipe = layout.pipe(plan);
        let day_of = |set: &SetPlan| (set.start_h / 24.0).floor() as i64;
        let mut first = 0;
        for sets in plan.sets.chunk_by(|a, b| day_of(a) == day_of(b)) {
            let placed = layout.laid(plan, sets, (first, laid));
            self.lay_on(day_of(&sets[0]), layout, pipe, &placed);
            self.off_field_mm_cells += layout.off_grid(pipe, &placed);
            first += sets.len();
        }
        let set_hours: f64 = plan.sets.iter().map(|set| set.end_h - set.start_h).sum();
        self.gross_m3 += layout.discharge_m3_h() * set_hours;
        self.leaked_m3 += layout.leaked_m3_h() * set_hours;
        self.losses_m3 += layout.discharge_m3_h() * laid.lost_hours(layout.index);
    }

    fn lay_on(&mut self, day: i64, layout: &Layout<'_>, pipe: PipeOnGrid, sets: &LaidSets<'_>) {
        if day != self.day {
            self.finish_day();
            self.day = day;
        }
        let pipe = self.compact.pipe(pipe);
        layout.lay(&self.grid, pipe, sets, &mut self.set_mm, &mut self.day_mm);
    }

    /// Gives the water of the day to the crop, after all dry days before it.
    fn finish_day(&mut self) {
        if self.day == i64::MIN {
            return;
        }
        let days = self.ground.days_of(self.season);
        self.season_mm += &self.day_mm;
        match usize::try_from(self.day - self.ground.first_day) {
            Ok(today) if today < days.len() => {
                self.dry_days_until(today);
                let day_mm = match &mut self.smoothing {
                    Some(smoothing) => smoothing.spread(&self.day_mm),
                    None => &self.day_mm,
                };
                if let Some(depths) = day_mm.as_slice() {
                    self.cells.step(&days[today], depths);
                }
                self.crop_day = today + 1;
            }
            _ => self.idle_mm += &self.day_mm,
        }
        self.day_mm.fill(0.0);
    }

    fn dry_days_until(&mut self, today: usize) {
        let days = self.ground.days_of(self.season);
        for day in &days[self.crop_day.min(today)..today] {
            self.cells.step(day, &self.no_water_mm);
        }
    }

    /// The season's figures and maps.
    fn close(mut self, layout: &Layout<'_>, margin_m: f64) -> Result<Walked, SeasonError> {
        self.finish_day();
        let days = self.ground.days_of(self.season);
        self.dry_days_until(days.len());
        let need_mm = self.ground.need_mm(self.season);
        let shape = self.season_mm.raw_dim();
        let of_cells = |values: &[f64]| {
            let folded = DepthGrid::from_shape_vec(shape, values.to_vec())
                .unwrap_or_else(|_| self.grid.zeros());
            self.compact.unfold(&folded)
        };
        let use_mm = of_cells(&self.cells.et_mm);
        let maps = MeanMaps {
            yield_fraction: use_mm.mapv(|et_mm| yield_fraction(self.ground.ky, et_mm, need_mm)),
            percolation_mm: of_cells(&self.cells.percolation_mm),
        };
        let season_mm = self.compact.unfold(&self.season_mm);
        let (whole, inside) = (layout.field.whole(), layout.field.interior_or_whole(margin_m));
        let mean_of = |grid: &DepthGrid| mean(&whole.of(grid).view());
        let interior = inside.figures(&season_mm);
        let interior_yield = inside.of(&maps.yield_fraction);
        let per_field = |m3: f64| 1000.0 * m3 / layout.field.area().m2();
        let beside = self.off_field_mm_cells + layout.field.outside_sum(&season_mm);
        let (taw_mm, rooted_mm) =
            (days.last().map_or(0.0, |d| d.taw_mm), days.iter().map(|d| d.rooted_mm).sum::<f64>());
        let taw_before_mm = days.first().map_or(0.0, |day| day.taw_mm - day.rooted_mm);
        let rain_mm = days.iter().map(|day| day.rain_mm).sum::<f64>();
        let stored_mm = taw_before_mm - self.ground.depletion_mm + rooted_mm + rain_mm;
        let promised = inside.of(&season_mm).mapv(|depth_mm| {
            yield_fraction(self.ground.ky, need_mm.min(depth_mm + stored_mm), need_mm)
        });
        let end_mm = taw_mm - mean_of(&of_cells(&self.cells.depletion_mm));
        let found = SeasonFigures {
            cu: interior.map_or(f64::NAN, |figures| figures.cu),
            du_lq: interior.map_or(f64::NAN, |figures| figures.du_lq),
            yield_fraction: mean_of(&maps.yield_fraction),
            yield_worst_tenth: worst_tenth(&whole.of(&maps.yield_fraction).view()),
            yield_interior: mean(&interior_yield.view()),
            yield_interior_worst_tenth: worst_tenth(&interior_yield.view()),
            yield_promised: mean(&promised.view()),
            passes: layout.plan.passes.len() as u32,
            moves: layout.plan.passes.iter().map(|pass| pass.sets.len() as u32).sum(),
            dry_way_h: layout.plan.dry_way_h,
            gross_mm: per_field(self.gross_m3),
            leaked_mm: per_field(self.leaked_m3),
            losses_mm: per_field(self.losses_m3),
            off_field_mm: beside * layout.grid.cell_area_m2() / layout.field.area().m2(),
            irrigation_mm: mean_of(&season_mm),
            rain_mm,
            crop_use_mm: mean_of(&use_mm),
            percolation_mm: mean_of(&maps.percolation_mm),
            rooted_mm,
            storage_rise_mm: end_mm - (taw_before_mm - self.ground.depletion_mm),
            idle_mm: mean_of(&self.compact.unfold(&self.idle_mm)),
        };
        let imbalance = found.imbalance_mm() / found.gross_mm;
        if imbalance.abs() > WATER_TOLERANCE || imbalance.is_nan() {
            let alternative = layout.alternative.name.clone();
            return Err(SeasonError::WaterLost { alternative, imbalance });
        }
        Ok(Walked { figures: found, maps })
    }
}

fn mean(grid: &ArrayView2<'_, f64>) -> f64 {
    grid.sum() / grid.len().max(1) as f64
}

/// Mean of the lowest tenth of the cells.
fn worst_tenth(grid: &ArrayView2<'_, f64>) -> f64 {
    let mut values: Vec<f64> = grid.iter().copied().collect();
    let count = (values.len() / 10).max(1);
    if count >= values.len() {
        return mean(grid);
    }
    let (lowest, ..) = values.select_nth_unstable_by(count, f64::total_cmp);
    lowest.iter().sum::<f64>() / count as f64
}

#[cfg(test)]
#[path = "walk_tests.rs"]
mod tests;
