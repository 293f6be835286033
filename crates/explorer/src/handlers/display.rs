//! Grids as the page gets them: little-endian f32 on at most some hundred cells a side.

use crate::limits::{DISPLAY_BYTES, DISPLAY_SIDE};
use evenfall_core::boundary::Boundary;
use evenfall_core::grid::{DepthGrid, Grid};
use evenfall_core::model::Region;
use evenfall_core::season::AlternativeOutcome;
use evenfall_core::shown::{append_singles, shrunk, shrunk_inside};
use evenfall_core::statistics::Numbers;

/// Cells of the page: whole numbers of the run's own cells, averaged. The last row and column may
/// stand for fewer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Display {
    pub(crate) columns: usize,
    pub(crate) rows: usize,
    /// Own cells to a side of a shown one.
    pub(crate) factor: usize,
    /// Side of a shown cell, m.
    pub(crate) cell_m: f64,
}

impl Display {
    /// The finest display of `grid` of which `kept` grids may be kept.
    pub(crate) fn of(grid: &Grid, kept: usize) -> Self {
        let fits = |factor: &usize| {
            let Self { columns, rows, .. } = Self::by(grid, *factor);
            let bytes = kept.saturating_mul(4 * columns * rows);
            columns.max(rows) <= DISPLAY_SIDE && bytes <= DISPLAY_BYTES
        };
        let widest = grid.cells_along.max(grid.cells_across).max(1);
        Self::by(grid, (1..=widest).find(fits).unwrap_or(widest))
    }

    /// The display of `grid` on cells `factor` times as wide.
    pub(crate) fn by(grid: &Grid, factor: usize) -> Self {
        let factor = factor.max(1);
        Self {
            columns: grid.cells_along.div_ceil(factor),
            rows: grid.cells_across.div_ceil(factor),
            factor,
            cell_m: grid.cell_m * factor as f64,
        }
    }

    /// Means over the shown cells, row by row; of a field with a boundary over its own cells only,
    /// NaN where a shown cell holds none.
    pub(crate) fn shrink(&self, grid: &DepthGrid, boundary: Option<&Boundary>) -> Vec<f32> {
        match boundary {
            Some(boundary) => shrunk_inside(grid, boundary.inside(), self.factor),
            None => shrunk(grid, self.factor),
        }
    }

    /// How many of a region's own cells each shown cell of `grid` holds, row by row.
    pub(crate) fn count(&self, grid: &Grid, region: &Region) -> Vec<f32> {
        let mut counts = vec![0.0; self.rows * self.columns];
        let mut add = |row: usize, column: usize| {
            counts[row / self.factor * self.columns + column / self.factor] += 1.0;
        };
        match region {
            Region::Window(window) => {
                for row in window.rows.clone() {
                    window.columns.clone().for_each(|column| add(row, column));
                }
            }
            Region::Cells(runs) => {
                let along = grid.cells_along.max(1);
                for cell in runs.cells() {
                    add(cell / along, cell % along);
                }
            }
        }
        counts
    }
}

/// The depths of the field's own cells at the end of a season; `whole` is the field.
pub(crate) fn own_depths<'a>(whole: &Region, found: &'a AlternativeOutcome) -> Vec<Numbers<'a>> {
    whole.runs_of(found.season_depth_mm()).into_iter().map(Numbers::Double).collect()
}

/// The bytes of a grid for the page.
pub(crate) fn bytes(values: &[f32]) -> Vec<u8> {
    let mut bytes = Vec::new();
    append_singles(values, &mut bytes);
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::grid::DepthGrid;
    use evenfall_core::model::Field;

    #[test]
    fn closed_means_of_whole_and_cut_cells() {
        let grid = Grid { cells_along: 5, cells_across: 3, cell_m: 0.5 };
        let display = Display { columns: 3, rows: 2, factor: 2, cell_m: 1.0 };
        let values = DepthGrid::from_shape_fn((3, 5), |(row, column)| (5 * row + column) as f64);
        // Rows 0 1 2 3 4, 5 6 7 8 9, 10 11 12 13 14.
        assert_eq!(display.shrink(&values, None), [3.0, 5.0, 6.5, 10.5, 12.5, 14.0]);
        assert_eq!(Display::of(&grid, 1).shrink(&values, None).len(), 15);
    }

    #[test]
    fn closed_cells_of_a_region_are_counted_where_they_are_shown() {
        let grid = Grid { cells_along: 5, cells_across: 3, cell_m: 0.5 };
        let display = Display { columns: 3, rows: 2, factor: 2, cell_m: 1.0 };
        // The interior is the middle row less its ends: columns 1, 2 and 3.
        let field = Field { grid, travel_bearing_deg: 0.0, boundary: None };
        assert_eq!(display.count(&grid, &field.interior(0.5)), [1.0, 2.0, 0.0, 0.0, 0.0, 0.0]);
        // Columns 1 and 2 of rows 0 and 1.
        let ring = vec![[0.5, 0.0], [1.5, 0.0], [1.5, 1.0], [0.5, 1.0]];
        let field = Field { boundary: Boundary::new(vec![ring], &grid), ..field };
        assert_eq!(display.count(&grid, &field.whole()), [2.0, 2.0, 0.0, 0.0, 0.0, 0.0]);
    }

    #[test]
    fn closed_beyond_a_boundary_there_is_no_value() {
        let grid = Grid { cells_along: 4, cells_across: 2, cell_m: 1.0 };
        let display = Display { columns: 2, rows: 1, factor: 2, cell_m: 2.0 };
        let values = DepthGrid::from_shape_fn((2, 4), |(row, column)| (4 * row + column) as f64);
        // The lower left cell alone, and a field that ends left of the middle.
        let corner = vec![[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let Some(boundary) = Boundary::new(vec![corner], &grid) else { panic!("a cell is inside") };
        let shown = display.shrink(&values, Some(&boundary));
        assert!(shown[0] == 0.0 && shown[1].is_nan(), "{shown:?}");
    }

    #[test]
    fn closed_many_passes_are_kept_on_larger_cells() {
        let grid = Grid { cells_along: 660, cells_across: 600, cell_m: 0.6 };
        let few = Display::of(&grid, 36);
        assert_eq!((few.columns, few.rows, few.factor), (330, 300, 2));
        let many = Display::of(&grid, 2000);
        assert!(4 * many.columns * many.rows * 2000 <= DISPLAY_BYTES);
        assert!(many.factor > few.factor && (many.cell_m - 0.6 * many.factor as f64).abs() < 1e-12);
        // More passes than can be kept on any cells: one cell remains.
        assert_eq!(Display::of(&grid, usize::MAX / 8).columns, 1);
    }
}
