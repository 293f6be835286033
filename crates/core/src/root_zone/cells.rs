//! The same balance for many cells at once: structure of arrays, no branches that depend on data.
//!
//! Gives the same bits as `RootZone::step` cell by cell (a test holds it),
//! on any vector width: each cell's sums run in day order and Rust never contracts to fused
//! multiply-add by itself.

use super::CropDay;

/// State and season sums of many cells.
#[derive(Clone, Debug, Default, PartialEq)]
#[expect(clippy::struct_field_names, reason = "the unit stands last in every name")]
pub(crate) struct CellStates {
    /// Depletion, mm.
    pub depletion_mm: Vec<f64>,
    /// Water used so far, ETc adj, mm.
    pub et_mm: Vec<f64>,
    /// Water lost below the roots so far, mm.
    pub percolation_mm: Vec<f64>,
}

impl CellStates {
    /// `cells` cells that start with the same depletion.
    pub(crate) fn new(cells: usize, depletion_mm: f64) -> Self {
        Self {
            depletion_mm: vec![depletion_mm; cells],
            et_mm: vec![0.0; cells],
            percolation_mm: vec![0.0; cells],
        }
    }

    /// One day with `irrigation_mm` of net irrigation on each cell.
    ///
    /// The caller gives one depth per cell; cells beyond the last depth are left as they were.
    pub(crate) fn step(&mut self, day: &CropDay, irrigation_mm: &[f64]) {
        pulp::Arch::new().dispatch(StepDay { cells: self, day, irrigation_mm });
    }
}

/// [`CellStates::step`] for whichever vectors the processor has.
struct StepDay<'a> {
    cells: &'a mut CellStates,
    day: &'a CropDay,
    irrigation_mm: &'a [f64],
}

impl pulp::WithSimd for StepDay<'_> {
    type Output = ();

    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn with_simd<S: pulp::Simd>(self, _: S) {
        let CellStates { depletion_mm, et_mm, percolation_mm } = self.cells;
        let depths_mm = self.irrigation_mm;
        step_cells(self.day, depths_mm, depletion_mm, et_mm, percolation_mm);
    }
}

/// [`RootZone::step`](super::RootZone::step) written as selections instead of branches, cell by cell
/// over slices that cannot overlap: a loop that compilers turn into vectors.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn step_cells(
    day: &CropDay,
    irrigation_mm: &[f64],
    depletion_mm: &mut [f64],
    et_mm: &mut [f64],
    percolation_mm: &mut [f64],
) {
    let &CropDay { etc_mm, rain_mm, taw_mm, raw_mm, stress_slope, .. } = day;
    let sums = et_mm.len().min(percolation_mm.len());
    let cells = irrigation_mm.len().min(depletion_mm.len()).min(sums);
    let irrigation_mm = &irrigation_mm[..cells];
    let depletion_mm = &mut depletion_mm[..cells];
    let et_mm = &mut et_mm[..cells];
    let percolation_mm = &mut percolation_mm[..cells];
    for i in 0..cells {
        let missing = depletion_mm[i] - (rain_mm + irrigation_mm[i]);
        let wet = if missing < 0.0 { 0.0 } else { missing };
        let over = if missing < 0.0 { -missing } else { 0.0 };
        let left = taw_mm - wet;
        let slope = left * stress_slope;
        let slope = if slope < 1.0 { slope } else { 1.0 };
        let ks = if wet > raw_mm { slope } else { 1.0 };
        let need = ks * etc_mm;
        let used = if need < left { need } else { left };
        depletion_mm[i] = wet + used;
        et_mm[i] += used;
        percolation_mm[i] += over;
    }
}

#[cfg(test)]
#[path = "cells_tests.rs"]
mod tests;
