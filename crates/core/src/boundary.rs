//! The boundary of a field that is not the whole rectangle of its grid.
//!
//! A cell belongs to the field if its *center* lies inside: cells that the boundary cuts count
//! whole or not at all. Inside is told by crossings (even-odd rule), so that a ring within a ring
//! is a hole. The area is that of the cells, which differs from the polygon's by at most about half
//! a cell along the boundary, and mostly far less. Geometry only.
//!
//! Valid for rings that do not cross each other or themselves; the reader of the scenario sees to
//! that.

use crate::grid::{DepthGrid, Grid};
use crate::statistics::{LANES, fold_lanes};
use ndarray::Array2;

/// A corner of a ring: x along the pipe and y across it, m from the corner of the grid.
pub type Corner = [f64; 2];

/// Rings on a grid, and which cells lie inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Boundary {
    rings: Vec<Vec<Corner>>,
    inside: Array2<bool>,
    /// How many of them: asked for again and again, as every depth is one of the field.
    cells: usize,
}

impl Boundary {
    /// The boundary along `rings` (closed by themselves: the first corner need not come again) on
    /// `grid`; `None` if no cell's center lies inside.
    pub fn new(rings: Vec<Vec<Corner>>, grid: &Grid) -> Option<Self> {
        let mut inside = Array2::from_elem((grid.cells_across, grid.cells_along), false);
        for (row, mut cells) in inside.rows_mut().into_iter().enumerate() {
            let crossings = crossings(&rings, (row as f64 + 0.5) * grid.cell_m);
            for (column, cell) in cells.iter_mut().enumerate() {
                let x_m = (column as f64 + 0.5) * grid.cell_m;
                *cell = crossings.iter().filter(|&&at_m| at_m < x_m).count() % 2 == 1;
            }
        }
        let cells = inside.iter().filter(|cell| **cell).count();
        (cells > 0).then_some(Self { rings, inside, cells })
    }

    /// The rings.
    pub fn rings(&self) -> &[Vec<Corner>] {
        &self.rings
    }

    /// Which cells lie inside.
    pub fn inside(&self) -> &Array2<bool> {
        &self.inside
    }

    /// Number of cells inside.
    pub fn cells(&self) -> usize {
        self.cells
    }

    /// Sums of `depth_mm` over the cells inside and over those outside, mm · cells.
    pub fn sums(&self, depth_mm: &DepthGrid) -> (f64, f64) {
        let (mut inside, mut outside) = (0.0, 0.0);
        for (depths, cells) in depth_mm.rows().into_iter().zip(self.inside.rows()) {
            // Row by row, so that long sums keep their digits, and in lanes, so that it is fast.
            let mut lanes = [[0.0; LANES]; 2];
            for (at, (depth, is_inside)) in depths.iter().zip(cells).enumerate() {
                let (kept, left) = if *is_inside { (*depth, 0.0) } else { (0.0, *depth) };
                lanes[0][at % LANES] += kept;
                lanes[1][at % LANES] += left;
            }
            inside += fold_lanes(lanes[0]);
            outside += fold_lanes(lanes[1]);
        }
        (inside, outside)
    }

    /// The cells inside whose center is at least `margin_m` from every ring, counted row by row.
    pub(crate) fn inset(&self, grid: &Grid, margin_m: f64) -> Vec<usize> {
        let mut kept = self.inside.clone();
        for ring in &self.rings {
            for (at, from) in ring.iter().enumerate() {
                let to = ring[(at + 1) % ring.len()];
                drop_near(&mut kept, grid, (*from, to), margin_m);
            }
        }
        listed(&kept)
    }

    /// In each column the first cells of the field in the direction of travel, `depth_m` deep
    /// from the outermost one; the last ones with `from_end`.
    pub(crate) fn edge_strip(&self, grid: &Grid, depth_m: f64, from_end: bool) -> Vec<usize> {
        let deep = ((depth_m / grid.cell_m).round() as usize).max(1);
        let mut kept = Array2::from_elem(self.inside.raw_dim(), false);
        for (cells, mut kept) in self.inside.columns().into_iter().zip(kept.columns_mut()) {
            let count = cells.len();
            let row_at = |step: usize| if from_end { count - 1 - step } else { step };
            let Some(first) = (0..count).find(|step| cells[row_at(*step)]) else { continue };
            for row in (first..(first + deep).min(count)).map(row_at) {
                kept[row] = cells[row];
            }
        }
        listed(&kept)
    }

    /// The cells inside, counted row by row.
    pub(crate) fn whole(&self) -> Vec<usize> {
        listed(&self.inside)
    }
}

fn listed(cells: &Array2<bool>) -> Vec<usize> {
    cells.iter().enumerate().filter(|(_, inside)| **inside).map(|(at, _)| at).collect()
}

/// Where the level line at `y_m` crosses the rings, m.
fn crossings(rings: &[Vec<Corner>], y_m: f64) -> Vec<f64> {
    let mut found = Vec::new();
    for ring in rings {
        for (at, [x_m, from_m]) in ring.iter().enumerate() {
            let [next_m, to_m] = ring[(at + 1) % ring.len()];
            // Half open, so that a corner on the line is crossed once.
            if (*from_m > y_m) != (to_m > y_m) {
                found.push(x_m + (y_m - from_m) / (to_m - from_m) * (next_m - x_m));
            }
        }
    }
    found
}

/// Takes the cells out whose center is nearer than `margin_m` to a side of a ring.
fn drop_near(kept: &mut Array2<bool>, grid: &Grid, (from, to): (Corner, Corner), margin_m: f64) {
    let span = |axis: usize, cells: usize| {
        let (low_m, high_m) = (from[axis].min(to[axis]), from[axis].max(to[axis]));
        let cell = |at_m: f64| (at_m / grid.cell_m).clamp(0.0, cells as f64);
        cell(low_m - margin_m).floor() as usize..cell(high_m + margin_m).ceil() as usize
    };
    let (rows, columns) = (span(1, grid.cells_across), span(0, grid.cells_along));
    // A center at just the margin stays, in spite of rounding.
    let near_m2 = (margin_m * (1.0 - 1e-9)).powi(2);
    for row in rows {
        for column in columns.clone() {
            let center = [(column as f64 + 0.5) * grid.cell_m, (row as f64 + 0.5) * grid.cell_m];
            if kept[(row, column)] && distance_m2(center, from, to) < near_m2 {
                kept[(row, column)] = false;
            }
        }
    }
}

/// Square of the distance of a point from a side, m².
fn distance_m2([x, y]: Corner, [x0, y0]: Corner, [x1, y1]: Corner) -> f64 {
    let (along, across) = (x1 - x0, y1 - y0);
    let length2 = along * along + across * across;
    let share = ((x - x0) * along + (y - y0) * across) / length2;
    let share = if length2 > 0.0 { share.clamp(0.0, 1.0) } else { 0.0 };
    (x - x0 - share * along).powi(2) + (y - y0 - share * across).powi(2)
}

#[cfg(test)]
mod tests {
    use super::*;

    const GRID: Grid = Grid { cells_along: 20, cells_across: 10, cell_m: 0.5 };

    fn rectangle([x0, y0]: Corner, [x1, y1]: Corner) -> Vec<Corner> {
        vec![[x0, y0], [x1, y0], [x1, y1], [x0, y1]]
    }

    #[test]
    fn closed_cells_count_by_their_centers() {
        // From x 0 to 5 of 10 m with half a meter more: 10 of 20 columns; the 11th is cut at its
        // center's near side and counts from there on.
        let cells = |to_m: f64| {
            Boundary::new(vec![rectangle([0.0, 0.0], [to_m, 5.0])], &GRID).unwrap().cells()
        };
        assert_eq!([cells(5.0), cells(5.24), cells(5.26), cells(5.5)], [100, 100, 110, 110]);
        let nowhere = rectangle([1.01, 1.01], [1.2, 1.2]);
        assert_eq!(Boundary::new(vec![nowhere], &GRID), None);
    }

    #[test]
    fn closed_a_triangle_and_a_hole() {
        // Half of the square of 10 × 10 cells, less the diagonal: 0 + 1 + … + 9 cells.
        let triangle = vec![[0.0, 0.0], [5.0, 0.0], [5.0, 5.0]];
        let below = Boundary::new(vec![triangle], &GRID).unwrap().cells();
        assert!((45..=55).contains(&below), "{below}");
        let whole = rectangle([0.0, 0.0], [10.0, 5.0]);
        let hole = rectangle([2.0, 1.0], [4.0, 2.0]);
        let found = Boundary::new(vec![whole, hole], &GRID).unwrap();
        assert_eq!(found.cells(), 200 - 8);
        assert!(!found.inside()[(2, 4)] && found.inside()[(4, 4)]);
        let depth_mm = GRID.zeros() + 2.0;
        assert_eq!(found.sums(&depth_mm), (384.0, 16.0));
    }

    #[test]
    fn reference_a_boundary_round_the_whole_grid_is_the_grid() {
        let found = Boundary::new(vec![rectangle([0.0, 0.0], [10.0, 5.0])], &GRID).unwrap();
        let of_window = |window: crate::grid::Window| -> Vec<usize> {
            let rows = window.rows;
            rows.flat_map(|row| window.columns.clone().map(move |column| row * 20 + column))
                .collect()
        };
        assert_eq!(found.whole(), of_window(GRID.whole()));
        for margin_m in [0.5, 1.0, 1.5, 2.0] {
            assert_eq!(found.inset(&GRID, margin_m), of_window(GRID.inset(margin_m)));
            for from_end in [false, true] {
                let strip = found.edge_strip(&GRID, margin_m, from_end);
                assert_eq!(strip, of_window(GRID.edge_strip(margin_m, from_end)));
            }
        }
        assert!(found.inset(&GRID, 3.0).is_empty());
    }

    #[test]
    fn closed_the_strip_follows_the_edge() {
        // A step: the right half of the field begins 2 m later.
        let step = vec![[0.0, 0.0], [5.0, 0.0], [5.0, 2.0], [10.0, 2.0], [10.0, 5.0], [0.0, 5.0]];
        let found = Boundary::new(vec![step], &GRID).unwrap();
        let strip = found.edge_strip(&GRID, 1.0, false);
        let columns = |row: usize| strip.iter().filter(|at| **at / 20 == row).count();
        assert_eq!([0, 1, 2, 3, 4, 5, 6].map(columns), [10, 10, 0, 0, 10, 10, 0]);
    }
}
