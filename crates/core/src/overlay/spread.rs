//! Water that roots and soil spread, spread before it is laid along the pipe.
//!
//! A cell gives each neighbor k cells away along its row the share sₖ of what lies on it, then likewise
//! across the rows (with shares of their own where columns and rows are not alike), and what would leave the field stays where it fell: on a field without a boundary
//! of its own, row y gets (1 − Σ sₖ over those that are there) of its own and sₖ of each of them. All of
//! that is linear, and laying along the pipe is too, so the few cells of one sprinkler's row are spread
//! instead of the whole field's: across the rows with each row's own weights, then along as if the field
//! had no end. Only the R cells at either end of a row then hold what never left and lack what came
//! from beyond: Σ over k beyond the end of sₖ (D(x) − D(x ∓ k)), D being the water before it was spread
//! along. Exact but for round-off.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::sets::{LaidSet, PipeOnGrid};
use std::slice::ChunksExact;

/// How water is spread on a field without a boundary.
#[derive(Clone, Debug)]
pub(crate) struct Spread {
    /// Share that a cell gives the neighbors 1, 2 … columns away on either side.
    pub(crate) along: Vec<f64>,
    /// The same for rows.
    pub(crate) across: Vec<f64>,
    /// Rows and columns of the field.
    pub(crate) field: (usize, usize),
}

/// One row of one sprinkler on its way, and what must be put right at the ends of the field's row.
#[derive(Clone, Debug)]
pub(super) struct Spreading {
    by: Spread,
    /// What one sprinkler lays, spread across the rows but not along, with dry cells beside it.
    raw: Vec<f64>,
    /// What the row takes of each of a set's rows.
    weights: Vec<f64>,
    /// D around the first and the last column.
    ends: [Vec<f64>; 2],
}

impl Spreading {
    /// For rows of one sprinkler of so many cells.
    pub(super) fn new(by: &Spread, cells: usize) -> Self {
        let reach = by.along.len();
        let ends = [vec![0.0; 2 * reach], vec![0.0; 2 * reach]];
        Self { by: by.clone(), raw: vec![0.0; cells + 4 * reach], weights: Vec::new(), ends }
    }

    /// How many columns far.
    pub(super) fn reach(&self) -> usize {
        self.by.along.len()
    }

    /// How many rows far.
    pub(super) fn rows_far(&self) -> usize {
        self.by.across.len()
    }

    /// What stays where it fell on a row of the field.
    #[inline(always)]
    fn stays(&self, row: usize) -> f64 {
        let goes = |(k, share): (usize, &f64)| {
            let there = usize::from(row > k) + usize::from(row + k + 1 < self.by.field.0);
            there as f64 * share
        };
        1.0 - self.by.across.iter().enumerate().map(goes).sum::<f64>()
    }

    /// Adds up what one sprinkler lays on `row` in all sets, spread, into `one`, whose first cell lies
    /// in column `first`; whether any set reaches it.
    #[inline(always)]
    pub(super) fn one_row(
        &mut self,
        sets: &[LaidSet<'_>],
        (row, first): (usize, isize),
        one: &mut [f64],
    ) -> bool {
        let reach = self.reach();
        let rows_far = self.rows_far();
        let rows = row.saturating_sub(rows_far)..(row + rows_far + 1).min(self.by.field.0);
        let stays = self.stays(row);
        self.raw.fill(0.0);
        let mut is_reached = false;
        for set in sets {
            let at = (set.first_column() - first) as usize + reach;
            let own = set.rows(&rows);
            if own.is_empty() {
                continue;
            }
            is_reached = true;
            let weights = own.clone().map(|other| match other.abs_diff(row) {
                0 => stays,
                apart => self.by.across[apart - 1],
            });
            self.weights.clear();
            self.weights.extend(weights);
            add_weighted(&mut self.raw[at..], set.cells_from(own.start), &self.weights);
        }
        if is_reached {
            self.along(one);
        }
        is_reached
    }

    /// Spreads the row along.
    #[inline(always)]
    fn along(&self, one: &mut [f64]) {
        let (reach, cells) = (self.reach(), one.len());
        let stays = 1.0 - 2.0 * self.by.along.iter().sum::<f64>();
        let raw = &self.raw[..];
        let at = |cell: usize, k: isize| (cell + reach).wrapping_add_signed(k);
        let (blocks, rest) = one.as_chunks_mut::<BLOCK>();
        let whole = blocks.len() * BLOCK;
        for (block, to) in blocks.iter_mut().enumerate() {
            let seen = |k: isize| raw[at(block * BLOCK, k)..].first_chunk::<BLOCK>();
            let Some(own) = seen(0) else { continue };
            let mut sums = [0.0; BLOCK];
            for i in 0..BLOCK {
                sums[i] = stays * own[i];
            }
            for (k, share) in (1..).zip(&self.by.along) {
                let (Some(before), Some(behind)) = (seen(-k), seen(k)) else { continue };
                for i in 0..BLOCK {
                    sums[i] += share * (before[i] + behind[i]);
                }
            }
            *to = sums;
        }
        for (cell, to) in (whole..cells).zip(rest) {
            let both = |k: isize| raw[at(cell, -k)] + raw[at(cell, k)];
            let shares = (1..).zip(&self.by.along);
            *to = shares.fold(stays * raw[at(cell, 0)], |sum, (k, share)| sum + share * both(k));
        }
    }

    /// Nothing lies at the ends yet.
    #[inline(always)]
    pub(super) fn clear_ends(&mut self) {
        self.ends.iter_mut().for_each(|end| end.fill(0.0));
    }

    /// Adds what the sprinklers of `pipe` lay of the row at the ends; `first` as in [`Self::one_row`].
    #[inline(always)]
    pub(super) fn add_ends(
        &mut self,
        pipe: PipeOnGrid,
        first: isize,
        portion: impl Fn(usize) -> f64,
    ) {
        let reach = self.reach();
        let raw = &self.raw[2 * reach..self.raw.len() - 2 * reach];
        for (end, from) in self.ends.iter_mut().zip([0, self.by.field.1]) {
            let from = from as isize - reach as isize;
            for sprinkler in 0..pipe.sprinklers {
                let stands = pipe.first_column + (sprinkler * pipe.spacing_cells) as isize;
                // Where the row's water begins, counted from where the end's window does.
                let begins = stands + first + reach as isize - from;
                let skip = (-begins).max(0) as usize;
                let at = begins.max(0) as usize;
                if skip >= raw.len() || at >= end.len() {
                    continue;
                }
                let portion = portion(sprinkler);
                let to = end[at..].iter_mut();
                to.zip(&raw[skip..]).for_each(|(to, depth)| *to += portion * depth);
            }
        }
    }

    /// Puts the ends of a field's row right.
    #[inline(always)]
    pub(super) fn mend_ends(&self, row: &mut [f64]) {
        let (reach, columns) = (self.reach(), row.len());
        for at in 0..reach.min(columns) {
            let [near, far] = &self.ends;
            // Column `at` is cell reach + at of the first window; the last but `at` is reach − 1 − at
            // of the other.
            let (low, high) = (reach + at, reach - 1 - at);
            let (mut first, mut last) = (0.0, 0.0);
            for k in at + 1..=reach {
                let share = self.by.along[k - 1];
                first += share * (near[low] - near[low - k]);
                last += share * (far[high] - far[high + k]);
            }
            row[at] += first;
            row[columns - 1 - at] += last;
        }
    }
}

/// Cells that are added up at a time: they stay in registers.
const BLOCK: usize = 16;

/// Adds rows of cells, each by its weight, to those that lie first in `to`.
#[inline(always)]
fn add_weighted(to: &mut [f64], rows: ChunksExact<'_, f64>, weights: &[f64]) {
    let columns = rows.clone().next().map_or(0, <[f64]>::len);
    let (blocks, rest) = to[..columns].as_chunks_mut::<BLOCK>();
    let whole = blocks.len() * BLOCK;
    for (at, block) in blocks.iter_mut().enumerate() {
        let mut sums = *block;
        for (row, weight) in rows.clone().zip(weights) {
            let Some(depths) = row[at * BLOCK..].first_chunk::<BLOCK>() else { continue };
            for (sum, depth) in sums.iter_mut().zip(depths) {
                *sum += weight * depth;
            }
        }
        *block = sums;
    }
    for (row, weight) in rows.zip(weights) {
        rest.iter_mut().zip(&row[whole..]).for_each(|(to, depth)| *to += weight * depth);
    }
}
