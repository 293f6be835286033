//! What roots and soil spread of the water that falls, before the crop takes it.
//!
//! The depth on each cell is spread by a Gaussian in the plane, of a stated standard deviation, along
//! the rows and then along the columns: a cell gives each neighbor k cells away the share
//! Φ((k + ½) c/σ) − Φ((k − ½) c/σ) of what lies on it (c the cell, Φ the normal distribution), out to
//! 3 σ, and gets as much from there. A share that would leave the field stays where it fell, so the
//! water on the field is kept to round-off and an even depth stays even.
//!
//! Valid as a stand-in: that roots reach sideways and that soil water moves is known, how far is not.
//! Water of sweet corn was evened out by the soil (Stern & Bresler 1983), another study of maize found
//! nothing of the kind. Neglected: that it takes days, and depends on the soil. What cans catch is
//! not spread; only the crop sees it.

use crate::model::Field;
use crate::statistics::normal_cdf;
use ndarray::{Array2, ArrayView1};
use pulp::{Arch, Simd, WithSimd};
use std::ops::Range;

/// Standard deviations out to which water is spread.
const REACH: f64 = 3.0;

/// Spreading on one field.
#[derive(Clone, Debug)]
pub(super) struct Smoothing {
    /// Share that a cell gives the neighbors 1, 2 … cells away on either side.
    shares: Vec<f64>,
    /// 1 on the field, 0 off it; `None` where all cells are the field's.
    inside: Option<Array2<f64>>,
    /// Rows of the field.
    field_rows: usize,
}

/// How many cells far water is spread by a standard deviation of `deviation_m`.
pub(super) fn reach_cells(deviation_m: f64, cell_m: f64) -> usize {
    (REACH * deviation_m / cell_m).ceil().max(0.0) as usize
}

/// Room for rows on their way.
#[derive(Clone, Debug, Default)]
pub(super) struct SpreadRoom {
    along_mm: Vec<f64>,
    spread_mm: Vec<f64>,
}

impl Smoothing {
    /// Spreading by a standard deviation of `deviation_m`; `None` where that is nothing. A field with
    /// a boundary is never folded, so its cells are those of the grid.
    pub(super) fn new(deviation_m: f64, field: &Field) -> Option<Self> {
        let cell_m = field.grid.cell_m;
        let cells = reach_cells(deviation_m, cell_m);
        if cells == 0 {
            return None;
        }
        let below = |cells: f64| normal_cdf(cells * cell_m / deviation_m);
        let share = |k: usize| below(k as f64 + 0.5) - below(k as f64 - 0.5);
        let inside = |inside: &bool| f64::from(u8::from(*inside));
        Some(Self {
            shares: (1..=cells).map(share).collect(),
            inside: field.boundary.as_ref().map(|boundary| boundary.inside().map(inside)),
            field_rows: field.grid.cells_across,
        })
    }

    /// The rows from which water reaches `rows`.
    pub(super) fn around(&self, rows: &Range<usize>) -> Range<usize> {
        let reach = self.shares.len();
        rows.start.saturating_sub(reach)..(rows.end + reach).min(self.field_rows)
    }

    /// What the crop gets on `rows` of what fell on the rows [`Self::around`] them: `depth_mm`, of
    /// `columns` each.
    pub(super) fn spread<'b>(
        &self,
        depth_mm: &[f64],
        columns: usize,
        rows: Range<usize>,
        room: &'b mut SpreadRoom,
    ) -> &'b [f64] {
        let around = self.around(&rows);
        let SpreadRoom { along_mm, spread_mm } = room;
        along_mm.resize(around.len() * columns, 0.0);
        spread_mm.resize(rows.len() * columns, 0.0);
        Arch::new().dispatch(Spread {
            by: self,
            depth_mm,
            columns,
            around,
            rows,
            along_mm,
            spread_mm,
        });
        spread_mm
    }

    /// Neighbors and the share that each gets, out from a place among `count`: the distance, whether
    /// there is one before, and whether there is one behind.
    fn neighbors(&self, at: usize, count: usize) -> impl Iterator<Item = (usize, f64, bool, bool)> {
        let shares = self.shares.iter().enumerate();
        shares.map(move |(k, share)| (k + 1, *share, at > k, at + k + 1 < count))
    }

    /// What stays where it fell at a place among `count`.
    fn stays(&self, at: usize, count: usize) -> f64 {
        let goes = |(_, share, before, behind): (usize, f64, bool, bool)| {
            share * f64::from(u8::from(before) + u8::from(behind))
        };
        1.0 - self.neighbors(at, count).map(goes).sum::<f64>()
    }

    fn inside_row(&self, row: usize) -> Option<ArrayView1<'_, f64>> {
        self.inside.as_ref().map(|inside| inside.row(row))
    }
}

/// The spreading of some rows as work that is compiled a second time for wider vectors.
struct Spread<'a> {
    by: &'a Smoothing,
    depth_mm: &'a [f64],
    columns: usize,
    around: Range<usize>,
    rows: Range<usize>,
    along_mm: &'a mut [f64],
    spread_mm: &'a mut [f64],
}

impl WithSimd for Spread<'_> {
    type Output = ();

    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let Self { by, depth_mm, columns, around, rows, along_mm, spread_mm } = self;
        let fell = depth_mm.chunks_exact(columns).zip(along_mm.chunks_exact_mut(columns));
        for (row, (depth_mm, along_mm)) in around.clone().zip(fell) {
            match by.inside_row(row) {
                None => along(by, depth_mm, along_mm),
                Some(inside) => along_within(by, depth_mm, inside, along_mm),
            }
        }
        let of = |row: usize| {
            let first = (row - around.start) * columns;
            &along_mm[first..first + columns]
        };
        for (row, spread_mm) in rows.zip(spread_mm.chunks_exact_mut(columns)) {
            match &by.inside {
                None => across(by, row, of, spread_mm),
                Some(inside) => across_within(by, row, of, inside, spread_mm),
            }
        }
    }
}

/// A row spread along itself.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn along(by: &Smoothing, from: &[f64], to: &mut [f64]) {
    let (count, reach) = (from.len(), by.shares.len());
    let inner = reach.min(count)..count.saturating_sub(reach).max(reach.min(count));
    for at in (0..inner.start).chain(inner.end..count) {
        to[at] = by.stays(at, count) * from[at];
        for (k, share, before, behind) in by.neighbors(at, count) {
            to[at] += if before { share * from[at - k] } else { 0.0 };
            to[at] += if behind { share * from[at + k] } else { 0.0 };
        }
    }
    let stays = by.stays(reach, 2 * reach + 1);
    scale(stays, &from[inner.clone()], &mut to[inner.clone()]);
    for (k, share) in (1..).zip(&by.shares) {
        let moved = |by: isize| {
            let shift = |at: usize| at.saturating_add_signed(by);
            &from[shift(inner.start).min(count)..shift(inner.end).min(count)]
        };
        if !inner.is_empty() {
            add_both(*share, moved(-k), moved(k), &mut to[inner.clone()]);
        }
    }
}

/// A row spread across the rows, from what `of` gives of each.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn across<'a>(by: &Smoothing, row: usize, of: impl Fn(usize) -> &'a [f64], to: &mut [f64]) {
    scale(by.stays(row, by.field_rows), of(row), to);
    for (k, share, before, behind) in by.neighbors(row, by.field_rows) {
        match (before, behind) {
            (true, true) => add_both(share, of(row - k), of(row + k), to),
            (true, false) => add_one(share, of(row - k), to),
            (false, true) => add_one(share, of(row + k), to),
            (false, false) => {}
        }
    }
}

/// The same within a boundary: what would leave the field stays.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn along_within(by: &Smoothing, from: &[f64], inside: ArrayView1<'_, f64>, to: &mut [f64]) {
    to.copy_from_slice(from);
    let Some(inside) = inside.to_slice() else { return };
    for (k, share) in (1..from.len()).zip(&by.shares) {
        let near = from.len() - k;
        add_flow(
            *share,
            (&from[..near], &from[k..]),
            (&inside[..near], &inside[k..]),
            &mut to[..near],
        );
        add_flow(
            *share,
            (&from[k..], &from[..near]),
            (&inside[k..], &inside[..near]),
            &mut to[k..],
        );
    }
}

/// And across the rows.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn across_within<'a>(
    by: &Smoothing,
    row: usize,
    of: impl Fn(usize) -> &'a [f64],
    inside: &Array2<f64>,
    to: &mut [f64],
) {
    to.copy_from_slice(of(row));
    let is_inside = |row: usize| inside.row(row).to_slice();
    let Some(own) = is_inside(row) else { return };
    for (k, share, before, behind) in by.neighbors(row, by.field_rows) {
        let there = [(before, row.wrapping_sub(k)), (behind, row + k)];
        for (_, other) in there.into_iter().filter(|(is_there, _)| *is_there) {
            if let Some(theirs) = is_inside(other) {
                add_flow(share, (of(row), of(other)), (own, theirs), to);
            }
        }
    }
}

#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn scale(share: f64, from: &[f64], to: &mut [f64]) {
    to.iter_mut().zip(from).for_each(|(to, from)| *to = share * from);
}

#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn add_one(share: f64, from: &[f64], to: &mut [f64]) {
    to.iter_mut().zip(from).for_each(|(to, from)| *to += share * from);
}

#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn add_both(share: f64, before: &[f64], behind: &[f64], to: &mut [f64]) {
    let both = before.iter().zip(behind);
    to.iter_mut().zip(both).for_each(|(to, (a, b))| *to += share * (a + b));
}

/// What flows to each cell of `own` from its neighbor, where both are inside.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn add_flow(
    share: f64,
    (own, other): (&[f64], &[f64]),
    (inside, other_inside): (&[f64], &[f64]),
    to: &mut [f64],
) {
    let cells = own.iter().zip(other).zip(inside.iter().zip(other_inside));
    for (to, ((own, other), (a, b))) in to.iter_mut().zip(cells) {
        *to += share * (a * b) * (other - own);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::boundary::Boundary;
    use crate::grid::{DepthGrid, Grid};

    fn field(boundary: Option<&[[f64; 2]]>) -> Field {
        let grid = Grid { cells_along: 40, cells_across: 30, cell_m: 0.5 };
        let boundary =
            boundary.map(|corners| Boundary::new(vec![corners.to_vec()], &grid).unwrap());
        Field { grid, travel_bearing_deg: 0.0, boundary }
    }

    fn spread(deviation_m: f64, field: &Field, depth_mm: &DepthGrid) -> DepthGrid {
        let smoothing = Smoothing::new(deviation_m, field).unwrap();
        let mut spread_mm = field.grid.zeros();
        let columns = field.grid.cells_along;
        // A few rows at a time, as a season goes.
        for first in (0..field.grid.cells_across).step_by(7) {
            let rows = first..(first + 7).min(field.grid.cells_across);
            let around = smoothing.around(&rows);
            let from = &depth_mm.as_slice().unwrap()[around.start * columns..around.end * columns];
            let mut room = SpreadRoom::default();
            let found = smoothing.spread(from, columns, rows.clone(), &mut room);
            let to = spread_mm.as_slice_mut().unwrap();
            to[rows.start * columns..rows.end * columns].copy_from_slice(found);
        }
        spread_mm
    }

    #[test]
    fn closed_a_drop_in_the_middle_becomes_a_gaussian_of_the_stated_deviation() {
        let field = field(None);
        let mut drop_mm = field.grid.zeros();
        drop_mm[(15, 20)] = 1.0;
        let spread_mm = spread(1.5, &field, &drop_mm);
        let along = |power: i32| -> f64 {
            let moment =
                |((_, x), mm): ((usize, usize), &f64)| mm * (0.5 * (x as f64 - 20.0)).powi(power);
            spread_mm.indexed_iter().map(moment).sum()
        };
        assert!((along(0) - 1.0).abs() < 1e-12 && along(1).abs() < 1e-12);
        // Cutting off at 3 σ takes 2.7 % of the second moment (0.973 of σ²); whole cells add c²/12.
        let expected = 0.973 * 1.5 * 1.5 + 0.25 / 12.0;
        assert!((along(2) / expected - 1.0).abs() < 0.01, "{} {expected}", along(2));
        assert!(
            (spread_mm[(15, 20)] - spread_mm.iter().copied().fold(0.0, f64::max)).abs() < 1e-15
        );
    }

    #[test]
    fn invariant_water_is_kept_and_an_even_depth_stays_even_whatever_the_edge() {
        let ell = [[0.0, 0.0], [20.0, 0.0], [20.0, 7.0], [11.0, 7.0], [11.0, 15.0], [0.0, 15.0]];
        for (boundary, deviation_m) in [(None, 0.4), (None, 2.0), (Some(&ell[..]), 2.0)] {
            let field = field(boundary);
            let uneven_mm =
                DepthGrid::from_shape_fn((30, 40), |(r, c)| ((r * 7 + c * 3) % 11) as f64);
            let spread_mm = spread(deviation_m, &field, &uneven_mm);
            let whole = field.whole();
            let (before, after) = (whole.of(&uneven_mm).sum(), whole.of(&spread_mm).sum());
            assert!((after / before - 1.0).abs() < 1e-12, "{before} {after}");
            assert!((field.outside_sum(&uneven_mm) - field.outside_sum(&spread_mm)).abs() < 1e-9);
            let (cu, evened) = (whole.figures(&uneven_mm), whole.figures(&spread_mm));
            assert!(evened.unwrap().cu > cu.unwrap().cu);
            let even_mm = field.grid.zeros() + 3.0;
            assert!(
                spread(deviation_m, &field, &even_mm).iter().all(|mm| (mm - 3.0).abs() < 1e-12)
            );
        }
    }

    #[test]
    fn closed_no_distance_is_no_spreading() {
        assert!(Smoothing::new(0.0, &field(None)).is_none());
    }
}
