//! The grid of square cells on which depths are laid.
//!
//! Row-major arrays `[row, column]`: column = x along the pipe, row = y across the field, row 0 at
//! y = 0. A cell value is the mean depth over the cell, placed at its center.

use ndarray::{Array2, ArrayView2, Axis, Slice};
use std::borrow::Cow;
use std::ops::Range;

/// Depths on the grid, mm; shape `[cells_across, cells_along]`.
pub type DepthGrid = Array2<f64>;

/// Means over blocks of `factor` × `factor` cells, those without a value (NaN) left out; the blocks of the last
/// row and column may hold fewer, and one without any value has none.
pub fn block_means(depth_mm: &ArrayView2<'_, f64>, factor: usize) -> Array2<f64> {
    let (rows, columns) = depth_mm.dim();
    let mut means = Array2::zeros((rows.div_ceil(factor), columns.div_ceil(factor)));
    // Of each column of a row of blocks.
    let (mut sums, mut counts) = (vec![0.0_f64; columns], vec![0.0_f64; columns]);
    for (number, mut means) in means.rows_mut().into_iter().enumerate() {
        sums.fill(0.0);
        counts.fill(0.0);
        for row in (number * factor..rows).take(factor) {
            let row = depth_mm.row(row);
            let row = row.as_slice().map_or_else(|| Cow::Owned(row.to_vec()), Cow::Borrowed);
            for ((sum, count), value) in sums.iter_mut().zip(&mut counts).zip(&*row) {
                let is_there = f64::from(u8::from(!value.is_nan()));
                *sum += if value.is_nan() { 0.0 } else { *value };
                *count += is_there;
            }
        }
        let blocks = sums.chunks(factor).zip(counts.chunks(factor));
        for (mean, (sums, counts)) in means.iter_mut().zip(blocks) {
            *mean = sums.iter().sum::<f64>() / counts.iter().sum::<f64>();
        }
    }
    means
}

/// A rectangle of equal square cells that covers the field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// Number of cells along the pipe (columns).
    pub cells_along: usize,
    /// Number of cells across the field (rows).
    pub cells_across: usize,
    /// Side of a cell, m.
    pub cell_m: f64,
}

impl Grid {
    /// A grid over `length_along_m` × `width_across_m`, trimmed to whole cells (nearest).
    pub fn over(length_along_m: f64, width_across_m: f64, cell_m: f64) -> Self {
        let cells = |length_m: f64| ((length_m / cell_m).round() as usize).max(1);
        Self { cells_along: cells(length_along_m), cells_across: cells(width_across_m), cell_m }
    }

    /// Length of the grid along the pipe, m.
    pub fn length_along_m(&self) -> f64 {
        self.cells_along as f64 * self.cell_m
    }

    /// Width of the grid across the field, m.
    pub fn width_across_m(&self) -> f64 {
        self.cells_across as f64 * self.cell_m
    }

    /// Area of one cell, m².
    pub fn cell_area_m2(&self) -> f64 {
        self.cell_m * self.cell_m
    }

    /// A grid of zeros.
    pub fn zeros(&self) -> DepthGrid {
        Array2::zeros((self.cells_across, self.cells_along))
    }

    /// The window of the whole grid.
    pub fn whole(&self) -> Window {
        Window { rows: 0..self.cells_across, columns: 0..self.cells_along }
    }

    /// The whole grid less a margin of `margin_m` at each of the four edges; empty where the
    /// margins meet.
    pub fn inset(&self, margin_m: f64) -> Window {
        let margin = (margin_m / self.cell_m).round() as usize;
        let shrink =
            |cells: usize| margin.min(cells)..cells.saturating_sub(margin).max(margin.min(cells));
        Window { rows: shrink(self.cells_across), columns: shrink(self.cells_along) }
    }

    /// The first (`from_end == false`) or last strip of rows, `depth_m` deep across the field.
    pub fn edge_strip(&self, depth_m: f64, from_end: bool) -> Window {
        let rows = ((depth_m / self.cell_m).round() as usize).clamp(1, self.cells_across);
        let rows = if from_end { self.cells_across - rows..self.cells_across } else { 0..rows };
        Window { rows, columns: 0..self.cells_along }
    }
}

/// A rectangle of cells: where figures are taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Window {
    /// Rows (across the field).
    pub rows: Range<usize>,
    /// Columns (along the pipe).
    pub columns: Range<usize>,
}

impl Window {
    /// The cells of `depth_mm` inside the window.
    ///
    /// # Panics
    /// If the window reaches outside the array.
    pub fn of<'a>(&self, depth_mm: &'a DepthGrid) -> ArrayView2<'a, f64> {
        // `slice_axis`, not the `s!` macro: that one expands to code the lint on unsafe refuses.
        let rows = depth_mm.slice_axis(Axis(0), Slice::from(self.rows.clone()));
        rows.slice_axis_move(Axis(1), Slice::from(self.columns.clone()))
    }

    /// Number of cells in the window.
    pub fn cells(&self) -> usize {
        self.rows.len() * self.columns.len()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ndarray::array;

    #[test]
    fn closed_means_over_blocks_leave_out_what_has_no_value() {
        let none = f64::NAN;
        let depth_mm = array![[1.0, 3.0, none], [5.0, none, none], [4.0, 8.0, 6.0]];
        let means = block_means(&depth_mm.view(), 2);
        assert_eq!((means[(0, 0)], means[(1, 0)], means[(1, 1)]), (3.0, 6.0, 6.0));
        assert!(means[(0, 1)].is_nan());
        // A view whose rows do not lie in a piece.
        assert_eq!(block_means(&depth_mm.t(), 2)[(0, 0)], 3.0);
    }
}
