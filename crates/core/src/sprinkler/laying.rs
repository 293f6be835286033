//! How lumps of water that a wind has carried, and their mirror images, come onto cells.
//!
//! Places are found for all lumps of a ring at once, with wide vectors; then each is shared among its four cells
//! (`scratch`). Nothing is fused, so the digits are the same with vectors of any width.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::lumps::{Lumps, OnCells};
use super::rings::{Gust, Place, Workspace};
use super::scratch::{Scratch, WHOLE};
use super::tubes::Tubes;
use libm::{cos, sin};
use pulp::{Simd, WithSimd};

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
