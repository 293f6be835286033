//! Water spread where it lies, on a field with a boundary, which keeps it in.
//!
//! A row is spread along itself, then across the rows beside it, some cells at a time, which stay in
//! registers. Where all is field as far as water goes, a cell gives and gets alike on both sides: it keeps
//! 1 − 2 Σ sₖ of its own and gets sₖ of what lies on the two k places away. Elsewhere it gets sₖ p (D' − D) from
//! each of them, p being what part of that place is the field's: nothing flows over the edge, and
//! what flows one way is what comes the other. The first is the second with p = 1.

use crate::boundary::Boundary;
use crate::season::thinning::Thinning;
use ndarray::Array2;
use pulp::{Arch, Simd, WithSimd};
use std::ops::Range;

/// Cells that are spread at a time.
const BLOCK: usize = 16;

type Block = [f64; BLOCK];

/// Spreading within a boundary.
#[derive(Clone, Debug)]
pub(crate) struct Within {
    /// Share that a cell gives the neighbors 1, 2 … columns away on either side.
    along: Vec<f64>,
    /// The same for rows.
    across: Vec<f64>,
    columns: usize,
    /// How much of each cell is the field's: 1 on it, 0 off it. Each row stands as [`Self::wide`] says.
    inside: Array2<f64>,
    /// Of each block of each row, whether all is field as far as water goes along and across.
    is_open: Array2<[bool; 2]>,
}

/// Room for rows on their way.
#[derive(Clone, Debug, Default)]
#[expect(clippy::struct_field_names, reason = "the unit stands last in every name")]
pub(crate) struct SpreadRoom {
    wide_mm: Vec<f64>,
    along_mm: Vec<f64>,
    spread_mm: Vec<f64>,
}

impl Within {
    /// With the shares that are given along and across, on a field of which so much is looked at.
    pub(super) fn new(
        along: Vec<f64>,
        across: Vec<f64>,
        boundary: &Boundary,
        thinning: Thinning,
    ) -> Self {
        let (real_rows, real_columns) = boundary.inside().dim();
        let rows = real_rows.div_ceil(thinning.rows());
        let columns = real_columns.div_ceil(thinning.columns());
        let blocks = columns.div_ceil(BLOCK);
        let width = blocks * BLOCK + 2 * along.len();
        let mut inside = Array2::zeros((rows, width));
        for (row, cells) in boundary.inside().rows().into_iter().enumerate() {
            let mut places = inside.row_mut(row / thinning.rows());
            let places = places.as_slice_mut().map_or(&mut [][..], |all| &mut all[along.len()..]);
            let cells = cells.to_slice().unwrap_or_default();
            for (place, cells) in places.iter_mut().zip(cells.chunks(thinning.columns())) {
                *place += cells.iter().filter(|is_inside| **is_inside).count() as f64;
            }
        }
        let inside = inside / thinning.cells();
        let mut within =
            Self { along, across, columns, inside, is_open: Array2::default((rows, blocks)) };
        within.is_open = within.open_blocks();
        within
    }

    /// Which blocks are open along and across.
    fn open_blocks(&self) -> Array2<[bool; 2]> {
        let (reach, far) = (self.along.len(), self.across.len());
        let (rows, blocks) = self.is_open.dim();
        let is_whole = |cells: &[f64]| cells.iter().all(|part| *part == 1.0);
        let of_blocks = |beside: usize| {
            Array2::from_shape_fn((rows, blocks), |(row, block)| {
                let first = block * BLOCK + reach;
                is_whole(&self.wide(row)[first - beside..first + BLOCK + beside])
            })
        };
        let (whole, along) = (of_blocks(0), of_blocks(reach));
        Array2::from_shape_fn((rows, blocks), |(row, block)| {
            let is_far = row >= far && row + far < rows;
            let across = is_far && (row - far..=row + far).all(|row| whole[(row, block)]);
            [along[(row, block)], across]
        })
    }

    /// How many rows far water goes, and the rows of the field.
    pub(super) fn reach_and_rows(&self) -> (usize, usize) {
        (self.across.len(), self.inside.nrows())
    }

    /// How much of each cell of a row is the field's, in whole blocks and with nothing at either end as far
    /// as water goes.
    fn wide(&self, row: usize) -> &[f64] {
        self.inside.row(row).to_slice().unwrap_or_default()
    }

    /// How much of each cell of a row is the field's.
    #[cfg(test)]
    pub(super) fn inside(&self, row: usize) -> &[f64] {
        &self.wide(row)[self.along.len()..][..self.columns]
    }

    /// What the crop gets on `rows` of what fell on the rows `around` them: `depth_mm`, row by row.
    pub(crate) fn spread<'b>(
        &self,
        depth_mm: &[f64],
        (around, rows): (Range<usize>, Range<usize>),
        room: &'b mut SpreadRoom,
    ) -> &'b [f64] {
        room.wide_mm.clear();
        room.wide_mm.resize(self.inside.ncols(), 0.0);
        room.along_mm.resize(around.len() * self.is_open.ncols() * BLOCK, 0.0);
        room.spread_mm.resize(rows.len() * self.columns, 0.0);
        Arch::new().dispatch(Spreading { by: self, depth_mm, around, rows, room: &mut *room });
        &room.spread_mm
    }
}

/// The spreading of some rows as work that is compiled a second time for wider vectors.
struct Spreading<'a> {
    by: &'a Within,
    depth_mm: &'a [f64],
    around: Range<usize>,
    rows: Range<usize>,
    room: &'a mut SpreadRoom,
}

impl WithSimd for Spreading<'_> {
    type Output = ();

    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let Self { by, depth_mm, around, rows, room } = self;
        let SpreadRoom { wide_mm, along_mm, spread_mm } = room;
        let length = by.is_open.ncols() * BLOCK;
        let fell = depth_mm.chunks_exact(by.columns).zip(along_mm.chunks_exact_mut(length));
        for (row, (depth_mm, along_mm)) in around.clone().zip(fell) {
            wide_mm[by.along.len()..][..by.columns].copy_from_slice(depth_mm);
            along(by, row, wide_mm, along_mm);
        }
        for (row, spread_mm) in rows.zip(spread_mm.chunks_exact_mut(by.columns)) {
            across(by, (row, around.start), along_mm, spread_mm);
        }
    }
}

/// A row spread along itself, from wide to whole blocks.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn along(by: &Within, row: usize, wide_mm: &[f64], to: &mut [f64]) {
    let (reach, inside) = (by.along.len() as isize, by.wide(row));
    for (block, to) in to.as_chunks_mut::<BLOCK>().0.iter_mut().enumerate() {
        let at = |k: isize| block * BLOCK + (reach + k) as usize;
        let near = |k: isize| wide_mm[at(k)..].first_chunk::<BLOCK>();
        let part = |k: isize| inside[at(k)..].first_chunk::<BLOCK>();
        *to = flown(&by.along, by.is_open[(row, block)][0], near, part);
    }
}

/// A row spread across the rows, from whole blocks of the rows from `first` on.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn across(by: &Within, (row, first): (usize, usize), along_mm: &[f64], to: &mut [f64]) {
    let (rows, blocks) = by.is_open.dim();
    for (block, to) in to.chunks_mut(BLOCK).enumerate() {
        let other = |k: isize| row.checked_add_signed(k).filter(|other| *other < rows);
        let near = |k: isize| {
            let at = ((other(k)? - first) * blocks + block) * BLOCK;
            along_mm[at..].first_chunk::<BLOCK>()
        };
        let part =
            |k: isize| by.wide(other(k)?)[by.along.len() + block * BLOCK..].first_chunk::<BLOCK>();
        let flown = flown(&by.across, by.is_open[(row, block)][1], near, part);
        match to.first_chunk_mut::<BLOCK>() {
            Some(to) => *to = flown,
            None => to.copy_from_slice(&flown[..to.len()]),
        }
    }
}

/// A block after water has flown to and from what is `near`, k places on for k ≠ 0, of which a `part` is the
/// field's.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn flown<'a>(
    shares: &[f64],
    is_open: bool,
    near: impl Fn(isize) -> Option<&'a Block>,
    part: impl Fn(isize) -> Option<&'a Block>,
) -> Block {
    let Some(own) = near(0) else { return [0.0; BLOCK] };
    let mut sums = *own;
    if is_open {
        let stays = 1.0 - 2.0 * shares.iter().sum::<f64>();
        for sum in &mut sums {
            *sum *= stays;
        }
        for (k, share) in (1..).zip(shares) {
            let (Some(before), Some(behind)) = (near(-k), near(k)) else { continue };
            for i in 0..BLOCK {
                sums[i] += share * (before[i] + behind[i]);
            }
        }
        return sums;
    }
    for (k, share) in (1..).zip(shares) {
        for k in [-k, k] {
            let (Some(other), Some(part)) = (near(k), part(k)) else { continue };
            for i in 0..BLOCK {
                sums[i] += share * part[i] * (other[i] - own[i]);
            }
        }
    }
    // What is not the field's at all neither gives nor gets.
    let Some(inside) = part(0) else { return sums };
    for i in 0..BLOCK {
        sums[i] = if inside[i] > 0.0 { sums[i] } else { own[i] };
    }
    sums
}
