//! Patterns of single winds, kept on cells, and their sum over a set.
//!
//! A pattern is laid with the sprinkler on a cell's corner. Mirrored about an axis of the grid, cell c
//! becomes −1 − c; transposed, rows become columns. Both are exact. Depths are kept as `f32`: a
//! relative 6e-8 a cell, and the sum of a set is brought to its water in `f64` at the end.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::footprint::Footprint;
use super::sub_cell::{MARGIN, Move, shift};
use super::wind_nodes::Octant;
use crate::statistics;
use ndarray::Array2;
use pulp::{Arch, Simd, WithSimd};
use std::cell::RefCell;
use std::ops::Range;
use std::sync::Arc;

/// What a sprinkler lays in an hour of one wind.
#[derive(Debug)]
pub(super) struct Pattern {
    pub(super) first_row: isize,
    pub(super) first_column: isize,
    /// At least one.
    pub(super) columns: usize,
    /// mm/h, row by row.
    pub(super) rates: Vec<f32>,
    /// How far its center of mass lies from the sprinkler, cells.
    pub(super) drift_cells: f64,
}

impl Pattern {
    /// The rates of a footprint.
    pub(super) fn of(footprint: &Footprint) -> Self {
        let Footprint { first_row, first_column, ref values } = *footprint;
        let (mut sum, mut moment) = (0.0, [0.0; 2]);
        for ((row, column), rate) in values.indexed_iter() {
            sum += rate;
            moment[0] += rate * ((first_row + row as isize) as f64 + 0.5);
            moment[1] += rate * ((first_column + column as isize) as f64 + 0.5);
        }
        let drift_cells = (moment[0] * moment[0] + moment[1] * moment[1]).sqrt() / sum;
        let rates = values.iter().map(|rate| *rate as f32).collect();
        // Even without water a row has a cell, so that it can be cut into rows.
        Self { first_row, first_column, columns: values.ncols().max(1), rates, drift_cells }
    }

    /// Memory it takes, bytes.
    pub(super) fn bytes(&self) -> usize {
        size_of::<Self>() + size_of_val(self.rates.as_slice())
    }
}

/// One slice's share of a set.
pub(super) struct Part {
    pub(super) pattern: Arc<Pattern>,
    pub(super) octant: Octant,
    pub(super) net_hours: f64,
}

impl Part {
    /// Rows and columns on which it lies, from the sprinkler's cell.
    fn spans(&self) -> [Range<isize>; 2] {
        let Pattern { first_row, first_column, columns, ref rates, .. } = *self.pattern;
        let rows = first_row..first_row + (rates.len() / columns) as isize;
        let columns = first_column..first_column + columns as isize;
        let (rows, columns) =
            if self.octant.transposed { (columns, rows) } else { (rows, columns) };
        let span = |cells: Range<isize>, is_mirrored: bool| {
            if is_mirrored { -cells.end..-cells.start } else { cells }
        };
        [span(rows, self.octant.mirrored_across), span(columns, self.octant.mirrored_along)]
    }
}

/// The sum of `parts`, added up once, then moved along rows and across them by each of `moves` and
/// brought to `net_mm` in all: a footprint each.
pub(super) fn sums(parts: &[Part], moves: &[[Move; 2]], net_mm: f64) -> Vec<Footprint> {
    if parts.is_empty() {
        let nothing = Footprint { first_row: 0, first_column: 0, values: Array2::zeros((0, 0)) };
        return vec![nothing; moves.len()];
    }
    let spans: Vec<[Range<isize>; 2]> = parts.iter().map(Part::spans).collect();
    let span = |axis: usize| {
        let start = spans.iter().map(|span| span[axis].start).min().unwrap_or(0);
        start..spans.iter().map(|span| span[axis].end).max().unwrap_or(0).max(start)
    };
    let (rows, columns) = (span(0), span(1));
    let reach = [-rows.start, rows.end, -columns.start, columns.end].into_iter().max();
    let center = reach.unwrap_or(0).max(0) as usize + MARGIN;
    // Moved by part of a cell, water can reach one more. What the weights lay farther out is not water.
    let wet = |span: &Range<isize>| {
        let first = (center as isize + span.start) as usize;
        first..first + (span.end - span.start) as usize + 1
    };
    let wet = [wet(&rows), wet(&columns)];
    let shape = (wet[0].len(), wet[1].len());
    let found = Arch::new().dispatch(Sum { parts, moves, center, wet, net_mm });
    let footprint = |(depths_mm, [along, across]): (Vec<f64>, &[Move; 2])| {
        let values = Array2::from_shape_vec(shape, depths_mm);
        let values = values.unwrap_or_else(|_| Array2::zeros((0, 0)));
        let (first_row, first_column) = (rows.start + across.cells, columns.start + along.cells);
        Footprint { first_row, first_column, values }
    };
    found.into_iter().zip(moves).map(footprint).collect()
}

thread_local! {
    /// Room for squares of cells, kept from set to set: a season has some hundreds, and the memory of
    /// each would be handed back and fetched again.
    static ROOM: RefCell<[Vec<f64>; 3]> = const { RefCell::new([Vec::new(), Vec::new(), Vec::new()]) };
}

/// Adds on a square of cells, the sprinkler's being (`center`, `center`). Compiled a second time for
/// wider vectors, as the overlay is: the same operations in the same order, so the same bits.
struct Sum<'a> {
    parts: &'a [Part],
    moves: &'a [[Move; 2]],
    center: usize,
    /// Rows and columns that are wanted.
    wet: [Range<usize>; 2],
    net_mm: f64,
}

impl WithSimd for Sum<'_> {
    /// The wanted cells, by each move.
    type Output = Vec<Vec<f64>>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Vec<Vec<f64>> {
        let width = 2 * self.center;
        ROOM.with_borrow_mut(|[cells, along, across]| {
            cells.clear();
            cells.resize(width * width, 0.0);
            if self.parts.iter().any(|part| part.octant.transposed) {
                // Those that lie transposed are added as they are, and turned all at once.
                self.add(true, cells);
                transpose(cells, width);
            }
            self.add(false, cells);
            let mut moved =
                |moves: &[Move; 2]| self.moved(cells, *moves, [&mut *along, &mut *across]);
            self.moves.iter().map(&mut moved).collect()
        })
    }
}

impl Sum<'_> {
    /// The cells that are wanted, moved, in mm.
    #[inline(always)]
    fn moved(
        &self,
        cells: &[f64],
        [along, across]: [Move; 2],
        room: [&mut Vec<f64>; 2],
    ) -> Vec<f64> {
        let width = 2 * self.center;
        let moved = shift(cells, width, (along, across), room);
        let mut depths_mm = Vec::with_capacity(self.wet[0].len() * self.wet[1].len());
        for row in self.wet[0].clone() {
            let row = &moved[row * width..(row + 1) * width];
            depths_mm.extend(row[self.wet[1].clone()].iter().map(|depth| depth.max(0.0)));
        }
        // Rounding and the rims that were cut off are made up for in proportion.
        let factor = self.net_mm / statistics::sum(&depths_mm);
        for depth in &mut depths_mm {
            *depth *= factor;
        }
        depths_mm
    }

    /// Adds the parts that lie transposed, as if they did not, or the others.
    #[inline(always)]
    fn add(&self, transposed: bool, cells: &mut [f64]) {
        let width = 2 * self.center;
        for part in self.parts.iter().filter(|part| part.octant.transposed == transposed) {
            let Part { pattern, octant, net_hours } = part;
            let (mut down, mut left) = (octant.mirrored_across, octant.mirrored_along);
            if transposed {
                (down, left) = (left, down);
            }
            let first_row = (self.center as isize + pattern.first_row) as usize;
            let first_column = (self.center as isize + pattern.first_column) as usize;
            for (i, rates) in pattern.rates.chunks_exact(pattern.columns).enumerate() {
                // Cells c and −1 − c are as far from the two ends of the square.
                let row = first_row + i;
                let row = if down { width - 1 - row } else { row };
                let row = &mut cells[row * width..(row + 1) * width];
                if left {
                    let end = width - first_column;
                    let row = &mut row[end - rates.len()..end];
                    add(row, rates.iter().rev(), *net_hours);
                } else {
                    let row = &mut row[first_column..first_column + rates.len()];
                    add(row, rates.iter(), *net_hours);
                }
            }
        }
    }
}

#[inline(always)]
fn add<'a>(to: &mut [f64], rates: impl Iterator<Item = &'a f32>, hours: f64) {
    for (to, rate) in to.iter_mut().zip(rates) {
        *to += hours * f64::from(*rate);
    }
}

/// Turns a square of cells about its diagonal, in blocks that stay in the cache.
#[inline(always)]
fn transpose(cells: &mut [f64], width: usize) {
    for i in 0..width {
        for j in 0..i {
            cells.swap(i * width + j, j * width + i);
        }
    }
}
