//! Where a lateral stands on the grid, and what it lays there.

use crate::sprinkler::footprint::Footprint;
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
    pub(super) fn on_row(&self, row: usize) -> Option<&[f64]> {
        let index = usize::try_from(row as isize - self.row - self.footprint.first_row).ok()?;
        let columns = self.footprint.values.ncols();
        let start = index * columns;
        self.footprint.values.as_slice()?.get(start..start + columns)
    }

    /// Those of `rows` on which the footprint falls.
    pub(super) fn rows(&self, rows: &Range<usize>) -> Range<usize> {
        let first = self.row + self.footprint.first_row;
        let end = first + self.footprint.values.nrows() as isize;
        let start = (first.max(0) as usize).max(rows.start);
        start..(end.max(0) as usize).min(rows.end).max(start)
    }

    /// The footprint from one of the rows on which it falls, row by row.
    pub(super) fn cells_from(&self, row: usize) -> std::slice::ChunksExact<'_, f64> {
        let columns = self.footprint.values.ncols();
        let skipped = (row as isize - self.row - self.footprint.first_row) as usize * columns;
        let cells = self.footprint.values.as_slice().unwrap_or(&[]);
        cells.get(skipped..).unwrap_or(&[]).chunks_exact(columns.max(1))
    }
}

/// Those of `sets` of which any row falls on `rows`.
pub(super) fn near<'a>(sets: &[LaidSet<'a>], rows: &Range<usize>) -> Vec<LaidSet<'a>> {
    let is_near = |set: &&LaidSet<'_>| {
        let first = set.row + set.footprint.first_row;
        let end = first + set.footprint.values.nrows() as isize;
        first < rows.end as isize && end > rows.start as isize
    };
    sets.iter().filter(is_near).copied().collect()
}
