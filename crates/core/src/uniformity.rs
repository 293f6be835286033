//! Figures of uniformity of a depth grid.
//!
//! With n equal cells of depth x and mean M:
//! - CU = 1 − Σ|x − M| / (n M) (Christiansen 1942);
//! - DUlq = mean of the lowest quarter of the *area* / M (SCS NEH 15-11, 1983): where n/4 is not
//!   whole, the next lowest cell counts in part;
//! - CV = √(Σ(x − M)²/n) / M.
//!
//! Valid for any window in which some water fell; a dry window has no figures. Neglects what lies
//! between cell centers (a cell is the mean over itself).
//!
//! Method: one run over the cells for mean and range, one for deviations. The quarter is found in
//! the same second run: a sample brackets the quartile, cells under the bracket are only summed,
//! and the few inside it are selected exactly. A bracket that misses falls back on selecting among
//! all cells, so the answer never depends on luck.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use crate::statistics::{LANES, fold_lanes};
use ndarray::ArrayView2;
use pulp::{Arch, Simd, WithSimd};
use std::borrow::Cow;

/// The figures of a depth grid (or a window of it); ratios as fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uniformity {
    /// Christiansen's uniformity coefficient, fraction.
    pub cu: f64,
    /// Low-quarter distribution uniformity, fraction.
    pub du_lq: f64,
    /// Coefficient of variation (population), fraction.
    pub cv: f64,
    /// Mean depth, mm.
    pub mean_depth_mm: f64,
    /// Lowest cell, mm.
    pub lowest_depth_mm: f64,
    /// Highest cell, mm.
    pub highest_depth_mm: f64,
    /// Share of the area under 75 % of the mean.
    pub share_under_75: f64,
    /// Share of the area over 125 % of the mean.
    pub share_over_125: f64,
    /// Number of cells.
    pub cells: usize,
}

/// About so many cells are sampled to bracket the quartile: enough for a bracket of ±2 % of the
/// cells at three standard errors, few enough to cost nothing.
const SAMPLE_CELLS: usize = 4096;

/// Half-width of the bracket, in shares of the cells.
const BRACKET_SHARE: f64 = 0.02;

/// Figures of the cells of `depth_mm` (mm); `None` for an empty window or a mean that is not
/// positive and finite.
pub fn figures(depth_mm: &ArrayView2<'_, f64>) -> Option<Uniformity> {
    let rows: Vec<Cow<'_, [f64]>> = depth_mm
        .outer_iter()
        .map(|row| row.to_slice().map_or_else(|| Cow::Owned(row.to_vec()), Cow::Borrowed))
        .collect();
    let cells: usize = rows.iter().map(|row| row.len()).sum();
    let range = Arch::new().dispatch(RangeOf(&rows));
    let mean = range.total / cells as f64;
    if cells == 0 || !mean.is_finite() || mean <= 0.0 {
        return None;
    }
    let bracket = quartile_bracket(&rows, cells);
    let spread = Arch::new().dispatch(SpreadOf { rows: &rows, mean, bracket });
    let low_sum = low_quarter_sum(&rows, cells, &spread);
    let n = cells as f64;
    Some(Uniformity {
        cu: 1.0 - spread.absolute / (n * mean),
        du_lq: low_sum / (0.25 * n) / mean,
        cv: (spread.square / n).sqrt() / mean,
        mean_depth_mm: mean,
        lowest_depth_mm: range.lowest,
        highest_depth_mm: range.highest,
        share_under_75: spread.under_75 / n,
        share_over_125: spread.over_125 / n,
        cells,
    })
}

/// Sum and range of all cells.
struct Range {
    total: f64,
    lowest: f64,
    highest: f64,
}

impl Range {
    #[inline(always)]
    fn of(rows: &[Cow<'_, [f64]>]) -> Self {
        let mut all = Self { total: 0.0, lowest: f64::INFINITY, highest: f64::NEG_INFINITY };
        for row in rows {
            all.total += sum_of(row, |x| x);
            all.lowest = fold_of(row, all.lowest, |a, b| if b < a { b } else { a });
            all.highest = fold_of(row, all.highest, |a, b| if b > a { b } else { a });
        }
        all
    }
}

/// Sum of `part` of each cell of a row, in fixed lanes. One sum a sweep: the row stays close by,
/// and so plain a loop becomes vector instructions.
#[inline(always)]
fn sum_of(row: &[f64], part: impl Fn(f64) -> f64) -> f64 {
    let (blocks, rest) = row.as_chunks::<LANES>();
    let mut lanes = [0.0; LANES];
    for block in blocks {
        for (lane, &x) in lanes.iter_mut().zip(block) {
            *lane += part(x);
        }
    }
    rest.iter().fold(fold_lanes(lanes), |sum, &x| sum + part(x))
}

/// Lowest or highest cell of a row, starting `from`, as `pick` picks of two.
#[inline(always)]
fn fold_of(row: &[f64], from: f64, pick: impl Fn(f64, f64) -> f64) -> f64 {
    let (blocks, rest) = row.as_chunks::<LANES>();
    let mut lanes = [from; LANES];
    for block in blocks {
        for (lane, &x) in lanes.iter_mut().zip(block) {
            *lane = pick(*lane, x);
        }
    }
    lanes.iter().chain(rest).fold(from, |a, &b| pick(a, b))
}

/// The two runs over the cells as work that is compiled a second time for wider vectors and run so
/// where the processor has them: the same operations in the same order, so the same bits. What
/// they call has to be inlined for that.
struct RangeOf<'a>(&'a [Cow<'a, [f64]>]);

impl WithSimd for RangeOf<'_> {
    type Output = Range;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Range {
        Range::of(self.0)
    }
}

struct SpreadOf<'a> {
    rows: &'a [Cow<'a, [f64]>],
    mean: f64,
    bracket: (f64, f64),
}

impl WithSimd for SpreadOf<'_> {
    type Output = Spread;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Spread {
        Spread::of(self.rows, self.mean, self.bracket)
    }
}

/// Two depths that very likely enclose the quartile.
fn quartile_bracket(rows: &[Cow<'_, [f64]>], cells: usize) -> (f64, f64) {
    // An odd stride that shares no factor with the sprinkler spacing's cells would be ideal; a
    // prime near the wanted one comes close enough, and a miss is caught later.
    let stride = (cells / SAMPLE_CELLS).max(1) | 1;
    let mut sample: Vec<f64> = Vec::with_capacity(cells / stride + rows.len());
    let mut skip = 0;
    for row in rows {
        let mut at = skip;
        while at < row.len() {
            sample.push(row[at]);
            at += stride;
        }
        skip = at - row.len();
    }
    if sample.len() < 64 {
        return (f64::NEG_INFINITY, f64::INFINITY);
    }
    let rank = |share: f64| ((sample.len() as f64 * share) as usize).min(sample.len() - 1);
    let (low, high) = (rank(0.25 - BRACKET_SHARE), rank(0.25 + BRACKET_SHARE));
    let (below, &mut high_value, _) = sample.select_nth_unstable_by(high, f64::total_cmp);
    let (_, &mut low_value, _) = below.select_nth_unstable_by(low, f64::total_cmp);
    (low_value, high_value)
}

/// Deviations from the mean, and the cells at and under the quartile's bracket.
struct Spread {
    absolute: f64,
    square: f64,
    under_75: f64,
    over_125: f64,
    below_bracket_sum: f64,
    below_bracket_cells: f64,
    in_bracket: Vec<f64>,
}

impl Spread {
    #[inline(always)]
    fn of(rows: &[Cow<'_, [f64]>], mean: f64, bracket: (f64, f64)) -> Self {
        let mut all = Self {
            absolute: 0.0,
            square: 0.0,
            under_75: 0.0,
            over_125: 0.0,
            below_bracket_sum: 0.0,
            below_bracket_cells: 0.0,
            in_bracket: Vec::new(),
        };
        for row in rows {
            all.add_row(row, mean, bracket);
        }
        all
    }

    #[inline(always)]
    fn add_row(&mut self, row: &[f64], mean: f64, (low, high): (f64, f64)) {
        let one_if = |yes: bool| if yes { 1.0 } else { 0.0 };
        self.absolute += sum_of(row, |x| (x - mean).abs());
        self.square += sum_of(row, |x| (x - mean) * (x - mean));
        self.under_75 += sum_of(row, |x| one_if(x < 0.75 * mean));
        self.over_125 += sum_of(row, |x| one_if(x > 1.25 * mean));
        self.below_bracket_sum += sum_of(row, |x| if x < low { x } else { 0.0 });
        self.below_bracket_cells += sum_of(row, |x| one_if(x < low));
        // Few blocks hold a cell in the bracket: one look at each, without a branch a cell.
        let inside = |x: f64| x >= low && x <= high;
        for block in row.chunks(LANES) {
            if block.iter().fold(false, |any, &x| any | inside(x)) {
                self.in_bracket.extend(block.iter().filter(|x| inside(**x)));
            }
        }
    }
}

/// Sum of the lowest quarter of the area; the cell at the quarter's edge counts in part.
fn low_quarter_sum(rows: &[Cow<'_, [f64]>], cells: usize, spread: &Spread) -> f64 {
    let quarter = 0.25 * cells as f64;
    let wanted = quarter - spread.below_bracket_cells;
    if wanted >= 0.0 && wanted <= spread.in_bracket.len() as f64 {
        let mut inside = spread.in_bracket.clone();
        return spread.below_bracket_sum + lowest_sum(&mut inside, wanted);
    }
    let mut all: Vec<f64> = rows.iter().flat_map(|row| row.iter().copied()).collect();
    lowest_sum(&mut all, quarter)
}

/// Sum of the `wanted` lowest values (a fraction of a value counts in part); reorders `values`.
fn lowest_sum(values: &mut [f64], wanted: f64) -> f64 {
    let whole = wanted.floor() as usize;
    let part = wanted - wanted.floor();
    if whole >= values.len() {
        return values.iter().sum();
    }
    let (below, &mut edge, _) = values.select_nth_unstable_by(whole, f64::total_cmp);
    below.iter().sum::<f64>() + part * edge
}

#[cfg(test)]
#[path = "uniformity_tests.rs"]
mod tests;
