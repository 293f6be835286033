//! Lumps of water that a wind has carried, and how they and their mirror images come onto cells.
//!
//! Places are found for all lumps of a ring at once, with wide vectors; then each is shared among its four cells
//! (`scratch`). Nothing is fused, so the digits are the same with vectors of any width.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::rings::{Gust, Place, Workspace};
use super::scratch::{Scratch, WHOLE};
use super::tubes::Tubes;
use libm::{cos, sin};
use pulp::{Simd, WithSimd};

/// Lumps to the left of the wind.
#[derive(Debug, Default)]
pub(super) struct Lumps {
    /// Down the wind, m.
    along_m: Vec<f64>,
    /// To its left, m.
    cross_m: Vec<f64>,
    litres: Vec<f64>,
}

impl Lumps {
    /// Room for so many: down the wind, to its left, litres.
    pub(super) fn room(&mut self, count: usize) -> (&mut [f64], &mut [f64], &mut [f64]) {
        for numbers in [&mut self.along_m, &mut self.cross_m, &mut self.litres] {
            numbers.resize(count, 0.0);
        }
        (&mut self.along_m, &mut self.cross_m, &mut self.litres)
    }

    /// Down the wind (m), to its left (m), litres.
    pub(super) fn iter(&self) -> impl Iterator<Item = (f64, f64, f64)> {
        let places = self.along_m.iter().zip(&self.cross_m);
        places.zip(&self.litres).map(|((along_m, cross_m), litres)| (*along_m, *cross_m, *litres))
    }
}

/// Where lumps lie among cells.
#[derive(Debug, Default)]
pub(super) struct OnCells {
    /// The first of their four cells.
    pub(super) first: Vec<u32>,
    /// Part that belongs to the two cells on the right.
    pub(super) right: Vec<f64>,
    /// Water of the lower two cells and of the upper two.
    pub(super) lower: Vec<f64>,
    pub(super) upper: Vec<f64>,
}

impl OnCells {
    /// All as long as each other.
    #[inline(always)]
    pub(super) fn slices(&self) -> (&[u32], &[f64], &[f64], &[f64]) {
        let count = self.first.len();
        let Self { first, right, lower, upper } = self;
        (&first[..count], &right[..count], &lower[..count], &upper[..count])
    }

    fn resize(&mut self, count: usize) {
        self.first.resize(count, 0);
        for numbers in [&mut self.right, &mut self.lower, &mut self.upper] {
            numbers.resize(count, 0.0);
        }
    }
}

/// The water of a jet on its way onto cells, litres.
pub(super) struct Laying<'a> {
    pub(super) jet: &'a Tubes,
    pub(super) gust: Gust,
    pub(super) place: Place,
    pub(super) work: &'a mut Workspace,
    pub(super) scratch: &'a mut Scratch,
}

impl WithSimd for Laying<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let Self { jet, gust, place, work, scratch } = self;
        let turned = Turned::new(gust, place, scratch.width);
        jet.start(gust.speed_m_s, work);
        for ring in jet.rings() {
            jet.carry(ring, gust.net_hours, work);
            let Workspace { lumps, on_cells, .. } = &mut *work;
            for (to_left, side) in [1.0, -1.0].into_iter().zip(&mut *on_cells) {
                turned.find(lumps, to_left, side);
            }
            scratch.lay_all(on_cells);
        }
    }
}

/// From the wind's axes to the field's.
struct Turned {
    column: f64,
    row: f64,
    /// Cells in one meter, times cosine and sine of the direction the wind blows to.
    cos: f64,
    sin: f64,
    width: f64,
}

impl Turned {
    fn new(gust: Gust, place: Place, width: usize) -> Self {
        let (cos, sin) = (cos(gust.towards_rad), sin(gust.towards_rad));
        let (cos, sin) = (cos / place.cell_m, sin / place.cell_m);
        Self { column: place.column, row: place.row, cos, sin, width: width as f64 }
    }

    /// Where lumps lie, or for `to_left` −1 their mirror images. Half of all places that are whole belong to the
    /// number below, at 1 beyond it: the same water in the same cells.
    #[inline(always)]
    fn find(&self, lumps: &Lumps, to_left: f64, on_cells: &mut OnCells) {
        let count = lumps.litres.len();
        on_cells.resize(count);
        let (along_m, cross_m) = (&lumps.along_m[..count], &lumps.cross_m[..count]);
        let litres = &lumps.litres[..count];
        let (first, right) = (&mut on_cells.first[..count], &mut on_cells.right[..count]);
        let (lower, upper) = (&mut on_cells.lower[..count], &mut on_cells.upper[..count]);
        let Self { column: column_0, row: row_0, cos, sin, width } = *self;
        let (side_sin, side_cos) = (to_left * sin, to_left * cos);
        for k in 0..count {
            let column = column_0 + along_m[k] * cos - cross_m[k] * side_sin;
            let row = row_0 + along_m[k] * sin + cross_m[k] * side_cos;
            let column_at = (column - 0.5 + WHOLE) - WHOLE;
            let row_at = (row - 0.5 + WHOLE) - WHOLE;
            let up = row - row_at;
            right[k] = column - column_at;
            upper[k] = litres[k] * up;
            lower[k] = litres[k] * (1.0 - up);
            first[k] = (row_at * width + column_at + WHOLE).to_bits() as u32;
        }
    }
}
