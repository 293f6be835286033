//! The water of some hours at places about a sprinkler: read turned from what is laid once a speed of wind
//! (`own_wind`), and added up.
//!
//! Only places within the circle that holds an hour's water are read. Reading is linear between four nodes;
//! what that spreads was taken off before. Places are found as `f32`: to a thousandth of a node as far as eight
//! thousand nodes from the sprinkler, from which they are counted; sums are rounded in the seventh digit.
//! Sixteen places are read abreast. The numbers that tell them apart are a list, and what is no number is not
//! asked for: either would cost compilers' vectors as much as all the rest.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::own_wind::OwnWind;
use super::places::Places;
use pulp::{Arch, Simd, WithSimd};
use std::ops::Range;
use std::sync::Arc;

/// An hour of a wind near that of what is read: (cos, sin) of where it blows to, how many cells farther it
/// carries, and its net hours.
#[derive(Clone, Debug)]
pub(super) struct Hour {
    pub(super) own: Arc<OwnWind>,
    pub(super) towards: (f64, f64),
    pub(super) farther_cells: f64,
    pub(super) net_hours: f64,
}

impl Hour {
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

/// The water of some hours at places about the sprinkler, while it is added up.
#[derive(Debug)]
pub(super) struct Reading<'a> {
    places: &'a Places,
    window: Window,
    sums: Vec<f32>,
}

impl<'a> Reading<'a> {
    /// Room for all water of `hours`.
    pub(super) fn of(hours: &[Hour], places: &'a Places) -> Self {
        let Places { columns, rows, along, across } = *places;
        let mut window = Window::default();
        for (at, hour) in hours.iter().enumerate() {
            let ([x, y], radius) = hour.circle();
            let own = [
                within(y - radius, y + radius, (rows, across)),
                within(x - radius, x + radius, (columns, along)),
            ];
            for (all, own) in [&mut window.rows, &mut window.columns].into_iter().zip(own) {
                *all = if at == 0 { own } else { all.start.min(own.start)..all.end.max(own.end) };
            }
        }
        let sums = vec![0.0; window.rows.len() * window.columns.len()];
        Self { places, window, sums }
    }

    /// Adds the water of one of them.
    pub(super) fn add(&mut self, hour: &Hour) {
        Arch::new().dispatch(Adding { reading: self, hour });
    }

    /// The sums, and where they lie.
    pub(super) fn finish(self) -> (Window, Vec<f64>) {
        (self.window, self.sums.into_iter().map(f64::from).collect())
    }
}

/// An hour to be added, as work that is compiled a second time for wider vectors.
struct Adding<'a, 'b> {
    reading: &'a mut Reading<'b>,
    hour: &'a Hour,
}

impl WithSimd for Adding<'_, '_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let Self { reading: Reading { places, window, sums }, hour } = self;
        let Places { columns, rows, along, across } = **places;
        let ([middle_x, middle_y], radius) = hour.circle();
        let width = window.columns.len();
        for (row, sums) in window.rows.clone().zip(sums.chunks_exact_mut(width.max(1))) {
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
}

impl Hour {
    /// Adds what lies at places `step` cells apart along a row, from (x, y) cells from the sprinkler on.
    #[inline(always)]
    fn read_row(&self, (x, y): (f64, f64), step: f64, sums: &mut [f32]) {
        let OwnWind { to_a_cell, center, columns: width, ref rates, step: rate, .. } = *self.own;
        let (cos, sin) = self.towards;
        let (last_u, last_v) = (width as f32 - 1.5, (rates.len() / width) as f32 - 1.5);
        let u_0 = (center.0 + to_a_cell * (x * cos + y * sin - self.farther_cells)) as f32;
        let v_0 = (to_a_cell * (y * cos - x * sin)) as f32;
        let (by_u, by_v) = ((to_a_cell * step * cos) as f32, (to_a_cell * step * sin) as f32);
        let (axis, net_hours) = (center.1 as f32, (rate * self.net_hours) as f32);
        for (chunk, sums) in sums.chunks_mut(ABREAST).enumerate() {
            // Several places abreast: where each lies among the nodes, the nodes about it, its rate.
            let (mut nodes, mut parts) = ([0_u32; ABREAST], [[0.0_f32; ABREAST]; 2]);
            let done = (chunk * ABREAST) as f32;
            let (u_0, v_0) = (u_0 + done * by_u, v_0 - done * by_v);
            for (at, place) in ONE_BY_ONE.iter().enumerate() {
                // Beyond the nodes that are there all is dry, as their outermost are.
                let u = least(most(u_0 + place * by_u, 0.5), last_u);
                let v = least((v_0 - place * by_v).abs() + axis, last_v);
                let ((j, right), (i, up)) = (split(u), split(v));
                nodes[at] = i * width as u32 + j;
                (parts[0][at], parts[1][at]) = (right, up);
            }
            let mut quads = [0_u64; ABREAST];
            for (at, node) in nodes.iter().enumerate() {
                let node = *node as usize;
                let beside = &rates[node..node + 2];
                quads[at] = u64::from(bits(beside[0])) | u64::from(bits(beside[1])) << 32;
            }
            let mut found = [0.0_f32; ABREAST];
            for (at, found) in found.iter_mut().enumerate() {
                let (right, up) = (parts[0][at], parts[1][at]);
                let [a, c] = both(quads[at] as u32);
                let [b, d] = both((quads[at] >> 32) as u32);
                let (lower, upper) = (a + (b - a) * right, c + (d - c) * right);
                *found = net_hours * most(lower + (upper - lower) * up, 0.0);
            }
            sums.iter_mut().zip(found).for_each(|(sum, found)| *sum += found);
        }
    }
}

/// The lesser of two that are numbers.
#[inline(always)]
fn least(one: f32, other: f32) -> f32 {
    if one < other { one } else { other }
}

/// The greater of two that are numbers.
#[inline(always)]
fn most(one: f32, other: f32) -> f32 {
    if one > other { one } else { other }
}

/// Two rates as one number.
#[inline(always)]
fn bits([own, above]: [i16; 2]) -> u32 {
    u32::from(own as u16) | u32::from(above as u16) << 16
}

/// The two rates of a number.
#[inline(always)]
fn both(bits: u32) -> [f32; 2] {
    [((bits << 16) as i32 >> 16) as f32, (bits as i32 >> 16) as f32]
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
/// Their numbers.
const ONE_BY_ONE: [f32; ABREAST] =
    [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0];
