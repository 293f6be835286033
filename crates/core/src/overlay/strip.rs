//! One row of the field at a time: what one sprinkler, then all of them, lay on it.

use super::sets::{LaidSet, PipeOnGrid};
use super::spread::{Spread, Spreading};
use crate::grid::{DepthGrid, Grid};
use crate::statistics::{self, LANES};
use pulp::{Arch, Simd, WithSimd};
use rayon::prelude::*;
use std::ops::Range;

/// Rows that one thread takes at a time; fixed, so that sums never depend on the threads.
const ROWS_A_TASK: usize = 32;

/// What fills the strip of one row of the field.
pub(super) trait FillRow {
    /// Fills `strip.all`, if anything falls on `row`; whether anything does.
    fn fill<S: Simd>(&mut self, simd: S, strip: &mut Strip, row: usize) -> bool;

    /// Makes the field's row `to` what falls on `row`, if anything does; whether anything does.
    #[inline(always)]
    fn write<S: Simd>(&mut self, simd: S, strip: &mut Strip, row: usize, to: &mut [f64]) -> bool {
        let is_reached = self.fill(simd, strip, row);
        if is_reached {
            strip.write_to(to);
        }
        is_reached
    }
}

/// Row by row: `pass` becomes what `near` the rows of a task fills in and is added to `cumulative`;
/// gives the sum.
pub(super) fn lay_rows<F: FillRow>(
    grid: &Grid,
    strip: &Strip,
    near: impl Fn(Range<usize>) -> F + Sync,
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
            let source = near(first_row..first_row + ROWS_A_TASK);
            Arch::new().dispatch(Rows { strip, source, first_row, columns, pass, cumulative })
        })
        .collect();
    statistics::sum(&row_sums)
}

/// The columns that any footprint of a pass reaches, from the sprinkler's cell.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reach {
    first: isize,
    pub(super) cells: usize,
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
    fn with_simd<S: Simd>(mut self, simd: S) -> Vec<f64> {
        let mut sums = Vec::with_capacity(ROWS_A_TASK);
        let rows = self.pass.chunks_mut(self.columns).zip(self.cumulative.chunks_mut(self.columns));
        for (row, (pass, cumulative)) in (self.first_row..).zip(rows) {
            if self.source.fill(simd, &mut self.strip, row) {
                sums.push(self.strip.write(simd, pass, cumulative));
            } else {
                pass.fill(0.0);
            }
        }
        sums
    }
}

/// Scratch for one row of the field: what one sprinkler, then all of them, lay on it.
#[derive(Clone, Debug)]
pub(super) struct Strip {
    pub(super) pipe: PipeOnGrid,
    pub(super) reach: Reach,
    pub(super) one: Vec<f64>,
    /// What stands beyond the strip's length is room.
    pub(super) all: Vec<f64>,
    length: usize,
    /// How water is spread on its way, if it is.
    spreading: Option<Spreading>,
}

impl Strip {
    pub(super) fn new(pipe: PipeOnGrid, reach: Reach) -> Self {
        let cells = reach.cells + pipe.sprinklers.saturating_sub(1) * pipe.spacing_cells;
        let (one, all) = (vec![0.0; reach.cells], vec![0.0; cells]);
        Self { pipe, reach, one, all, length: cells, spreading: None }
    }

    /// The same with water spread on its way.
    pub(super) fn spread(pipe: PipeOnGrid, reach: Reach, by: &Spread) -> Self {
        let spreading = Spreading::new(by, reach.cells);
        let wider = spreading.reach();
        let (first, cells) = (reach.first - wider as isize, reach.cells + 2 * wider);
        Self { spreading: Some(spreading), ..Self::new(pipe, Reach { first, cells }) }
    }

    /// Whether water is spread on its way.
    pub(super) fn spreading(&mut self) -> Option<&mut Spreading> {
        self.spreading.as_mut()
    }

    /// Adds what lies at the ends of the row that [`Self::one_row`] added up.
    #[inline(always)]
    pub(super) fn add_ends(&mut self, portion: impl Fn(usize) -> f64) {
        let (pipe, first) = (self.pipe, self.reach.first);
        if let Some(spreading) = &mut self.spreading {
            spreading.add_ends(pipe, first, portion);
        }
    }

    /// Adds up what one sprinkler lays on `row` in all sets; whether any set reaches it.
    #[inline(always)]
    pub(super) fn one_row(&mut self, sets: &[LaidSet<'_>], row: usize) -> bool {
        if let Some(spreading) = &mut self.spreading {
            return spreading.one_row(sets, (row, self.reach.first), &mut self.one);
        }
        let mut is_reached = false;
        for set in sets {
            if let Some(depths) = set.on_row(row) {
                if !is_reached {
                    self.one.fill(0.0);
                }
                is_reached = true;
                let at = (set.first_column() - self.reach.first) as usize;
                add(&mut self.one[at..at + depths.len()], depths);
            }
        }
        is_reached
    }

    /// Writes the strip's row into the field's; returns the sum of what fell on it.
    #[inline(always)]
    fn write<S: Simd>(&self, simd: S, pass: &mut [f64], cumulative: &mut [f64]) -> f64 {
        let (depths, on_grid) = self.on_grid(pass.len());
        pass[..on_grid.start].fill(0.0);
        pass[on_grid.end..].fill(0.0);
        put(simd, &mut pass[on_grid.clone()], &mut cumulative[on_grid], depths)
    }

    /// Adds the strip's row to the field's.
    #[inline(always)]
    pub(super) fn add_to(&self, row: &mut [f64]) {
        let (depths, on_grid) = self.on_grid(row.len());
        add(&mut row[on_grid], depths);
        self.mend_ends(row);
    }

    /// Makes the field's row the strip's.
    #[inline(always)]
    fn write_to(&self, row: &mut [f64]) {
        let (depths, on_grid) = self.on_grid(row.len());
        row[..on_grid.start].fill(0.0);
        row[on_grid.end..].fill(0.0);
        row[on_grid].copy_from_slice(depths);
        self.mend_ends(row);
    }

    /// Puts the ends of the field's row right, where water is spread on its way.
    #[inline(always)]
    pub(super) fn mend_ends(&self, row: &mut [f64]) {
        if let Some(spreading) = &self.spreading {
            spreading.mend_ends(row);
        }
    }

    /// The column in which it begins.
    pub(super) fn start(&self) -> isize {
        self.pipe.first_column + self.reach.first
    }

    /// The part of the strip that lies on a row of `columns` cells, and where.
    #[inline(always)]
    fn on_grid(&self, columns: usize) -> (&[f64], Range<usize>) {
        let start = self.start();
        let skip = (-start).clamp(0, self.length as isize) as usize;
        let from = start.clamp(0, columns as isize) as usize;
        let cells = (self.length - skip).min(columns - from);
        (&self.all[skip..skip + cells], from..from + cells)
    }
}

/// Copies `depths` to `pass`, adds them to `cumulative` and gives their sum: in one run, because all
/// three wait for memory. The sum is taken in fixed lanes, so that no bit depends on the vectors.
#[inline(always)]
fn put<S: Simd>(simd: S, pass: &mut [f64], cumulative: &mut [f64], depths: &[f64]) -> f64 {
    let (to_pass, pass) = pass.as_chunks_mut::<LANES>();
    let (to_sum, cumulative) = cumulative.as_chunks_mut::<LANES>();
    let (blocks, depths) = depths.as_chunks::<LANES>();
    let mut sums = [simd.splat_f64s(0.0); LANES];
    for ((to_pass, to_sum), block) in to_pass.iter_mut().zip(to_sum).zip(blocks) {
        let (to_pass, _) = S::as_mut_simd_f64s(to_pass);
        let (to_sum, _) = S::as_mut_simd_f64s(to_sum);
        let (block, _) = S::as_simd_f64s(block);
        for lane in 0..LANES / S::F64_LANES {
            to_pass[lane] = block[lane];
            to_sum[lane] = simd.add_f64s(to_sum[lane], block[lane]);
            sums[lane] = simd.add_f64s(sums[lane], block[lane]);
        }
    }
    for ((pass, cumulative), depth) in pass.iter_mut().zip(cumulative).zip(depths) {
        *pass = *depth;
        *cumulative += depth;
    }
    let mut lanes = [0.0; LANES];
    S::as_mut_simd_f64s(&mut lanes).0.copy_from_slice(&sums[..LANES / S::F64_LANES]);
    depths.iter().fold(statistics::fold_lanes(lanes), |sum, depth| sum + depth)
}

#[inline(always)]
pub(super) fn add(to: &mut [f64], from: &[f64]) {
    for (to, from) in to.iter_mut().zip(from) {
        *to += from;
    }
}
