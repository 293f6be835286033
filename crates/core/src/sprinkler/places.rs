//! Places about a sprinkler: one of every so many cells each way, where its water is wanted.
//!
//! A place lies in the middle of its ground, and what is taken there is the mean over one cell about it, of
//! water that was made wider where places lie more than a cell apart (`widening`).
//! Places are not areas: what a footprint has at its places, times the cells of their ground, is not quite
//! its water, so it is brought to its own water in one step. Where every cell is a place, places are cells.

use super::footprint::{Footprint, Phase};
use super::widening::{variance_cells2, widened};
use crate::statistics;
use ndarray::Array2;

/// Places about a sprinkler.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Places {
    /// Columns of cells to a place, and rows.
    pub(super) columns: usize,
    pub(super) rows: usize,
    /// Where the sprinkler stands on the ground of its place, cells from the low corner.
    pub(super) along: f64,
    pub(super) across: f64,
}

impl Places {
    /// For a sprinkler so many cells from the corner of a field of which one in so many columns and rows is
    /// a place; with the column and the row of the place on whose ground it stands.
    pub(crate) fn about(
        (columns, rows): (usize, usize),
        along: f64,
        across: f64,
    ) -> (isize, isize, Self) {
        let one = |cells: f64, every: usize| {
            // A place within a billionth of a cell of a border counts as on it, so that unit conversions
            // do not make phases differ.
            let cells = (cells * 1e9).round() / 1e9;
            let at = (cells / every as f64).floor();
            (at as isize, cells - at * every as f64)
        };
        let ((column, along), (row, across)) = (one(along, columns), one(across, rows));
        (column, row, Self { columns, rows, along, across })
    }

    /// Cells about a sprinkler that stands so in its own.
    #[cfg(test)]
    pub(super) fn cells_about(phase: Phase) -> Self {
        Self { columns: 1, rows: 1, along: phase.along, across: phase.across }
    }

    /// As bits, the same for the same.
    pub(crate) fn bits(&self) -> [u64; 4] {
        let Self { columns, rows, along, across } = self;
        [*columns as u64, *rows as u64, along.to_bits(), across.to_bits()]
    }

    /// How far apart they lie at the most, cells: so much their water is widened for.
    pub(super) fn apart(&self) -> usize {
        self.columns.max(self.rows)
    }

    /// Cells of the ground of a place.
    pub(super) fn cells(&self) -> f64 {
        (self.columns * self.rows) as f64
    }

    /// Where in a cell the sprinkler stands, so that places are the middles of cells.
    pub(crate) fn phase(&self) -> Phase {
        let [along, across] = self.middle_to_sprinkler().map(|cells| cells - cells.floor());
        Phase { along, across }
    }

    /// Cells from the low corner of the cell in the middle of its place to the sprinkler.
    fn middle_to_sprinkler(&self) -> [f64; 2] {
        let middle = |every: usize| 0.5 * (every - 1) as f64;
        [self.along - middle(self.columns), self.across - middle(self.rows)]
    }

    /// What a footprint of a sprinkler at this phase has at the places, its water widened.
    pub(crate) fn of(&self, on_cells: &Footprint) -> Footprint {
        if (self.columns, self.rows) == (1, 1) {
            return on_cells.clone();
        }
        let (values, wider) = widened(&on_cells.values, variance_cells2(self.apart()));
        let (all_rows, all_columns) = values.dim();
        let [along, across] =
            self.middle_to_sprinkler().map(|cells| cells.floor() as isize - wider as isize);
        let rows = Strided::new(on_cells.first_row + across, all_rows, self.rows);
        let columns = Strided::new(on_cells.first_column + along, all_columns, self.columns);
        let from = values.as_slice().unwrap_or(&[]);
        let mut depths = Vec::with_capacity(rows.count * columns.count);
        for row in 0..rows.count {
            let row = (rows.skipped + row * self.rows) * all_columns;
            let row = &from[row + columns.skipped..row + all_columns];
            depths.extend(row.iter().step_by(self.columns));
        }
        self.brought_to(statistics::sum(from), &mut depths);
        let values = Array2::from_shape_vec((rows.count, columns.count), depths);
        let values = values.unwrap_or_else(|_| Array2::zeros((0, 0)));
        Footprint { first_row: rows.first, first_column: columns.first, values }
    }

    /// Brings depths at the places to so much water in all, mm · cells.
    pub(super) fn brought_to(&self, water: f64, depths: &mut [f64]) {
        let factor = water / self.cells() / statistics::sum(depths);
        if factor.is_finite() {
            for depth in depths {
                *depth *= factor;
            }
        }
    }
}

/// Those of some cells side by side that are places.
struct Strided {
    /// The first, counted in places.
    first: isize,
    /// Cells before it.
    skipped: usize,
    count: usize,
}

impl Strided {
    /// Places i whose cell `every` · i is one of `cells` cells from `from` on.
    fn new(from: isize, cells: usize, every: usize) -> Self {
        let every = every as isize;
        let first = (from + every - 1).div_euclid(every);
        let end = (from + cells as isize - 1).div_euclid(every) + 1;
        let count = (end - first).max(0) as usize;
        Self { first, skipped: (first * every - from) as usize, count }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A hill of σ 4 cells on cells, the sprinkler standing at `phase`.
    fn hill(phase: Phase) -> Footprint {
        let depth = |x: f64, y: f64| (-(x * x + y * y) / 32.0).exp();
        let values = Array2::from_shape_fn((51, 47), |(row, column)| {
            depth(column as f64 - 22.5 - phase.along, row as f64 - 24.5 - phase.across)
        });
        Footprint { first_row: -25, first_column: -23, values }
    }

    #[test]
    fn closed_places_are_the_middles_of_their_ground_and_keep_the_water() {
        for (columns, rows) in [(1, 1), (2, 1), (1, 3), (3, 2), (4, 4)] {
            for (along, across) in [(90.0, 120.0), (91.1, 120.5), (92.75, 133.99), (-7.3, -0.2)] {
                let (column, row, places) = Places::about((columns, rows), along, across);
                let on_cells = hill(places.phase());
                let water: f64 = on_cells.values.sum();
                let variance = 16.0 + variance_cells2(columns.max(rows));
                let found = places.of(&on_cells);
                let kept = found.values.sum() * (columns * rows) as f64 / water;
                assert!((kept - 1.0).abs() < 1e-12, "{columns} {rows}: {kept}");
                for ((i, j), depth) in found.values.indexed_iter() {
                    let middle = |first: isize, at: usize| (first + at as isize) as f64 + 0.5;
                    let x = columns as f64 * middle(column + found.first_column, j) - along;
                    let y = rows as f64 * middle(row + found.first_row, i) - across;
                    let expected = 16.0 / variance * (-(x * x + y * y) / (2.0 * variance)).exp();
                    // Sharing among neighbors is no Gaussian: in the fourth moments it differs.
                    assert!((depth - expected).abs() < 2e-3, "{columns} {rows}: {x} {y} {depth}");
                }
                assert!(found.values.ncols() * columns >= 44);
                assert!(found.values.nrows() * rows >= 48);
            }
        }
    }

    #[test]
    fn closed_nothing_stays_nothing() {
        let nothing = Footprint { first_row: 0, first_column: 0, values: Array2::zeros((0, 0)) };
        let (_, _, places) = Places::about((3, 2), 10.2, 7.7);
        assert!(places.of(&nothing).values.iter().all(|depth| *depth == 0.0));
    }
}
