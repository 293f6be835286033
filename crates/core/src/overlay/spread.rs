//! Water that roots and soil spread, spread before it is laid along the pipe.
//!
//! A cell gives each neighbor k cells away along its row the share sₖ of what lies on it, then the same
//! across the rows, and what would leave the field stays where it fell: on a field without a boundary
//! of its own, row y gets (1 − Σ sₖ over those that are there) of its own and sₖ of each of them. All of
//! that is linear, and laying along the pipe is too, so the few cells of one sprinkler's row are spread
//! instead of the whole field's: across the rows with each row's own weights, then along as if the field
//! had no end. Only the R cells at either end of a row then hold what never left and lack what came
//! from beyond: Σ over k beyond the end of sₖ (D(x) − D(x ∓ k)), D being the water before it was spread
//! along. Exact but for round-off.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::sets::{LaidSet, PipeOnGrid};
use std::ops::Range;

/// How water is spread on a field without a boundary.
#[derive(Clone, Debug)]
pub(crate) struct Spread {
    /// Share that a cell gives the neighbors 1, 2 … cells away on either side.
    pub(crate) shares: Vec<f64>,
    /// Rows and columns of the field.
    pub(crate) field: (usize, usize),
}

/// Cells that are added up at a time: they stay in registers.
const BLOCK: usize = 16;

/// One row of one sprinkler on its way, and what must be put right at the ends of the field's row.
#[derive(Clone, Debug)]
pub(super) struct Spreading {
    by: Spread,
    /// Cells of one sprinkler's row.
    cells: usize,
    /// By node of pressure, what one sprinkler lays on each of the rows around the one at hand before it is
    /// spread, at the row's number modulo theirs. Rows are asked for one after the other, so each is added
    /// up once.
    fallen: Vec<Vec<FallenRow>>,
    /// What one sprinkler lays, spread across the rows but not along, with dry cells beside it.
    raw: Vec<f64>,
    /// Of the rows around the one at hand, where they are kept and the share that comes from each.
    shares: Vec<(usize, f64)>,
    /// D around the first and the last column.
    ends: [Vec<f64>; 2],
}

/// What all sets lay on a row before it is spread.
#[derive(Clone, Debug, Default)]
struct FallenRow {
    /// Which one; none yet.
    row: Option<usize>,
    is_reached: bool,
    depths: Vec<f64>,
}

impl FallenRow {
    #[inline(always)]
    fn set(&mut self, sets: &[LaidSet<'_>], (row, first): (usize, isize)) {
        self.row = Some(row);
        let was_reached = std::mem::take(&mut self.is_reached);
        if was_reached {
            self.depths.fill(0.0);
        }
        for set in sets {
            let Some(depths) = set.on_row(row) else { continue };
            self.is_reached = true;
            let at = (set.first_column() - first) as usize;
            let to = self.depths[at..at + depths.len()].iter_mut();
            to.zip(depths).for_each(|(to, depth)| *to += depth);
        }
    }
}

impl Spreading {
    /// For rows of one sprinkler of so many cells.
    pub(super) fn new(by: &Spread, cells: usize) -> Self {
        let reach = by.shares.len();
        let ends = [vec![0.0; 2 * reach], vec![0.0; 2 * reach]];
        let wide = (cells + 2 * reach).next_multiple_of(BLOCK) + 2 * reach;
        let raw = vec![0.0; wide.next_multiple_of(BLOCK)];
        Self { by: by.clone(), cells, fallen: Vec::new(), raw, shares: Vec::new(), ends }
    }

    /// Other sets are laid from here on.
    pub(super) fn forget(&mut self) {
        self.fallen.iter_mut().flatten().for_each(|fallen| fallen.row = None);
    }

    pub(super) fn reach(&self) -> usize {
        self.by.shares.len()
    }

    /// What stays where it fell on a row of the field.
    #[inline(always)]
    fn stays(&self, row: usize) -> f64 {
        let goes = |(k, share): (usize, &f64)| {
            let there = usize::from(row > k) + usize::from(row + k + 1 < self.by.field.0);
            there as f64 * share
        };
        1.0 - self.by.shares.iter().enumerate().map(goes).sum::<f64>()
    }

    /// Adds up what one sprinkler lays on `row` in all sets of a node, spread, into `one`, whose first cell
    /// lies in column `first`; whether any set reaches it.
    #[inline(always)]
    pub(super) fn one_row(
        &mut self,
        (node, sets): (usize, &[LaidSet<'_>]),
        (row, first): (usize, isize),
        one: &mut [f64],
    ) -> bool {
        let reach = self.reach();
        let rows = row.saturating_sub(reach)..(row + reach + 1).min(self.by.field.0);
        if self.fallen.len() <= node {
            let dry = FallenRow { depths: vec![0.0; self.raw.len()], ..FallenRow::default() };
            self.fallen.resize(node + 1, vec![dry; 2 * reach + 1]);
        }
        let mut is_reached = false;
        for other in rows.clone() {
            let fallen = &mut self.fallen[node][other % (2 * reach + 1)];
            if fallen.row != Some(other) {
                fallen.set(sets, (other, first - reach as isize));
            }
            is_reached |= fallen.is_reached;
        }
        if is_reached {
            self.across(node, row, rows);
            self.along(one);
        }
        is_reached
    }

    /// Spreads what fell on `rows` onto `row`.
    #[inline(always)]
    fn across(&mut self, node: usize, row: usize, rows: Range<usize>) {
        let stays = self.stays(row);
        let Self { by, fallen, raw, shares, .. } = self;
        let around = fallen[node].len();
        shares.clear();
        shares.extend(rows.map(|other| {
            let apart = other.abs_diff(row);
            (other % around, if apart == 0 { stays } else { by.shares[apart - 1] })
        }));
        for (block, to) in raw.as_chunks_mut::<BLOCK>().0.iter_mut().enumerate() {
            let mut sums = [0.0; BLOCK];
            for (at, share) in &*shares {
                let depths = &fallen[node][*at].depths.as_chunks::<BLOCK>().0[block];
                sums.iter_mut().zip(depths).for_each(|(sum, depth)| *sum += share * depth);
            }
            *to = sums;
        }
    }

    /// Spreads the row along.
    #[inline(always)]
    fn along(&self, one: &mut [f64]) {
        let reach = self.reach();
        let stays = 1.0 - 2.0 * self.by.shares.iter().sum::<f64>();
        for (block, to) in one.chunks_mut(BLOCK).enumerate() {
            let own = &self.raw[block * BLOCK..][..BLOCK + 2 * reach];
            let mut sums = [0.0; BLOCK];
            sums.iter_mut().zip(&own[reach..]).for_each(|(sum, own)| *sum = stays * own);
            for (k, share) in (1..).zip(&self.by.shares) {
                let both = own[reach - k..].iter().zip(&own[reach + k..]);
                sums.iter_mut().zip(both).for_each(|(sum, (a, b))| *sum += share * (a + b));
            }
            to.copy_from_slice(&sums[..to.len()]);
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
        let raw = &self.raw[2 * reach..2 * reach + self.cells];
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
                let share = self.by.shares[k - 1];
                first += share * (near[low] - near[low - k]);
                last += share * (far[high] - far[high + k]);
            }
            row[at] += first;
            row[columns - 1 - at] += last;
        }
    }
}
