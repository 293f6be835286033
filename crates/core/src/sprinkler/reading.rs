//! The water of some hours at places about a sprinkler: read turned from what is laid once a speed of wind
//! (`own_wind`), and added up.
//!
//! Only places within the circle that holds an hour's water are read. Reading is linear between four nodes;
//! what that spreads was taken off before. Places are found as `f32`: to a thousandth of a node as far as eight
//! thousand nodes from the sprinkler, from which they are counted; sums are rounded in the seventh digit.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::own_wind::OwnWind;
use super::places::Places;
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
        let mut sums = vec![0.0_f32; window.rows.len() * width];
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
        (window, sums.into_iter().map(f64::from).collect())
    }
}

impl Hour<'_> {
    /// Adds what lies at places `step` cells apart along a row, from (x, y) cells from the sprinkler on.
    #[inline(always)]
    fn read_row(&self, (x, y): (f64, f64), step: f64, sums: &mut [f32]) {
        let OwnWind { to_a_cell, center, columns: width, ref rates, .. } = *self.own;
        let (cos, sin) = self.towards;
        let (last_u, last_v) = (width as f32 - 1.5, (rates.len() / width) as f32 - 1.5);
        let u_0 = (center.0 + to_a_cell * (x * cos + y * sin - self.farther_cells)) as f32;
        let v_0 = (to_a_cell * (y * cos - x * sin)) as f32;
        let (by_u, by_v) = ((to_a_cell * step * cos) as f32, (to_a_cell * step * sin) as f32);
        let (axis, net_hours) = (center.1 as f32, self.net_hours as f32);
        for (chunk, sums) in sums.chunks_mut(ABREAST).enumerate() {
            // Several places abreast: where each lies among the nodes, the nodes about it, its rate.
            let (mut nodes, mut parts) = ([0_u32; ABREAST], [[0.0_f32; ABREAST]; 2]);
            for at in 0..ABREAST {
                let place = (chunk * ABREAST + at) as f32;
                // Beyond the nodes that are there all is dry, as their outermost are.
                let u = (u_0 + place * by_u).max(0.5).min(last_u);
                let v = ((v_0 - place * by_v).abs() + axis).min(last_v);
                let ((j, right), (i, up)) = (split(u), split(v));
                nodes[at] = i * width as u32 + j;
                (parts[0][at], parts[1][at]) = (right, up);
            }
            let mut corners = [[0.0_f32; ABREAST]; 4];
            for (at, node) in nodes.iter().enumerate() {
                let node = *node as usize;
                let (lower, upper) = (&rates[node..][..2], &rates[node + width..][..2]);
                (corners[0][at], corners[1][at]) = (lower[0], lower[1]);
                (corners[2][at], corners[3][at]) = (upper[0], upper[1]);
            }
            let [a, b, c, d] = &corners;
            let mut found = [0.0_f32; ABREAST];
            for (at, found) in found.iter_mut().enumerate() {
                let (right, up) = (parts[0][at], parts[1][at]);
                let lower = a[at] + (b[at] - a[at]) * right;
                let upper = c[at] + (d[at] - c[at]) * right;
                *found = net_hours * (lower + (upper - lower) * up).max(0.0);
            }
            sums.iter_mut().zip(found).for_each(|(sum, found)| *sum += found);
        }
    }
}

/// From 2²³ on, numbers lie 1 apart, and their low bits count: adding rounds to a whole number.
const WHOLE: f32 = 8_388_608.0;

/// The whole number below a place, which is not below 0.5, and what is beyond it, 0 to 1; as
/// `super::scratch::split`.
#[inline(always)]
fn split(place: f32) -> (u32, f32) {
    let shifted = place - 0.5 + WHOLE;
    (shifted.to_bits() & 0x7f_ffff, place - (shifted - WHOLE))
}

/// Places that are read abreast.
const ABREAST: usize = 16;
