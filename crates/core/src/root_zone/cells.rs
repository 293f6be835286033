//! The water balance of many cells at once: structure of arrays, no branches that depend on data.
//!
//! All cells go through the same days, so what happens between two waterings is one function for all
//! ([`super::lines`]); a cell keeps its depletion and what was lost below its roots. What the crop used
//! follows from the balance: use = depletion at the end less that at the start + all water that came
//! less all that was lost below the roots (new soil that roots reach is at field capacity and changes
//! no depletion).
//!
//! The same operations in the same order on any vector width; Rust never contracts to fused
//! multiply-add by itself.

use super::lines::{Course, Line, Stage};

/// Cells that are stepped at a time: they stay in registers, and neighbors are so much alike that
/// mostly one line or two are least for all of them.
const BLOCK: usize = 32;

/// State of many cells.
#[derive(Clone, Debug, Default, PartialEq)]
#[expect(clippy::struct_field_names, reason = "the unit stands last in every name")]
pub(crate) struct CellStates {
    /// Depletion, mm.
    pub(crate) depletion_mm: Vec<f64>,
    /// Water lost below the roots so far, mm.
    pub(crate) percolation_mm: Vec<f64>,
    /// Irrigation so far, mm.
    pub(crate) irrigation_mm: Vec<f64>,
}

impl CellStates {
    /// `cells` cells that start with the same depletion, in the room that is there.
    pub(crate) fn start(&mut self, cells: usize, depletion_mm: f64) {
        self.depletion_mm.clear();
        self.depletion_mm.resize(cells, depletion_mm);
        for list in [&mut self.percolation_mm, &mut self.irrigation_mm] {
            list.clear();
            list.resize(cells, 0.0);
        }
    }

    /// The days of `course`, on the first of which each cell gets its irrigation, mm; none where
    /// there is no list.
    pub(crate) fn go(&mut self, course: &Course, irrigation_mm: Option<&[f64]>) {
        let mut irrigation_mm = irrigation_mm;
        for stage in course.stages() {
            let step = Stepped { cells: self, irrigation_mm: irrigation_mm.take(), stage };
            pulp::Arch::new().dispatch(step);
        }
    }
}

/// One stage, for whichever vectors the processor has.
struct Stepped<'a> {
    cells: &'a mut CellStates,
    irrigation_mm: Option<&'a [f64]>,
    stage: &'a Stage,
}

impl pulp::WithSimd for Stepped<'_> {
    type Output = ();

    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn with_simd<S: pulp::Simd>(self, _: S) {
        let Self { cells, irrigation_mm, stage } = self;
        let rain_mm = stage.rain_mm;
        let (depletions, _) = cells.depletion_mm.as_chunks_mut::<BLOCK>();
        let (losses, _) = cells.percolation_mm.as_chunks_mut::<BLOCK>();
        let came = cells.irrigation_mm.as_chunks_mut::<BLOCK>();
        let whole = depletions.len() * BLOCK;
        if let Some(depths_mm) = irrigation_mm {
            let (depths, rest) = depths_mm.as_chunks::<BLOCK>();
            let came_and_comes = came.0.iter_mut().zip(depths);
            for ((x, lost), (came, depth_mm)) in
                depletions.iter_mut().zip(losses).zip(came_and_comes)
            {
                let (mut so_far, mut water) = (*came, [0.0; BLOCK]);
                for i in 0..BLOCK {
                    so_far[i] += depth_mm[i];
                    water[i] = rain_mm + depth_mm[i];
                }
                *came = so_far;
                step(x, lost, &water, stage);
            }
            came.1.iter_mut().zip(rest).for_each(|(came, depth_mm)| *came += depth_mm);
            step_rest(cells, whole, |at| rain_mm + rest[at], stage);
        } else {
            for (x, lost) in depletions.iter_mut().zip(losses) {
                step(x, lost, &[rain_mm; BLOCK], stage);
            }
            step_rest(cells, whole, |_| rain_mm, stage);
        }
    }
}

/// The cells beyond the last whole block.
fn step_rest(cells: &mut CellStates, from: usize, water_mm: impl Fn(usize) -> f64, stage: &Stage) {
    let rest = cells.depletion_mm[from..].iter_mut().zip(&mut cells.percolation_mm[from..]);
    for (at, (x, lost)) in rest.enumerate() {
        let (mut own, mut own_lost) = ([*x], [*lost]);
        step(&mut own, &mut own_lost, &[water_mm(at)], stage);
        (*x, *lost) = (own[0], own_lost[0]);
    }
}

/// Water comes, what is too much is lost, then the days of the stage draw.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn step<const N: usize>(x: &mut [f64; N], lost: &mut [f64; N], water: &[f64; N], stage: &Stage) {
    let (mut wet, mut lost_by_now) = ([0.0; N], *lost);
    for i in 0..N {
        let missing = x[i] - water[i];
        wet[i] = if missing < 0.0 { 0.0 } else { missing };
        lost_by_now[i] += wet[i] - missing;
    }
    *lost = lost_by_now;
    if stage.lines.len() <= FEW_LINES {
        *x = least_of(&stage.lines, &wet);
        return;
    }
    // Halved until one is left, by numbers that are known: so compilers make vectors of it.
    let (mut low, mut high) = (wet, wet);
    for half in [16, 8, 4, 2, 1] {
        if half < N {
            for i in 0..half {
                low[i] = if low[i + half] < low[i] { low[i + half] } else { low[i] };
                high[i] = if high[i + half] > high[i] { high[i + half] } else { high[i] };
            }
        }
    }
    *x = least_of(stage.between(low[0], high[0]), &wet);
}

/// So few lines are sooner tried all than those found that can be least.
const FEW_LINES: usize = 4;

/// The least of the lines in each cell.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn least_of<const N: usize>(lines: &[Line], wet: &[f64; N]) -> [f64; N] {
    let mut least = [f64::INFINITY; N];
    for line in lines {
        for i in 0..N {
            let drawn = line.rise * wet[i] + line.at_zero_mm;
            least[i] = if drawn < least[i] { drawn } else { least[i] };
        }
    }
    least
}

#[cfg(test)]
#[path = "cells_tests.rs"]
mod tests;
