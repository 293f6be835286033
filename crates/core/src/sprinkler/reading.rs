//! The water of some hours at places about a sprinkler: read turned from what is laid once a speed of wind
//! (`own_wind`), and added up.
//!
//! Only places within the circle that holds an hour's water are read. Reading is linear between four nodes;
//! what that spreads was taken off before.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::own_wind::OwnWind;
use super::places::Places;
use super::scratch::split;
use pulp::{Arch, Simd, WithSimd};
use std::ops::Range;

/// An hour of a wind near that of what is read: (cos, sin) of where it blows to, how many cells farther it
/// carries, and its net hours.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hour<'a> {
    pub(super) own: &'a OwnWind,
    pub(super) towards: (f64, f64),
    pub(super) farther_cells: f64,
    pub(super) net_hours: f64,
}

impl Hour<'_> {
    /// Middle of the circle that holds its water, and its radius, cells from the sprinkler.
    fn circle(&self) -> ([f64; 2], f64) {
        let (middle, radius) = self.own.circle;
        let to_a_cell = self.own.to_a_cell;
        let along = middle / to_a_cell + self.farther_cells;
        ([along * self.towards.0, along * self.towards.1], radius / to_a_cell)
    }
}

/// Rows and columns of places, counted from the sprinkler's.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Window {
    pub(super) rows: Range<isize>,
    pub(super) columns: Range<isize>,
}

/// Numbers of the places along an axis that lie from `low` to `high` cells from the sprinkler.
fn within(low: f64, high: f64, (every, stands): (usize, f64)) -> Range<isize> {
    let number = |cells: f64| (cells + stands) / every as f64 - 0.5;
    number(low).ceil() as isize..number(high).floor() as isize + 1
}

/// The water of some hours at places about the sprinkler: what is read, added up.
#[derive(Debug)]
pub(super) struct Reading<'a> {
    pub(super) hours: &'a [Hour<'a>],
    pub(super) places: &'a Places,
}

impl Reading<'_> {
    /// The window that holds all of it.
    fn window(&self) -> Window {
        let Places { columns, rows, along, across } = *self.places;
        let mut all = Window::default();
        for (at, hour) in self.hours.iter().enumerate() {
            let ([x, y], radius) = hour.circle();
            let own = [
                within(y - radius, y + radius, (rows, across)),
                within(x - radius, x + radius, (columns, along)),
            ];
            for (all, own) in [&mut all.rows, &mut all.columns].into_iter().zip(own) {
                *all = if at == 0 { own } else { all.start.min(own.start)..all.end.max(own.end) };
            }
        }
        all
    }

    /// The sums, and where they lie.
    pub(super) fn read(self) -> (Window, Vec<f64>) {
        Arch::new().dispatch(self)
    }
}

impl WithSimd for Reading<'_> {
    type Output = (Window, Vec<f64>);

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> (Window, Vec<f64>) {
        let window = self.window();
        let width = window.columns.len();
        let mut sums = vec![0.0; window.rows.len() * width];
        for hour in self.hours {
            let ([middle_x, middle_y], radius) = hour.circle();
            for (row, sums) in window.rows.clone().zip(sums.chunks_exact_mut(width.max(1))) {
                let Places { columns, rows, along, across } = *self.places;
                let y = rows as f64 * (row as f64 + 0.5) - across;
                let left = radius * radius - (y - middle_y) * (y - middle_y);
                if left <= 0.0 {
                    continue;
                }
                let half = left.sqrt();
                let wet = within(middle_x - half, middle_x + half, (columns, along));
                let first_x = columns as f64 * (wet.start as f64 + 0.5) - along;
                let skipped = (wet.start - window.columns.start).max(0) as usize;
                let sums = &mut sums[skipped..(skipped + wet.len()).min(width)];
                hour.read_row((first_x, y), columns as f64, sums);
            }
        }
        (window, sums)
    }
}

impl Hour<'_> {
    /// Adds what lies at places `step` cells apart along a row, from (x, y) cells from the sprinkler on.
    #[inline(always)]
    fn read_row(&self, (x, y): (f64, f64), step: f64, sums: &mut [f64]) {
        let OwnWind { to_a_cell, center, columns: width, ref rates, .. } = *self.own;
        let (cos, sin) = self.towards;
        let (last_u, last_v) = (width as f64 - 1.5, (rates.len() / width) as f64 - 1.5);
        let u_0 = center.0 + to_a_cell * (x * cos + y * sin - self.farther_cells);
        let v_0 = to_a_cell * (y * cos - x * sin);
        let (by_u, by_v) = (to_a_cell * step * cos, to_a_cell * step * sin);
        for (chunk, sums) in sums.chunks_mut(ABREAST).enumerate() {
            // Several places abreast: where each lies among the nodes, the nodes about it, its rate.
            let (mut nodes, mut parts) = ([0_usize; ABREAST], [[0.0_f32; 2]; ABREAST]);
            for (at, (node, part)) in nodes.iter_mut().zip(&mut parts).enumerate() {
                let place = (chunk * ABREAST + at) as f64;
                // Beyond the nodes that are there all is dry, as their outermost are.
                let u = (u_0 + place * by_u).clamp(0.5, last_u);
                let v = ((v_0 - place * by_v).abs() + center.1).min(last_v);
                let ((j, right), (i, up)) = (split(u), split(v));
                (*node, *part) = (i * width + j, [right as f32, up as f32]);
            }
            let mut corners = [[0.0_f32; ABREAST]; 4];
            for (at, node) in nodes.iter().enumerate() {
                let (lower, upper) = (&rates[*node..][..2], &rates[*node + width..][..2]);
                (corners[0][at], corners[1][at]) = (lower[0], lower[1]);
                (corners[2][at], corners[3][at]) = (upper[0], upper[1]);
            }
            let [a, b, c, d] = &corners;
            for (at, sum) in sums.iter_mut().enumerate() {
                let [right, up] = parts[at];
                let lower = a[at] + (b[at] - a[at]) * right;
                let upper = c[at] + (d[at] - c[at]) * right;
                *sum += self.net_hours * f64::from((lower + (upper - lower) * up).max(0.0));
            }
        }
    }
}

/// Places that are read abreast.
const ABREAST: usize = 8;
