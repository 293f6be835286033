//! Figures of uniformity of a depth grid.
//!
//! With n equal cells of depth x and mean M:
//! - CU = 1 − Σ|x − M| / (n M) (Christiansen 1942);
//! - DUlq = mean of the lowest quarter of the *area* / M (SCS NEH 15-11, 1983): where n/4 is not
//!   whole, the next lowest cell counts in part;
//! - CV = √(Σ(x − M)²/n) / M.
//!
//! Valid for any window in which some water fell; a dry window has no figures. Neglects what lies
//! between cell centres (a cell is the mean over itself).
//!
//! Method: one run over the cells for mean and range, one for deviations. The quarter is found in
//! the same second run: a sample brackets the quartile, cells under the bracket are only summed,
//! and the few inside it are selected exactly. A bracket that misses falls back on selecting among
//! all cells, so the answer never depends on luck.

use crate::statistics::{LANES, fold_lanes};
use ndarray::ArrayView2;
use std::borrow::Cow;

/// The figures of a depth grid (or a window of it); ratios as fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
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
pub fn figures(depth_mm: &ArrayView2<'_, f64>) -> Option<Figures> {
    let rows: Vec<Cow<'_, [f64]>> = depth_mm
        .outer_iter()
        .map(|row| row.to_slice().map_or_else(|| Cow::Owned(row.to_vec()), Cow::Borrowed))
        .collect();
    let cells: usize = rows.iter().map(|row| row.len()).sum();
    let range = Range::of(&rows);
    let mean = range.total / cells as f64;
    if cells == 0 || !mean.is_finite() || mean <= 0.0 {
        return None;
    }
    let bracket = quartile_bracket(&rows, cells);
    let spread = Spread::of(&rows, mean, bracket);
    let low_sum = low_quarter_sum(&rows, cells, &spread);
    let n = cells as f64;
    Some(Figures {
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
    fn of(rows: &[Cow<'_, [f64]>]) -> Self {
        let mut all = Self { total: 0.0, lowest: f64::INFINITY, highest: f64::NEG_INFINITY };
        for row in rows {
            let mut lanes = [0.0; LANES];
            let mut low = [f64::INFINITY; LANES];
            let mut high = [f64::NEG_INFINITY; LANES];
            let (blocks, rest) = row.as_chunks::<LANES>();
            for block in blocks {
                for i in 0..LANES {
                    lanes[i] += block[i];
                    low[i] = if block[i] < low[i] { block[i] } else { low[i] };
                    high[i] = if block[i] > high[i] { block[i] } else { high[i] };
                }
            }
            all.total += rest.iter().fold(fold_lanes(lanes), |sum, x| sum + x);
            all.lowest = low.iter().chain(rest).fold(all.lowest, |a, &b| a.min(b));
            all.highest = high.iter().chain(rest).fold(all.highest, |a, &b| a.max(b));
        }
        all
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

    fn add_row(&mut self, row: &[f64], mean: f64, (low, high): (f64, f64)) {
        let (blocks, rest) = row.as_chunks::<LANES>();
        let mut lanes = [[0.0; LANES]; 6];
        for block in blocks {
            add_block(&mut lanes, block, mean, low);
            self.keep(block, low, high);
        }
        let mut sums = lanes.map(fold_lanes);
        for &x in rest {
            // Lane 0 carries the value; the other lanes are filler and are left out below.
            let mut tail = [[0.0; LANES]; 6];
            let mut block = [mean; LANES];
            block[0] = x;
            add_block(&mut tail, &block, mean, low);
            for (sum, lane) in sums.iter_mut().zip(&tail) {
                *sum += lane[0];
            }
            self.keep(&[x], low, high);
        }
        self.absolute += sums[0];
        self.square += sums[1];
        self.under_75 += sums[2];
        self.over_125 += sums[3];
        self.below_bracket_sum += sums[4];
        self.below_bracket_cells += sums[5];
    }

    fn keep(&mut self, block: &[f64], low: f64, high: f64) {
        for &x in block {
            if x >= low && x <= high {
                self.in_bracket.push(x);
            }
        }
    }
}

/// Adds a block of cells to the running lanes: |dev|, dev², under 75 %, over 125 %, sum and count
/// under the bracket.
fn add_block(lanes: &mut [[f64; LANES]; 6], block: &[f64; LANES], mean: f64, low: f64) {
    for i in 0..LANES {
        let x = block[i];
        let deviation = x - mean;
        lanes[0][i] += deviation.abs();
        lanes[1][i] += deviation * deviation;
        lanes[2][i] += if x < 0.75 * mean { 1.0 } else { 0.0 };
        lanes[3][i] += if x > 1.25 * mean { 1.0 } else { 0.0 };
        lanes[4][i] += if x < low { x } else { 0.0 };
        lanes[5][i] += if x < low { 1.0 } else { 0.0 };
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
