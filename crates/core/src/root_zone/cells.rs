//! The same balance for many cells at once: structure of arrays, no branches that depend on data.
//!
//! Gives the same bits as [`RootZone::step`](super::RootZone::step) cell by cell (a test holds it),
//! on any vector width: each cell's sums run in day order and Rust never contracts to fused
//! multiply-add by itself.

use super::CropDay;

/// State and season sums of many cells.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CellStates {
    /// Depletion, mm.
    pub depletion_mm: Vec<f64>,
    /// Water used so far, ETc adj, mm.
    pub et_mm: Vec<f64>,
    /// Water lost below the roots so far, mm.
    pub percolation_mm: Vec<f64>,
    /// Days with Ks under 1 so far.
    pub stress_days: Vec<f64>,
}

/// A run of neighbouring cells of a [`CellStates`].
#[derive(Debug)]
pub struct CellBlock<'a> {
    depletion_mm: &'a mut [f64],
    et_mm: &'a mut [f64],
    percolation_mm: &'a mut [f64],
    stress_days: &'a mut [f64],
}

impl CellStates {
    /// `cells` cells that start with the same depletion.
    pub fn new(cells: usize, depletion_mm: f64) -> Self {
        Self {
            depletion_mm: vec![depletion_mm; cells],
            et_mm: vec![0.0; cells],
            percolation_mm: vec![0.0; cells],
            stress_days: vec![0.0; cells],
        }
    }

    /// All cells as one block.
    pub fn block(&mut self) -> CellBlock<'_> {
        CellBlock {
            depletion_mm: &mut self.depletion_mm,
            et_mm: &mut self.et_mm,
            percolation_mm: &mut self.percolation_mm,
            stress_days: &mut self.stress_days,
        }
    }

    /// Blocks of up to `cells` neighbouring cells, in order.
    pub fn blocks(&mut self, cells: usize) -> Vec<CellBlock<'_>> {
        let mut blocks = Vec::with_capacity(self.depletion_mm.len().div_ceil(cells.max(1)));
        let mut rest = self.block();
        while rest.cells() > 0 {
            let first = cells.max(1).min(rest.cells());
            let (block, behind) = rest.split_at(first);
            blocks.push(block);
            rest = behind;
        }
        blocks
    }
}

impl<'a> CellBlock<'a> {
    /// Number of cells.
    pub fn cells(&self) -> usize {
        self.depletion_mm.len()
    }

    fn split_at(self, cell: usize) -> (Self, Self) {
        let (depletion, depletion_behind) = self.depletion_mm.split_at_mut(cell);
        let (et, et_behind) = self.et_mm.split_at_mut(cell);
        let (percolation, percolation_behind) = self.percolation_mm.split_at_mut(cell);
        let (stress, stress_behind) = self.stress_days.split_at_mut(cell);
        let part = |depletion_mm, et_mm, percolation_mm, stress_days| CellBlock {
            depletion_mm,
            et_mm,
            percolation_mm,
            stress_days,
        };
        (
            part(depletion, et, percolation, stress),
            part(depletion_behind, et_behind, percolation_behind, stress_behind),
        )
    }

    /// One day with `irrigation_mm` of net irrigation on each cell.
    ///
    /// Cells beyond the end of `irrigation_mm` are left as they were; the caller gives one depth
    /// per cell.
    pub fn step(&mut self, day: &CropDay, irrigation_mm: &[f64]) {
        debug_assert_eq!(irrigation_mm.len(), self.cells());
        pulp::Arch::new().dispatch(|| self.step_inline(day, irrigation_mm));
    }

    /// One day without irrigation.
    pub fn step_dry(&mut self, day: &CropDay) {
        pulp::Arch::new().dispatch(|| self.step_dry_inline(day));
    }

    /// As [`Self::step`], for callers that are inside a dispatch already.
    #[inline(always)]
    pub(super) fn step_inline(&mut self, day: &CropDay, irrigation_mm: &[f64]) {
        let states = self.depletion_mm.iter_mut().zip(self.et_mm.iter_mut());
        let sums = self.percolation_mm.iter_mut().zip(self.stress_days.iter_mut());
        for (((depletion, et), (percolation, stress)), &irrigation) in
            states.zip(sums).zip(irrigation_mm)
        {
            step_cell(day, day.rain_mm + irrigation, depletion, et, percolation, stress);
        }
    }

    /// As [`Self::step_dry`], for callers that are inside a dispatch already.
    #[inline(always)]
    pub(super) fn step_dry_inline(&mut self, day: &CropDay) {
        let states = self.depletion_mm.iter_mut().zip(self.et_mm.iter_mut());
        let sums = self.percolation_mm.iter_mut().zip(self.stress_days.iter_mut());
        for ((depletion, et), (percolation, stress)) in states.zip(sums) {
            step_cell(day, day.rain_mm, depletion, et, percolation, stress);
        }
    }
}

/// [`RootZone::step`](super::RootZone::step) written as selections instead of branches.
#[inline(always)]
fn step_cell(
    day: &CropDay,
    water_mm: f64,
    depletion: &mut f64,
    et: &mut f64,
    percolation: &mut f64,
    stress: &mut f64,
) {
    let missing = *depletion - water_mm;
    let wet = if missing < 0.0 { 0.0 } else { missing };
    let over = if missing < 0.0 { -missing } else { 0.0 };
    let left = day.taw_mm - wet;
    let slope = left * day.stress_slope;
    let slope = if slope < 1.0 { slope } else { 1.0 };
    let ks = if wet > day.raw_mm { slope } else { 1.0 };
    let need = ks * day.etc_mm;
    let used = if need < left { need } else { left };
    *depletion = wet + used;
    *et += used;
    *percolation += over;
    *stress += if ks < 1.0 { 1.0 } else { 0.0 };
}

#[cfg(test)]
#[path = "cells_tests.rs"]
mod tests;
