//! The overlay: from the footprints of a pass's sets to depths on the grid.
//!
//! depth(x, y) = Σ over sets i, Σ over sprinklers j of footprint(x − xⱼ, y − yᵢ).
//!
//! The sprinklers of a lateral stand a whole number of cells apart and lay the same footprint, so
//! the sum along the pipe is linear and shift-invariant. Two consequences make it fast, and both
//! are exact:
//! 1. the footprint rows of all sets that reach a row of the field are added *before* they are
//!    repeated along the pipe, so the repetition is done once a row instead of once a set;
//! 2. the repetition is a recursion, S(i) = S(i − p) + K(i), with p cells between sprinklers. It
//!    is run from the near end up to the last sprinkler and from the far end back to there, so that
//!    nothing is ever subtracted: no depth comes out negative and no digits are lost.
//!
//! Valid while all sprinklers of the lateral lay the same footprint; where they do not, see
//! [`lay_each`]. Water that falls outside the
//! grid is left out here; the mass balance of the season counts it.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

mod each;

pub use each::{NodeSets, lay_each, off_grid_each};

use crate::grid::{DepthGrid, Grid};
use crate::sprinkler::footprint::Footprint;
use crate::statistics;
use pulp::{Arch, Simd, WithSimd};
use rayon::prelude::*;

/// Where the sprinklers of a lateral stand on the grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PipeOnGrid {
    /// Column of the cell that holds the first sprinkler.
    pub first_column: isize,
    /// Cells from one sprinkler to the next.
    pub spacing_cells: usize,
    /// Number of sprinklers.
    pub sprinklers: usize,
}

/// One set laid on the grid.
#[derive(Clone, Copy, Debug)]
pub struct LaidSet<'a> {
    /// What one sprinkler lays down in the set, mm.
    pub footprint: &'a Footprint,
    /// Row of the cell that holds the lateral.
    pub row: isize,
}

impl LaidSet<'_> {
    /// The part of the footprint that falls on `row`, if any.
    fn on_row(&self, row: usize) -> Option<&[f64]> {
        let index = usize::try_from(row as isize - self.row - self.footprint.first_row).ok()?;
        let columns = self.footprint.values.ncols();
        let start = index * columns;
        self.footprint.values.as_slice()?.get(start..start + columns)
    }
}

/// Rows that one thread takes at a time; fixed, so that sums never depend on the threads.
const ROWS_A_TASK: usize = 32;

/// Lays `sets` down: `pass` becomes their depth and is added to `cumulative` (mm).
///
/// Returns the sum of the depths over all cells of the grid, mm · cells.
///
/// # Panics
/// If `pass` or `cumulative` is not of the grid's shape or not in standard layout.
pub fn lay(
    grid: &Grid,
    pipe: PipeOnGrid,
    sets: &[LaidSet<'_>],
    pass: &mut DepthGrid,
    cumulative: &mut DepthGrid,
) -> f64 {
    lay_rows(grid, &Strip::new(pipe, Reach::of(sets)), Alike(sets), pass, cumulative)
}

/// What fills the strip of one row of the field.
trait FillRow: Copy + Send + Sync {
    fn fill(&self, strip: &mut Strip, row: usize);
}

/// Sets whose sprinklers all lay the same.
#[derive(Clone, Copy)]
struct Alike<'a>(&'a [LaidSet<'a>]);

impl FillRow for Alike<'_> {
    #[inline(always)]
    fn fill(&self, strip: &mut Strip, row: usize) {
        strip.one_row(self.0, row);
        let PipeOnGrid { spacing_cells, sprinklers, .. } = strip.pipe;
        repeat_along_pipe(&strip.one, spacing_cells, sprinklers, &mut strip.all);
    }
}

/// Row by row: `pass` becomes what `source` fills in and is added to `cumulative`; gives the sum.
fn lay_rows(
    grid: &Grid,
    strip: &Strip,
    source: impl FillRow,
    pass: &mut DepthGrid,
    cumulative: &mut DepthGrid,
) -> f64 {
    let columns = grid.cells_along;
    let layout = "grids are in standard layout";
    let (pass, cumulative) = (
        pass.as_slice_mut().unwrap_or_else(|| panic!("{layout}")),
        cumulative.as_slice_mut().unwrap_or_else(|| panic!("{layout}")),
    );
    let row_sums: Vec<f64> = pass
        .par_chunks_mut(columns * ROWS_A_TASK)
        .zip(cumulative.par_chunks_mut(columns * ROWS_A_TASK))
        .enumerate()
        .flat_map_iter(|(task, (pass, cumulative))| {
            let (strip, first_row) = (strip.clone(), task * ROWS_A_TASK);
            Arch::new().dispatch(Rows { strip, source, first_row, columns, pass, cumulative })
        })
        .collect();
    statistics::sum(&row_sums)
}

/// What a set lays outside the grid, summed over cells, mm · cells. Counted by itself, from the
/// footprint's columns, so that it checks [`lay`] instead of following from it.
pub fn off_grid(grid: &Grid, pipe: PipeOnGrid, set: &LaidSet<'_>) -> f64 {
    let footprint = set.footprint;
    let on_grid = |at: isize, cells: usize| at >= 0 && at < cells as isize;
    let row_on =
        |row: usize| on_grid(set.row + footprint.first_row + row as isize, grid.cells_across);
    let mut outside = 0.0;
    let mut columns = vec![0.0; footprint.values.ncols()];
    for (row, depths) in footprint.values.rows().into_iter().enumerate() {
        if row_on(row) {
            depths.iter().zip(&mut columns).for_each(|(depth, column)| *column += depth);
        } else {
            outside += depths.sum() * pipe.sprinklers as f64;
        }
    }
    for sprinkler in 0..pipe.sprinklers {
        let first = pipe.first_column + (sprinkler * pipe.spacing_cells) as isize;
        let first = first + footprint.first_column;
        let beyond = |at: &usize| !on_grid(first + *at as isize, grid.cells_along);
        outside += (0..columns.len()).filter(beyond).map(|at| columns[at]).sum::<f64>();
    }
    outside
}

/// The columns that any footprint of a pass reaches, from the sprinkler's cell.
#[derive(Clone, Copy)]
struct Reach {
    first: isize,
    cells: usize,
}

impl Reach {
    fn of(sets: &[LaidSet<'_>]) -> Self {
        let first = sets.iter().map(|set| set.footprint.first_column).min().unwrap_or(0);
        let end = sets
            .iter()
            .map(|set| set.footprint.first_column + set.footprint.values.ncols() as isize)
            .max()
            .unwrap_or(0);
        Self { first, cells: (end - first).max(0) as usize }
    }
}

/// One task's rows. Compiled a second time for wider vectors and run so where the processor has
/// them: the same operations in the same order, so the same bits. What is called here has to be
/// inlined for that.
struct Rows<'a, F> {
    strip: Strip,
    source: F,
    first_row: usize,
    columns: usize,
    pass: &'a mut [f64],
    cumulative: &'a mut [f64],
}

impl<F: FillRow> WithSimd for Rows<'_, F> {
    /// The sum of each row's depths.
    type Output = Vec<f64>;

    #[inline(always)]
    fn with_simd<S: Simd>(mut self, _: S) -> Vec<f64> {
        let mut sums = Vec::with_capacity(ROWS_A_TASK);
        let rows = self.pass.chunks_mut(self.columns).zip(self.cumulative.chunks_mut(self.columns));
        for (row, (pass, cumulative)) in (self.first_row..).zip(rows) {
            self.source.fill(&mut self.strip, row);
            sums.push(self.strip.write(pass, cumulative));
        }
        sums
    }
}

/// Scratch for one row of the field: what one sprinkler, then all of them, lay on it.
#[derive(Clone)]
struct Strip {
    pipe: PipeOnGrid,
    reach: Reach,
    one: Vec<f64>,
    all: Vec<f64>,
}

impl Strip {
    fn new(pipe: PipeOnGrid, reach: Reach) -> Self {
        let cells = reach.cells + pipe.sprinklers.saturating_sub(1) * pipe.spacing_cells;
        Self { pipe, reach, one: vec![0.0; reach.cells], all: vec![0.0; cells] }
    }

    /// Adds up what one sprinkler lays on `row` in all sets.
    #[inline(always)]
    fn one_row(&mut self, sets: &[LaidSet<'_>], row: usize) {
        self.one.fill(0.0);
        for set in sets {
            if let Some(depths) = set.on_row(row) {
                let at = (set.footprint.first_column - self.reach.first) as usize;
                add(&mut self.one[at..at + depths.len()], depths);
            }
        }
    }

    /// Writes the strip's row into the field's; returns the sum of what fell on it.
    #[inline(always)]
    fn write(&self, pass: &mut [f64], cumulative: &mut [f64]) -> f64 {
        let start = self.pipe.first_column + self.reach.first;
        let skip = (-start).clamp(0, self.all.len() as isize) as usize;
        let from = start.clamp(0, pass.len() as isize) as usize;
        let cells = (self.all.len() - skip).min(pass.len() - from);
        let depths = &self.all[skip..skip + cells];
        pass[..from].fill(0.0);
        pass[from + cells..].fill(0.0);
        let on_grid = from..from + cells;
        put(&mut pass[on_grid.clone()], &mut cumulative[on_grid], depths);
        statistics::sum(depths)
    }
}

/// Copies `depths` to `pass` and adds them to `cumulative`: in one run, because both wait for
/// memory.
#[inline(always)]
fn put(pass: &mut [f64], cumulative: &mut [f64], depths: &[f64]) {
    for ((pass, cumulative), depth) in pass.iter_mut().zip(cumulative).zip(depths) {
        *pass = *depth;
        *cumulative += depth;
    }
}

#[inline(always)]
fn add(to: &mut [f64], from: &[f64]) {
    for (to, from) in to.iter_mut().zip(from) {
        *to += from;
    }
}

/// all(i) = Σ over j < n of one(i − j·p): `one` repeated `n` times, `p` cells apart.
#[inline(always)]
fn repeat_along_pipe(one: &[f64], p: usize, n: usize, all: &mut [f64]) {
    // The two recursions meet where the last sprinkler's own first p cells end; they cover
    // everything only if the line is longer than one footprint.
    if n * p + p < one.len() {
        all.fill(0.0);
        for start in (0..n).map(|sprinkler| sprinkler * p) {
            add(&mut all[start..start + one.len()], one);
        }
        return;
    }
    let meet = (n * p).min(all.len());
    let first = p.min(meet).min(one.len());
    all[..first].copy_from_slice(&one[..first]);
    all[first..p.min(meet)].fill(0.0);
    let mut at = p;
    while at < meet && at < one.len() {
        let cells = p.min(meet - at);
        let (done, rest) = all.split_at_mut(at);
        rest[..cells].copy_from_slice(&done[at - p..at - p + cells]);
        let cells = cells.min(one.len() - at);
        add(&mut rest[..cells], &one[at..at + cells]);
        at += p;
    }
    // From here on every p cells are the p before them: copied in runs that double.
    let period = at - p;
    while at < meet {
        let cells = (at - period).min(meet - at);
        all.copy_within(period..period + cells, at);
        at += cells;
    }
    let last = n.saturating_sub(1) * p;
    let mut end = all.len();
    while end > meet {
        let start = end.saturating_sub(p).max(meet);
        let (near, far) = all.split_at_mut(end);
        let rest = &mut near[start..];
        rest.copy_from_slice(&one[start - last..end - last]);
        let overlap = far.len().min(rest.len());
        if start + p < end + far.len() {
            let from = start + p - end;
            let cells = overlap.min(far.len() - from);
            add(&mut rest[..cells], &far[from..from + cells]);
        }
        end = start;
    }
}

#[cfg(test)]
#[path = "overlay_tests.rs"]
mod tests;
