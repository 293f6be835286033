//! Parts of the field for which figures are taken.
//!
//! Without a boundary they are rectangles of cells. With one, the interior is what lies at least
//! the margin away from the boundary, hole or outer edge, in any direction; the edge strips follow
//! the field's edge column by column, so that they are the first ground that the lateral meets.

use super::Field;
use crate::boundary::Boundary;
use crate::grid::{DepthGrid, Window};
use crate::uniformity::{Uniformity, figures};
use ndarray::{Array2, CowArray, Ix2};

/// A part of the field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Region {
    /// A rectangle of cells.
    Window(Window),
    /// Cells counted row by row.
    Cells(Vec<usize>),
}

impl Region {
    /// The values of the region: a window as it lies, listed cells as one row.
    ///
    /// # Panics
    /// If the region is of another grid.
    pub fn of<'a>(&self, grid: &'a DepthGrid) -> CowArray<'a, f64, Ix2> {
        match self {
            Self::Window(window) => window.of(grid).into(),
            Self::Cells(cells) => {
                let columns = grid.ncols().max(1);
                let value =
                    |(_, at): (usize, usize)| grid[(cells[at] / columns, cells[at] % columns)];
                Array2::from_shape_fn((1, cells.len()), value).into()
            }
        }
    }

    /// Figures of the region; `None` where no water fell or no cell lies in it.
    pub fn figures(&self, depth_mm: &DepthGrid) -> Option<Uniformity> {
        figures(&self.of(depth_mm).view())
    }

    /// Number of cells.
    pub fn cells(&self) -> usize {
        match self {
            Self::Window(window) => window.cells(),
            Self::Cells(cells) => cells.len(),
        }
    }
}

impl Field {
    /// Every cell of the field.
    pub fn whole(&self) -> Region {
        self.part(|| self.grid.whole(), Boundary::whole)
    }

    /// The field less a margin of `margin_m` at every edge.
    pub fn interior(&self, margin_m: f64) -> Region {
        self.part(|| self.grid.inset(margin_m), |boundary| boundary.inset(&self.grid, margin_m))
    }

    /// The first strip in the way of travel, `depth_m` deep; the last one with `from_end`.
    pub fn edge_strip(&self, depth_m: f64, from_end: bool) -> Region {
        self.part(
            || self.grid.edge_strip(depth_m, from_end),
            |boundary| boundary.edge_strip(&self.grid, depth_m, from_end),
        )
    }

    fn part(
        &self,
        window: impl FnOnce() -> Window,
        cells: impl FnOnce(&Boundary) -> Vec<usize>,
    ) -> Region {
        match &self.boundary {
            None => Region::Window(window()),
            Some(boundary) => Region::Cells(cells(boundary)),
        }
    }

    /// Area of the field (of its cells), m².
    pub fn area_m2(&self) -> f64 {
        match &self.boundary {
            None => self.grid.area_m2(),
            Some(boundary) => self.grid.cell_area_m2() * boundary.cells() as f64,
        }
    }

    /// Sum over the cells of the grid that are not the field's, mm · cells.
    pub fn outside_sum(&self, depth_mm: &DepthGrid) -> f64 {
        self.boundary.as_ref().map_or(0.0, |boundary| boundary.sums(depth_mm).1)
    }

    /// Mean depth of each row of cells, the ends of the pipe (`margin_m` at each) left out where
    /// that leaves anything; `NaN` for a row without cells of the field.
    pub fn profile_mm(&self, margin_m: f64, depth_mm: &DepthGrid) -> Vec<f64> {
        let inner = self.grid.inset(margin_m).columns;
        let columns = if inner.is_empty() { 0..self.grid.cells_along } else { inner };
        let mean = |row: usize| {
            let inside =
                |column: &usize| self.boundary.as_ref().is_none_or(|b| b.inside()[(row, *column)]);
            let cells = columns.clone().filter(inside);
            let (sum, count) = cells.fold((0.0, 0_usize), |(sum, count), column| {
                (sum + depth_mm[(row, column)], count + 1)
            });
            sum / count as f64
        };
        (0..self.grid.cells_across).map(mean).collect()
    }
}
