//! The scratch on which a set's water is collected, cell by cell, before it is cut out.
//!
//! A lump of water is shared among the four cells around it in proportion to nearness ("cloud in
//! cell", Birdsall & Fuss 1969, J. Comput. Phys. 3; from memory, confidence high): what goes in
//! comes out, and a field of close lumps comes out smooth. It widens a pattern by a variance of
//! cell²/12 each way beyond the mean over cells.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::footprint::Footprint;
use super::lumps::OnCells;
use ndarray::Array2;

/// A square of cells around the sprinkler.
pub(super) struct Scratch {
    cells: Vec<f64>,
    /// Water of a cell, of those to its right and above it, and of the one between these, not yet on the cells.
    fours: Vec<[f64; 4]>,
    pub(super) width: usize,
    /// Row and column of the cell that holds the sprinkler.
    pub(super) center: usize,
}

impl Scratch {
    /// Room for water up to `reach_cells` from the sprinkler.
    pub(super) fn new(reach_cells: f64) -> Self {
        let center = reach_cells.ceil() as usize + 2;
        let width = 2 * center + 2;
        Self { cells: vec![0.0; width * width], fours: Vec::new(), width, center }
    }

    /// Lay `volume` at (`column`, `row`), counted in cells with whole numbers at cell centers.
    #[inline]
    pub(super) fn lay(&mut self, column: f64, row: f64, volume: f64) {
        let ((j, right), (i, up)) = (split(column), split(row));
        let (upper, lower) = (volume * up, volume * (1.0 - up));
        let first = i * self.width + j;
        let pair = &mut self.cells[first..first + 2];
        pair[0] += lower * (1.0 - right);
        pair[1] += lower * right;
        let pair = &mut self.cells[first + self.width..first + self.width + 2];
        pair[0] += upper * (1.0 - right);
        pair[1] += upper * right;
    }

    /// Lays lumps and their mirror images; they come onto the cells with [`Self::settle`]. The four cells of a
    /// lump are kept as one until then: written pair by pair, pairs that overlap would wait for each other.
    #[inline(always)]
    pub(super) fn lay_all(&mut self, [one, other]: &[OnCells; 2]) {
        self.fours.resize(self.cells.len(), [0.0; 4]);
        let fours = self.fours.as_mut_slice();
        let sides = [one.slices(), other.slices()];
        for k in 0..one.first.len() {
            for (first, right, lower, upper) in sides {
                let (right, lower, upper) = (right[k], lower[k], upper[k]);
                let left = 1.0 - right;
                let four = &mut fours[first[k] as usize];
                *four = [
                    four[0] + lower * left,
                    four[1] + lower * right,
                    four[2] + upper * left,
                    four[3] + upper * right,
                ];
            }
        }
    }

    /// Brings onto the cells what was laid by fours.
    pub(super) fn settle(&mut self) {
        let width = self.width;
        let is_wet = |(_, four): &(usize, [f64; 4])| *four != [0.0; 4];
        for (first, four) in self.fours.drain(..).enumerate().filter(is_wet) {
            let cells = [first, first + 1, first + width, first + width + 1];
            for (cell, water) in cells.into_iter().zip(four) {
                self.cells[cell] += water;
            }
        }
    }

    /// The row of the cell that holds the sprinkler and all above it, each from the lowest column on.
    pub(super) fn rows_from_the_center(&self) -> impl Iterator<Item = &[f64]> {
        self.cells.chunks_exact(self.width).skip(self.center)
    }

    /// Fills the row of the cell that holds the sprinkler and all above it by row, counted from there, and
    /// column.
    pub(super) fn fill_from_the_center(&mut self, value: impl Fn(usize, usize) -> f64) {
        let rows = self.cells.chunks_exact_mut(self.width).skip(self.center);
        for (row, cells) in rows.enumerate() {
            cells.iter_mut().enumerate().for_each(|(column, to)| *to = value(row, column));
        }
    }

    /// Add a footprint times `factor`.
    pub(super) fn add(&mut self, footprint: &Footprint, factor: f64) {
        for ((row, column), value) in footprint.values.indexed_iter() {
            let i = (self.center as isize + footprint.first_row) as usize + row;
            let j = (self.center as isize + footprint.first_column) as usize + column;
            self.cells[i * self.width + j] += factor * value;
        }
    }

    /// The cells that hold water, each times `factor`.
    pub(super) fn cut_out(&self, factor: f64) -> Footprint {
        debug_assert!(self.fours.is_empty(), "water that is not on the cells yet");
        let (mut rows, mut columns) = ((usize::MAX, 0), (usize::MAX, 0));
        for (i, row) in self.cells.chunks_exact(self.width).enumerate() {
            let Some(first) = row.iter().position(|&cell| cell != 0.0) else { continue };
            let last = row.iter().rposition(|&cell| cell != 0.0).unwrap_or(first);
            rows = (rows.0.min(i), i);
            columns = (columns.0.min(first), columns.1.max(last));
        }
        if rows.0 == usize::MAX {
            return Footprint { first_row: 0, first_column: 0, values: Array2::zeros((0, 0)) };
        }
        let shape = (rows.1 + 1 - rows.0, columns.1 + 1 - columns.0);
        let values = Array2::from_shape_fn(shape, |(i, j)| {
            self.cells[(rows.0 + i) * self.width + columns.0 + j] * factor
        });
        let offset = |first: usize| first as isize - self.center as isize;
        Footprint { first_row: offset(rows.0), first_column: offset(columns.0), values }
    }
}

/// From 2⁵² on, numbers lie 1 apart, and their low bits count: adding rounds to a whole number.
pub(super) const WHOLE: f64 = 4_503_599_627_370_496.0;

/// The whole number below a place and what is beyond it, 0 to 1. The place is positive inside the
/// scratch. Half of all places that are whole belong to the number below, at 1 beyond it: the same water in
/// the same cells, and much faster than a conversion that looks at every case.
#[inline]
pub(super) fn split(place: f64) -> (usize, f64) {
    let shifted = place - 0.5 + WHOLE;
    ((shifted.to_bits() & 0xffff_ffff) as usize, place - (shifted - WHOLE))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_a_lump_is_shared_among_four_cells() {
        let mut scratch = Scratch::new(3.0);
        let at = scratch.center as f64;
        scratch.lay(at + 0.25, at - 0.5, 8.0);
        let found = scratch.cut_out(0.5);
        assert_eq!((found.first_row, found.first_column), (-1, 0));
        assert_eq!(found.values, ndarray::arr2(&[[1.5, 0.5], [1.5, 0.5]]));
        let mut twice = Scratch::new(3.0);
        twice.add(&found, 2.0);
        assert_eq!(twice.cut_out(0.5), found);
    }

    #[test]
    fn closed_nothing_laid_is_an_empty_footprint() {
        assert!(Scratch::new(1.0).cut_out(1.0).values.is_empty());
    }
}
