//! One crop season over a whole field: what every cell used, lost and yields.
//!
//! What all cells share (need, rain, TAW, RAW by day) is prepared once; then blocks of neighbouring
//! cells that fit the nearest cache run through all days, blocks side by side on the cores. Cells do
//! not touch one another, so the number of threads changes nothing.
//!
//! Equations and what they neglect: [`super`] and [`super::yields`].

use super::cells::{CellBlock, CellStates};
use super::inputs::{SeasonInputs, WaterProblem, Watering};
use super::outcome::{FieldWater, WaterTotals};
use super::yields::yield_fraction;
use super::{CropDay, RootZone};
use crate::statistics;
use rayon::prelude::*;

/// Cells of a block: its five arrays take 20 kB of the 32 kB of a usual nearest cache.
const BLOCK_CELLS: usize = 512;

/// Largest share of a cell's water that rounding may misplace.
pub const WATER_TOLERANCE: f64 = 1e-9;

/// A crop season, ready to be run for any irrigation.
#[derive(Clone, Debug, PartialEq)]
pub struct SeasonWater {
    days: Vec<CropDay>,
    start_mm: f64,
    etm_mm: f64,
    yield_response: f64,
}

impl SeasonWater {
    /// Prepares the days of a season.
    ///
    /// # Errors
    /// Everything that is wrong with the inputs, at once.
    pub fn prepare(inputs: &SeasonInputs<'_>) -> Result<Self, Vec<WaterProblem>> {
        let problems = inputs.problems();
        if !problems.is_empty() {
            return Err(problems);
        }
        let SeasonInputs { crop, soil, et0_mm, rain_mm, start_depletion } = *inputs;
        let taw_on = |day: usize| soil.taw_mm(crop.root_depth_m(day));
        let mut days = Vec::with_capacity(et0_mm.len());
        for (i, (et0_mm, &rain_mm)) in et0_mm.iter().zip(rain_mm).enumerate() {
            let day = i + 1;
            let etc_mm = crop.kc_on(day).unwrap_or(0.0) * et0_mm;
            let before_mm = taw_on(day.saturating_sub(1).max(1));
            days.push(CropDay::new(
                etc_mm,
                rain_mm,
                crop.depletion_fraction,
                taw_on(day),
                before_mm,
            ));
        }
        let etm_mm = days.iter().map(|day| day.etc_mm).sum();
        let start_mm = start_depletion * taw_on(1);
        Ok(Self { days, start_mm, etm_mm, yield_response: crop.yield_response })
    }

    /// The days, from planting on.
    pub fn days(&self) -> &[CropDay] {
        &self.days
    }

    /// Need of the season without stress, `ETm`, mm.
    pub fn etm_mm(&self) -> f64 {
        self.etm_mm
    }

    /// A root zone as it is at planting.
    pub fn at_planting(&self) -> RootZone {
        RootZone { depletion_mm: self.start_mm }
    }

    /// Runs the season over `cells` cells. Waterings of the same cell and day add up.
    ///
    /// # Errors
    /// Water outside the season or the field, or depths that are negative or not finite; all at
    /// once. Or, a fault of this program: water that is unaccounted for.
    pub fn run(
        &self,
        cells: usize,
        waterings: &[Watering<'_>],
    ) -> Result<FieldWater, Vec<WaterProblem>> {
        let problems: Vec<_> =
            waterings.iter().filter_map(|w| w.problem(self.days.len(), cells)).collect();
        if !problems.is_empty() {
            return Err(problems);
        }
        let mut by_day: Vec<Vec<&Watering<'_>>> = vec![Vec::new(); self.days.len()];
        for watering in waterings {
            by_day[watering.day - 1].push(watering);
        }
        let mut states = CellStates::new(cells, self.start_mm);
        let mut irrigation_mm = vec![0.0; cells];
        states
            .blocks(BLOCK_CELLS)
            .into_par_iter()
            .zip(irrigation_mm.par_chunks_mut(BLOCK_CELLS))
            .enumerate()
            .for_each(|(number, (mut block, given_mm))| {
                pulp::Arch::new().dispatch(BlockRun {
                    season: self,
                    first_cell: number * BLOCK_CELLS,
                    block: &mut block,
                    given_mm,
                    by_day: &by_day,
                });
            });
        self.close(states, irrigation_mm)
    }

    /// All days of one block of cells; `given_mm` gathers its irrigation.
    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn run_block(
        &self,
        first_cell: usize,
        block: &mut CellBlock<'_>,
        given_mm: &mut [f64],
        by_day: &[Vec<&Watering<'_>>],
    ) {
        let cells = block.cells();
        let mut today_mm = [0.0; BLOCK_CELLS];
        let today_mm = &mut today_mm[..cells];
        for (day, waterings) in self.days.iter().zip(by_day) {
            let mut wet = false;
            for watering in waterings {
                let from = watering.first_cell.max(first_cell);
                let to = (watering.first_cell + watering.depth_mm.len()).min(first_cell + cells);
                if from >= to {
                    continue;
                }
                wet = true;
                let depths =
                    &watering.depth_mm[from - watering.first_cell..to - watering.first_cell];
                for (sum, depth) in today_mm[from - first_cell..].iter_mut().zip(depths) {
                    *sum += depth;
                }
            }
            block.step_inline(day, today_mm);
            if wet {
                given_mm.iter_mut().zip(today_mm.iter()).for_each(|(sum, depth)| *sum += depth);
                today_mm.fill(0.0);
            }
        }
    }

    /// Yields, totals and the check that no water is lost.
    fn close(
        &self,
        cells: CellStates,
        irrigation_mm: Vec<f64>,
    ) -> Result<FieldWater, Vec<WaterProblem>> {
        let n = cells.et_mm.len().max(1) as f64;
        let mean = |values: &[f64]| statistics::sum(values) / n;
        let rain_mm: f64 = self.days.iter().map(|day| day.rain_mm).sum();
        let rooted_mm: f64 = self.days.iter().map(|day| day.rooted_mm).sum();
        let fill_mm = rooted_mm + self.start_mm;
        let mut worst_mm = 0.0_f64;
        let mut sound = true;
        for (cell, given_mm) in irrigation_mm.iter().enumerate() {
            let brought_mm = rain_mm + given_mm + rooted_mm;
            let spent_mm = cells.et_mm[cell] + cells.percolation_mm[cell];
            let stored_mm = fill_mm - cells.depletion_mm[cell];
            let imbalance_mm = (brought_mm - (spent_mm + stored_mm)).abs();
            sound &= imbalance_mm <= WATER_TOLERANCE * brought_mm.max(1.0);
            worst_mm = worst_mm.max(imbalance_mm);
        }
        if !sound {
            return Err(vec![WaterProblem::WaterLost { imbalance_mm: worst_mm }]);
        }
        let yields = |&eta_mm: &f64| yield_fraction(self.yield_response, eta_mm, self.etm_mm);
        let totals = WaterTotals {
            rain_mm,
            irrigation_mm: mean(&irrigation_mm),
            rooted_mm,
            et_mm: mean(&cells.et_mm),
            percolation_mm: mean(&cells.percolation_mm),
            storage_change_mm: fill_mm - mean(&cells.depletion_mm),
        };
        Ok(FieldWater {
            yield_fraction: cells.et_mm.iter().map(yields).collect(),
            cells,
            irrigation_mm,
            totals,
            rain_percolation_mm: self.rain_percolation_mm(),
            worst_imbalance_mm: worst_mm,
        })
    }

    fn rain_percolation_mm(&self) -> f64 {
        let mut zone = self.at_planting();
        self.days.iter().map(|day| zone.step(day, 0.0).percolation_mm).sum()
    }
}

/// [`SeasonWater::run_block`] for whichever vectors the processor has.
struct BlockRun<'a, 'b> {
    season: &'a SeasonWater,
    first_cell: usize,
    block: &'a mut CellBlock<'b>,
    given_mm: &'a mut [f64],
    by_day: &'a [Vec<&'a Watering<'a>>],
}

impl pulp::WithSimd for BlockRun<'_, '_> {
    type Output = ();

    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn with_simd<S: pulp::Simd>(self, _: S) {
        self.season.run_block(self.first_cell, self.block, self.given_mm, self.by_day);
    }
}

#[cfg(test)]
#[path = "season_tests.rs"]
mod tests;
