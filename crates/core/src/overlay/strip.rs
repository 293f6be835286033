//! One row of the field at a time: what one sprinkler, then all of them, lay on it.

use crate::grid::{DepthGrid, Grid};
use crate::sprinkler::footprint::Footprint;
use crate::statistics;
use pulp::{Arch, Simd, WithSimd};
use rayon::prelude::*;
use std::ops::Range;

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
    /// Columns from where the pass's pipe has its sprinklers to where this set has them: 0 but for the
    /// other side of a mainline.
    pub column: isize,
}

impl LaidSet<'_> {
    /// First column of the footprint, from the cell of the pass's sprinkler.
    pub(super) fn first_column(&self) -> isize {
        self.footprint.first_column + self.column
    }

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

/// What fills the strip of one row of the field.
pub(super) trait FillRow: Copy + Send + Sync {
    /// Fills the strip of `row`; whether anything reaches it (if not, the strip is left as it was).
    fn fill(&self, strip: &mut Strip, row: usize) -> bool;
}

/// Row by row: `pass` becomes what `source` fills in and is added to `cumulative`; gives the sum.
pub(super) fn lay_rows(
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

/// The columns that any footprint of a pass reaches, from the sprinkler's cell.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reach {
    first: isize,
    cells: usize,
}

impl Reach {
    pub(super) fn of<'a, 'b: 'a>(sets: impl Iterator<Item = &'a LaidSet<'b>>) -> Self {
        let columns = |set: &LaidSet<'_>| {
            let first = set.first_column();
            (first, first + set.footprint.values.ncols() as isize)
        };
        let widest =
            |one: (isize, isize), set: (isize, isize)| (one.0.min(set.0), one.1.max(set.1));
        let (first, end) = sets.map(columns).reduce(widest).unwrap_or((0, 0));
        Self { first, cells: (end - first) as usize }
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
            if !self.source.fill(&mut self.strip, row) {
                self.strip.all.fill(0.0);
            }
            sums.push(self.strip.write(pass, cumulative));
        }
        sums
    }
}

/// Scratch for one row of the field: what one sprinkler, then all of them, lay on it.
#[derive(Clone, Debug)]
pub(super) struct Strip {
    pub(super) pipe: PipeOnGrid,
    reach: Reach,
    pub(super) one: Vec<f64>,
    pub(super) all: Vec<f64>,
}

impl Strip {
    pub(super) fn new(pipe: PipeOnGrid, reach: Reach) -> Self {
        let cells = reach.cells + pipe.sprinklers.saturating_sub(1) * pipe.spacing_cells;
        Self { pipe, reach, one: vec![0.0; reach.cells], all: vec![0.0; cells] }
    }

    /// Adds up what one sprinkler lays on `row` in all sets; whether any set reaches it.
    #[inline(always)]
    pub(super) fn one_row(&mut self, sets: &[LaidSet<'_>], row: usize) -> bool {
        let mut is_reached = false;
        self.one.fill(0.0);
        for set in sets {
            if let Some(depths) = set.on_row(row) {
                is_reached = true;
                let at = (set.first_column() - self.reach.first) as usize;
                add(&mut self.one[at..at + depths.len()], depths);
            }
        }
        is_reached
    }

    /// Writes the strip's row into the field's; returns the sum of what fell on it.
    #[inline(always)]
    fn write(&self, pass: &mut [f64], cumulative: &mut [f64]) -> f64 {
        let (depths, on_grid) = self.on_grid(pass.len());
        pass[..on_grid.start].fill(0.0);
        pass[on_grid.end..].fill(0.0);
        put(&mut pass[on_grid.clone()], &mut cumulative[on_grid], depths);
        statistics::sum(depths)
    }

    /// Adds the strip's row to the field's.
    #[inline(always)]
    pub(super) fn add_to(&self, row: &mut [f64]) {
        let (depths, on_grid) = self.on_grid(row.len());
        add(&mut row[on_grid], depths);
    }

    /// The part of the strip that lies on a row of `columns` cells, and where.
    #[inline(always)]
    fn on_grid(&self, columns: usize) -> (&[f64], Range<usize>) {
        let start = self.pipe.first_column + self.reach.first;
        let skip = (-start).clamp(0, self.all.len() as isize) as usize;
        let from = start.clamp(0, columns as isize) as usize;
        let cells = (self.all.len() - skip).min(columns - from);
        (&self.all[skip..skip + cells], from..from + cells)
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
pub(super) fn add(to: &mut [f64], from: &[f64]) {
    for (to, from) in to.iter_mut().zip(from) {
        *to += from;
    }
}
