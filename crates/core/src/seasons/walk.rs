//! One season walked a few rows of the field at a time: water laid down, drained, used.
//!
//! What a row of cells lives through does not depend on the rows beside it (but for water that roots
//! and soil spread, see [`super::smoothing`]), so the season is not walked day by day over the whole
//! field, which would fetch every cell from memory 150 times, but tile by tile: some rows through the
//! whole season while they stay close to the processor ([`super::tile`]).
//!
//! The field is folded along the pipe (see [`super::compact`]), so each column of cells that
//! repeats is computed once. A boundary breaks the repeat, and so do pressure that changes along
//! the pipe and sprinklers that each deliver their own: such a field is not folded. Figures of a field
//! with a boundary are means over the cells inside. Water of a set counts for the day on which it
//! starts, and is spread by roots and soil before the crop takes it; figures of depth are of what cans
//! would catch.

use super::compact::CompactField;
use super::cycles::split_of;
use super::figures::SeasonFigures;
use super::map_sums::FoldedMaps;
use super::outcome::Walked;
use super::smoothing::{Smoothing, reach_cells};
use super::tile::{FieldWater, Room, Tiles};
use super::weighted::{Regions, WeightedRegion};
use super::wet_days::WetDays;
use crate::overlay::PipeOnGrid;
use crate::root_zone::ground::Ground;
use crate::root_zone::yields::yield_fraction;
use crate::season::laid_pass::LaidPass;
use crate::season::layout::Layout;
use crate::season::prepare::Footprints;
use crate::season::{SeasonError, WATER_TOLERANCE};

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
        room: &mut Room,
        mut keep: impl FnMut(Walked<'_>) -> T,
    ) -> Result<Vec<T>, SeasonError> {
        room.start_season();
        let by_reference: Vec<&Layout<'_>> = layouts.iter().collect();
        let passes = layouts.iter().map(|layout| layout.plan.passes.len()).max().unwrap_or(0);
        let laid: Vec<LaidPass> = (0..passes)
            .map(|pass| self.footprints.of_pass(&by_reference, pass))
            .collect::<Result<_, _>>()?;
        let reach = laid.iter().flat_map(LaidPass::footprints).map(reach_along).max().unwrap_or(0);
        let mut walk = |layout: &Layout<'_>| {
            let compact = self.compact(layout, reach);
            self.water(layout, &laid, &compact, room);
            self.found(layout, &laid, compact, room).map(&mut keep)
        };
        layouts.iter().map(&mut walk).collect()
    }

    /// The folded field of a layout whose footprints reach so far along the pipe.
    fn compact(&self, layout: &Layout<'_>, reach: usize) -> CompactField {
        // A hand-moved lateral shifts along the pipe from stop to stop: fold what all share.
        let (first, last) = layout.first_columns(&layout.plan.passes);
        let any = layout.plan.passes.first().map(|pass| layout.pipe(pass));
        let pipe = any.unwrap_or(PipeOnGrid { first_column: 0, spacing_cells: 1, sprinklers: 0 });
        let spread = reach_cells(self.smoothing_m, layout.column_m()).max(1);
        let reach = reach + (last - first) as usize + spread;
        let pipe = PipeOnGrid { first_column: first, ..pipe };
        // Seasons that are folded alike share the sums of their maps.
        CompactField::new(
            (&layout.field.grid, layout.thinning),
            pipe,
            reach.next_multiple_of(ALIKE_CELLS),
            layout.repeat(),
        )
    }

    /// The season's water on the folded field, tile by tile.
    fn water(
        &self,
        layout: &Layout<'_>,
        laid: &[LaidPass],
        compact: &CompactField,
        room: &mut Room,
    ) {
        let columns = compact.folded_columns();
        let smoothing = Smoothing::new(self.smoothing_m, layout.field, (layout.thinning, columns));
        let on_its_way = match &smoothing {
            Some(Smoothing::OnItsWay(spread)) => Some(spread),
            _ => None,
        };
        let tiles = Tiles {
            wet: WetDays::of(layout, laid, compact, on_its_way),
            crop_days: self.ground.days_of(self.season),
            ground: self.ground,
            smoothing: smoothing.as_ref(),
            rows: layout.grid.cells_across,
            columns,
        };
        tiles.walk(room);
    }

    /// The season's figures and maps.
    fn found<'b>(
        &self,
        layout: &Layout<'_>,
        laid: &[LaidPass],
        compact: CompactField,
        room: &'b mut Room,
    ) -> Result<Walked<'b>, SeasonError> {
        let (ground, days) = (self.ground, self.ground.days_of(self.season));
        let need_mm = ground.need_mm(self.season);
        let Room { water, regions, on_cells, .. } = room;
        let regions = regions.of(layout.field, self.margin_m, compact);
        let Regions { whole, inside, whole_places: places, .. } = regions;
        let crop_use_mm = places.mean(&water.use_mm);
        let FieldWater { season_mm, idle_mm, use_mm: yields, percolation_mm, depletion_mm } = water;
        yields.mapv_inplace(|et_mm| yield_fraction(ground.ky, et_mm, need_mm));
        let stored = Stored::of(ground, self.season);
        let promised = |depth_mm: f64| {
            yield_fraction(ground.ky, need_mm.min(depth_mm + stored.brought_mm()), need_mm)
        };
        let taw_mm = days.last().map_or(0.0, |day| day.taw_mm);
        let end_mm = taw_mm - places.mean(depletion_mm);
        let irrigation_mm = places.mean(season_mm);
        let split = split_of(layout, laid, &compact, &regions.inside_places);
        let amounts = Amounts::of(layout, laid);
        let per_field = |m3: f64| 1000.0 * m3 / layout.field.area().m2();
        let beside_m3 = |beside: &WeightedRegion| {
            0.001 * beside.sum(season_mm) * layout.field.grid.cell_area_m2()
        };
        let beside_m3 = amounts.off_grid_m3 + regions.beside_places.as_ref().map_or(0.0, beside_m3);
        let [season_mm, cell_yields] = on_cells.of(&compact, season_mm, yields);
        let (cu, du_lq) = inside.cu_and_du_lq(season_mm);
        let found = SeasonFigures {
            cu,
            du_lq,
            split,
            yield_fraction: whole.mean(cell_yields),
            yield_worst_tenth: whole.worst_tenth(cell_yields),
            yield_interior: inside.mean(cell_yields),
            yield_interior_worst_tenth: inside.worst_tenth(cell_yields),
            yield_promised: inside.mean_of(season_mm, promised),
            passes: layout.plan.passes.len() as u32,
            moves: layout.plan.passes.iter().map(|pass| pass.sets.len() as u32).sum(),
            dry_way_h: layout.plan.dry_way_h,
            gross_mm: per_field(amounts.gross_m3),
            leaked_mm: per_field(amounts.leaked_m3),
            losses_mm: per_field(amounts.losses_m3),
            off_field_mm: per_field(beside_m3),
            irrigation_mm,
            rain_mm: stored.rain_mm,
            crop_use_mm,
            percolation_mm: places.mean(percolation_mm),
            rooted_mm: stored.rooted_mm,
            storage_rise_mm: end_mm - stored.start_mm,
            idle_mm: idle_mm.as_ref().map_or(0.0, |idle_mm| places.mean(idle_mm)),
        };
        let imbalance = found.imbalance_mm() / found.gross_mm;
        if imbalance.abs() > WATER_TOLERANCE || imbalance.is_nan() {
            let alternative = layout.alternative.name.clone();
            return Err(SeasonError::WaterLost { alternative, imbalance });
        }
        let maps = FoldedMaps { compact, yield_fraction: yields, percolation_mm };
        Ok(Walked { figures: found, maps })
    }
}

/// Reaches along the pipe that differ by less fold the field alike.
const ALIKE_CELLS: usize = 4;

/// How far a footprint reaches along the pipe to either side of its sprinkler's cell.
fn reach_along(footprint: &crate::sprinkler::footprint::Footprint) -> usize {
    let end = footprint.first_column + footprint.values.ncols() as isize;
    footprint.first_column.unsigned_abs().max(end.unsigned_abs())
}

/// Water other than irrigation that a season brings to the roots, mm.
#[expect(clippy::struct_field_names, reason = "the unit stands last in every name")]
struct Stored {
    /// What they could draw on at the start.
    start_mm: f64,
    rooted_mm: f64,
    rain_mm: f64,
}

impl Stored {
    fn of(ground: &Ground, season: usize) -> Self {
        let days = ground.days_of(season);
        let taw_before_mm = days.first().map_or(0.0, |day| day.taw_mm - day.rooted_mm);
        Self {
            start_mm: taw_before_mm - ground.depletion_mm,
            rooted_mm: days.iter().map(|day| day.rooted_mm).sum(),
            rain_mm: days.iter().map(|day| day.rain_mm).sum(),
        }
    }

    fn brought_mm(&self) -> f64 {
        self.start_mm + self.rooted_mm + self.rain_mm
    }
}

/// The water of a season as it is counted at the nozzles, apart from what is laid.
#[expect(clippy::struct_field_names, reason = "the unit stands last in every name")]
struct Amounts {
    gross_m3: f64,
    leaked_m3: f64,
    losses_m3: f64,
    off_grid_m3: f64,
}

impl Amounts {
    fn of(layout: &Layout<'_>, laid: &[LaidPass]) -> Self {
        let (discharge_m3_h, leaked_m3_h) = (layout.discharge_m3_h(), layout.leaked_m3_h());
        let mut all = Self { gross_m3: 0.0, leaked_m3: 0.0, losses_m3: 0.0, off_grid_m3: 0.0 };
        for (plan, laid) in layout.plan.passes.iter().zip(laid) {
            let set_hours: f64 = plan.sets.iter().map(|set| set.end_h - set.start_h).sum();
            all.gross_m3 += discharge_m3_h * set_hours;
            all.leaked_m3 += leaked_m3_h * set_hours;
            all.losses_m3 += discharge_m3_h * laid.lost_hours(layout.index);
            let placed = layout.laid(plan, &plan.sets, (0, laid));
            let off_grid_mm_cells = layout.off_grid(layout.pipe(plan), &placed);
            all.off_grid_m3 += 0.001 * off_grid_mm_cells * layout.place_m2();
        }
        all
    }
}

#[cfg(test)]
#[path = "walk_tests.rs"]
mod tests;
