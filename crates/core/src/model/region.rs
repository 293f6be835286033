//! Parts of the field for which figures are taken.
//!
//! Without a boundary they are rectangles of cells. With one, the interior is what lies at least
//! the margin away from the boundary, hole or outer edge, in any direction; the edge strips follow
//! the field's edge column by column, so that they are the first ground that the lateral meets.

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
