//! What a sprinkler lays in an hour of one speed of wind, in the wind's own axes, and from it the pattern
//! on the field's cells for any direction of that wind.
//!
//! An upright sprinkler's water falls alike in every direction of the wind, turned with it. So the jets'
//! water is laid once a speed, down the wind and to one side of it (the other is its mirror image), on
//! nodes a quarter of a cell apart; a direction's pattern is read there at the centers of the field's
//! cells, in a small part of the time that laying it takes.
//!
//! **A lump is shared as the maker shares it.** There each cell takes of a lump by nearness along each
//! axis: a tent two cells wide. A tent two nodes wide (lumps laid on nodes by the same rule), added up over
//! seven nodes with weights 1, 2, 3, 4, 3, 2, 1 quarters, is that tent exactly. Its axes are the wind's here
//! and the field's there: turned, it keeps its water, its center and its variance of a sixth of a cell²
//! every way, and differs from the fourth moments on.
//!
//! **Reading between nodes** is linear, which spreads by f (1 − f) node² along each axis at a part f of the
//! way from one node to the next: a sixth in the mean. That much is taken off beforehand (weights −1, 14,
//! −1 twelfths), so what is left has no one sign and is 1/96 of a cell² at most.
//!
//! Source: tents add up to wider tents as linear B-splines do (de Boor 1978, A Practical Guide to Splines;
//! from memory, a test holds it). Neglected: the fourth moments.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::patterns::Pattern;
use super::scratch::{Scratch, split};
use libm::{ceil, cos, floor, sin};
use pulp::{Arch, Simd, WithSimd};
use std::ops::Range;

/// Nodes to a cell's side.
const TO_A_CELL: f64 = 4.0;
/// Weights of a node's own water and of that 1 to 4 nodes away: the tent of 4, 3, 2 and 1 quarters, drawn
/// together.
const WEIGHTS: [f64; 5] = [50.0 / 48.0, 36.0 / 48.0, 24.0 / 48.0, 12.0 / 48.0, -1.0 / 48.0];
/// Nodes on every side that water may be spread to, and one for reading.
const MARGIN: usize = WEIGHTS.len();

/// Lumps on their way to nodes.
pub(super) struct OwnWindLaying {
    nodes: Scratch,
    water: f64,
    moment: f64,
}

impl OwnWindLaying {
    /// For lumps that lie at most so many cells from the sprinkler.
    pub(super) fn new(reach_cells: f64) -> Self {
        let nodes = Scratch::new(reach_cells * TO_A_CELL + MARGIN as f64);
        Self { nodes, water: 0.0, moment: 0.0 }
    }

    /// Lays a lump so many cells down the wind and to its side, and as much at its mirror image.
    #[inline]
    pub(super) fn lay(&mut self, along: f64, cross: f64, volume: f64) {
        let center = self.nodes.center as f64;
        let (column, row) = (center + along * TO_A_CELL, center + cross.abs() * TO_A_CELL);
        self.nodes.lay(column, row, volume);
        self.water += volume;
        self.moment += volume * along;
    }

    pub(super) fn finish(self) -> OwnWind {
        let Self { nodes, water, moment } = self;
        let wet = |(row, volumes): (usize, &[f64])| {
            let is_wet = |volume: &f64| *volume != 0.0;
            let (first, last) =
                (volumes.iter().position(is_wet)?, volumes.iter().rposition(is_wet)?);
            Some(WetRow { row, first, last })
        };
        let wet: Vec<_> = nodes.rows_from_the_center().enumerate().filter_map(wet).collect();
        let first = wet.iter().map(|row| row.first).min().unwrap_or(nodes.center);
        let last = wet.iter().map(|row| row.last).max().unwrap_or(nodes.center);
        let rows = wet.last().map_or(0, |last| last.row + 1);
        // Below the axis lies what lies above it: mirrored rows come first, dry ones last.
        let columns = last + 1 - first + 2 * MARGIN;
        let mut cells = vec![0.0; (rows + 2 * MARGIN) * columns];
        for (k, row) in nodes.rows_from_the_center().take(rows).enumerate() {
            // On the axis a lump and its image meet.
            let factor = if k == 0 { 2.0 } else { 1.0 };
            let mirrored = (1..=MARGIN).contains(&k).then(|| MARGIN - k);
            for at in [Some(MARGIN + k), mirrored].into_iter().flatten() {
                let to = cells[at * columns + MARGIN..].iter_mut().zip(&row[first..=last]);
                to.for_each(|(to, volume)| *to = factor * volume);
            }
        }
        let rates = Arch::new().dispatch(Spreading { cells, columns });
        let center = nodes.center as f64 - first as f64 + MARGIN as f64;
        let from_center = |column: usize| column as f64 - nodes.center as f64;
        let span = |row: WetRow| (row.row as f64, [row.first, row.last].map(from_center));
        let spans = wet.into_iter().map(span).collect();
        OwnWind { center, columns, rates, spans, drift_cells: moment / water }
    }
}

/// A row of nodes from the sprinkler's on, and its first and last wet columns.
struct WetRow {
    row: usize,
    first: usize,
    last: usize,
}

/// Spreads water on nodes by the weights, along rows and across them.
struct Spreading {
    cells: Vec<f64>,
    columns: usize,
}

impl WithSimd for Spreading {
    type Output = Vec<f32>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Vec<f32> {
        // A row's end is followed by the next one's start; both are dry, so all rows are spread as one.
        let along = spread(&self.cells, 1, |rate| rate);
        spread(&along, self.columns, |rate| rate as f32)
    }
}

/// Spreads by the weights among nodes `apart`; those at the ends, which are dry or not read, stay empty.
#[inline(always)]
fn spread<T: Copy + Default>(cells: &[f64], apart: usize, told: impl Fn(f64) -> T) -> Vec<T> {
    let reach = WEIGHTS.len() - 1;
    let inside = cells.len() - 2 * reach * apart;
    let seen = |k: usize| &cells[k * apart..][..inside];
    let [far, third, second, first, own] = std::array::from_fn(seen);
    let [first_on, second_on, third_on, far_on] = std::array::from_fn(|k| seen(WEIGHTS.len() + k));
    let mut to = vec![T::default(); cells.len()];
    for (i, to) in to[reach * apart..][..inside].iter_mut().enumerate() {
        let near = WEIGHTS[0] * own[i] + WEIGHTS[1] * (first[i] + first_on[i]);
        let next = WEIGHTS[2] * (second[i] + second_on[i]) + WEIGHTS[3] * (third[i] + third_on[i]);
        *to = told(near + (next + WEIGHTS[4] * (far[i] + far_on[i])));
    }
    to
}

/// Rates in a wind that blows along the rows, by the water of a cell.
#[derive(Debug)]
pub(super) struct OwnWind {
    /// Column of the sprinkler, which may lie beyond those that are there; its row is `MARGIN`.
    center: f64,
    columns: usize,
    rates: Vec<f32>,
    /// Of each wet row its distance from the sprinkler's, and its first and last wet node before water was
    /// spread; nodes, from the sprinkler.
    spans: Vec<(f64, [f64; 2])>,
    /// How far the center of mass lies down the wind, cells.
    pub(super) drift_cells: f64,
}

impl OwnWind {
    /// Memory it takes, bytes.
    pub(super) fn bytes(&self) -> usize {
        size_of::<Self>() + size_of_val(self.rates.as_slice()) + size_of_val(self.spans.as_slice())
    }

    /// The pattern in this wind blowing to a direction, with the sprinkler on a cell's corner.
    pub(super) fn towards(&self, towards_rad: f64) -> Pattern {
        let (cos, sin) = (cos(towards_rad), sin(towards_rad));
        let (mut x, mut y) = (Span::NOTHING, Span::NOTHING);
        let reach = (WEIGHTS.len() - 1) as f64;
        for (v, [first, last]) in &self.spans {
            for v in [v + reach, -v - reach] {
                for u in [first - reach, last + reach] {
                    x.hold(u * cos - v * sin);
                    y.hold(u * sin + v * cos);
                }
            }
        }
        let (first_column, columns) = x.cells();
        let (first_row, rows) = y.cells();
        let reading = Reading { own: self, cos, sin, first_row, first_column, rows, columns };
        let rates = Arch::new().dispatch(reading);
        Pattern { first_row, first_column, columns, rates, drift_cells: self.drift_cells }
    }
}

/// From the lowest of some places to the highest, nodes.
struct Span(f64, f64);

impl Span {
    const NOTHING: Self = Self(f64::INFINITY, f64::NEG_INFINITY);

    fn hold(&mut self, place: f64) {
        *self = Self(self.0.min(place), self.1.max(place));
    }

    /// The first cell whose center lies within, and how many there are; at least one.
    fn cells(&self) -> (isize, usize) {
        let first = ceil(self.0 / TO_A_CELL - 0.5) as isize;
        let last = floor(self.1 / TO_A_CELL - 0.5) as isize;
        (first, (last - first).max(0) as usize + 1)
    }
}

/// Reads a block of the field's cells.
struct Reading<'a> {
    own: &'a OwnWind,
    cos: f64,
    sin: f64,
    first_row: isize,
    first_column: isize,
    rows: usize,
    columns: usize,
}

impl WithSimd for Reading<'_> {
    type Output = Vec<f32>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Vec<f32> {
        let OwnWind { center, columns: width, ref rates, .. } = *self.own;
        let last_u = width as f64 - 1.5;
        let last_v = (rates.len() / width) as f64 - 1.5;
        let mut found = vec![0.0; self.rows * self.columns];
        for (row, found) in found.chunks_exact_mut(self.columns).enumerate() {
            let y = TO_A_CELL * ((self.first_row + row as isize) as f64 + 0.5);
            let (u_0, v_0) = (center + y * self.sin, y * self.cos);
            let within = self.within((u_0, last_u), (v_0, last_v - MARGIN as f64));
            let first = self.first_column + within.start as isize;
            for (column, found) in found[within].iter_mut().enumerate() {
                let x = TO_A_CELL * ((first + column as isize) as f64 + 0.5);
                // Rounding may put a cell just beside the nodes.
                let u = (u_0 + x * self.cos).clamp(0.5, last_u);
                let v = ((v_0 - x * self.sin).abs() + MARGIN as f64).min(last_v);
                let ((j, right), (i, up)) = (split(u), split(v));
                let (right, up) = (right as f32, up as f32);
                let lower = &rates[i * width + j..][..2];
                let upper = &rates[(i + 1) * width + j..][..2];
                let lower = lower[0] + (lower[1] - lower[0]) * right;
                let upper = upper[0] + (upper[1] - upper[0]) * right;
                *found = (lower + (upper - lower) * up).max(0.0);
            }
        }
        found
    }
}

impl Reading<'_> {
    /// Columns of the block whose centers x have `u_0` + x cos from 0.5 to `last_u` and `v_0` − x sin from
    /// −`most_v` to `most_v`: those on the nodes.
    #[inline(always)]
    fn within(&self, (u_0, last_u): (f64, f64), (v_0, most_v): (f64, f64)) -> Range<usize> {
        let along = between((0.5 - u_0, last_u - u_0), self.cos);
        let across = between((v_0 - most_v, v_0 + most_v), self.sin);
        let column = |x: f64| x / TO_A_CELL - 0.5 - self.first_column as f64;
        let first = ceil(column(along.0.max(across.0)).max(0.0)) as usize;
        let last = floor(column(along.1.min(across.1)));
        let end = if last < 0.0 { 0 } else { (last as usize + 1).min(self.columns) };
        first.min(end)..end
    }
}

/// From where to where x times `factor` lies between two values.
fn between((low, high): (f64, f64), factor: f64) -> (f64, f64) {
    if factor.abs() < 1e-12 {
        // All or nothing, but for rounding, which is taken care of where cells are read.
        let is_within = low <= 0.0 && high >= 0.0;
        return if is_within { (f64::NEG_INFINITY, f64::INFINITY) } else { (1.0, -1.0) };
    }
    let ends = (low / factor, high / factor);
    if factor > 0.0 { ends } else { (ends.1, ends.0) }
}

#[cfg(test)]
#[path = "own_wind/tests.rs"]
mod tests;
