//! Parts of the field for which figures are taken.
//!
//! Without a boundary they are rectangles of cells. With one, the interior is what lies at least
//! the margin away from the boundary, hole or outer edge, in any direction; the edge strips follow
//! the field's edge column by column, so that they are the first ground that the lateral meets.

use crate::grid::{DepthGrid, Window};
use crate::uniformity::{Uniformity, figures, figures_of_rows};
use ndarray::{Array2, CowArray, Ix2};
use std::ops::Range;

/// A part of the field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Region {
    /// A rectangle of cells.
    Window(Window),
    /// Cells counted row by row.
    Cells(Runs),
}

/// Cells counted row by row, as runs of neighbors in one row: so they can be read where they lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Runs(Vec<Range<usize>>);

impl Runs {
    /// Those of `cells`, which rise, on a grid of so many columns.
    pub fn of(cells: &[usize], columns: usize) -> Self {
        let is_run =
            |one: &usize, next: &usize| *next == one + 1 && !next.is_multiple_of(columns.max(1));
        Self(cells.chunk_by(is_run).map(|run| run[0]..run[run.len() - 1] + 1).collect())
    }

    /// The runs, each a range of cells.
    pub fn runs(&self) -> &[Range<usize>] {
        &self.0
    }

    /// The cells one by one.
    pub fn cells(&self) -> impl Iterator<Item = usize> + '_ {
        self.0.iter().cloned().flatten()
    }
}

impl Region {
    /// The values of the region: a window as it lies, listed cells as one row.
    ///
    /// # Panics
    /// If the region is of another grid.
    pub fn of<'a>(&self, grid: &'a DepthGrid) -> CowArray<'a, f64, Ix2> {
        match self {
            Self::Window(window) => window.of(grid).into(),
            Self::Cells(runs) => {
                let depths = grid.as_standard_layout();
                let depths = depths.as_slice().unwrap_or_default();
                let mut values = Vec::with_capacity(self.cells());
                for run in runs.runs() {
                    values.extend_from_slice(&depths[run.clone()]);
                }
                let shape = (1, values.len());
                Array2::from_shape_vec(shape, values).unwrap_or_default().into()
            }
        }
    }

    /// The cells of the region as they lie in a grid in standard layout: a row of the window, or a run, each.
    ///
    /// # Panics
    /// If the region is of another grid.
    pub fn runs_of<'a>(&self, grid: &'a DepthGrid) -> Vec<&'a [f64]> {
        let depths = grid.as_slice().unwrap_or_default();
        match self {
            Self::Window(window) => {
                let row = |row: usize| row * grid.ncols();
                let columns = &window.columns;
                let rows = window.rows.clone().map(row);
                rows.map(|first| &depths[first + columns.start..first + columns.end]).collect()
            }
            Self::Cells(runs) => runs.runs().iter().map(|run| &depths[run.clone()]).collect(),
        }
    }

    /// Figures of the region; `None` where no water fell or no cell lies in it.
    ///
    /// # Panics
    /// If the region is of another grid.
    pub fn figures(&self, depth_mm: &DepthGrid) -> Option<Uniformity> {
        match (self, depth_mm.as_slice()) {
            (Self::Cells(runs), Some(depths)) => {
                let rows: Vec<&[f64]> =
                    runs.runs().iter().map(|run| &depths[run.clone()]).collect();
                figures_of_rows(&rows)
            }
            _ => figures(&self.of(depth_mm).view()),
        }
    }

    /// Number of cells.
    pub fn cells(&self) -> usize {
        match self {
            Self::Window(window) => window.cells(),
            Self::Cells(runs) => runs.runs().iter().map(ExactSizeIterator::len).sum(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_runs_end_with_the_row() {
        let runs = Runs::of(&[1, 2, 3, 4, 5, 9, 10], 4);
        assert_eq!(runs.runs(), [1..4, 4..6, 9..11]);
        assert_eq!(runs.cells().collect::<Vec<_>>(), [1, 2, 3, 4, 5, 9, 10]);
        let region = Region::Cells(runs);
        let grid = DepthGrid::from_shape_fn((3, 4), |(row, column)| (4 * row + column) as f64);
        assert_eq!(region.of(&grid).iter().copied().sum::<f64>(), 34.0);
        assert_eq!(region.figures(&grid).map(|found| found.mean_depth_mm), Some(34.0 / 7.0));
        // Read where they lie or gathered first: the same but for the order of the sums.
        let (lying, gathered) = (region.figures(&grid), region.figures(&turned(&grid)));
        let (lying, gathered) = (lying.unwrap(), gathered.unwrap());
        assert!((lying.cu - gathered.cu).abs() < 1e-14, "{lying:?} {gathered:?}");
        assert_eq!((lying.du_lq, lying.cells), (gathered.du_lq, gathered.cells));
    }

    /// The same depths, laid out column by column.
    fn turned(grid: &DepthGrid) -> DepthGrid {
        grid.t().as_standard_layout().into_owned().reversed_axes()
    }
}
