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
//! Method: one sweep over the cells for mean and range, one for deviations (`sweeps`). The quarter is
//! found in the same second sweep: a sample brackets the quartile, cells under the bracket are only summed,
//! and the few inside it are selected exactly. A bracket that misses falls back on selecting among
//! all cells, so the answer never depends on luck.

mod sweeps;

use ndarray::ArrayView2;
use std::borrow::Cow;
use sweeps::{Range, Spread};

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
    figures_of_rows(&rows.iter().map(AsRef::as_ref).collect::<Vec<_>>())
}

/// The same of cells given row by row, or run by run.
pub(crate) fn figures_of_rows(rows: &[&[f64]]) -> Option<Uniformity> {
    let cells: usize = rows.iter().map(|row| row.len()).sum();
    // An odd stride that shares no factor with the sprinkler spacing's cells would be ideal; a
    // prime near the wanted one comes close enough, and a miss is caught later.
    let mut range = Range::of(rows, (cells / SAMPLE_CELLS).max(1) | 1);
    let mean = range.total / cells as f64;
    if cells == 0 || !mean.is_finite() || mean <= 0.0 {
        return None;
    }
    let spread = Spread::of(rows, mean, quartile_bracket(&mut range.sample));
    let n = cells as f64;
    let (absolute, square) = (spread.absolute, spread.square);
    let (under_75, over_125) = (spread.under_75 / n, spread.over_125 / n);
    Some(Uniformity {
        cu: 1.0 - absolute / (n * mean),
        du_lq: low_quarter_sum(rows, cells, spread) / (0.25 * n) / mean,
        cv: (square / n).sqrt() / mean,
        mean_depth_mm: mean,
        lowest_depth_mm: range.lowest,
        highest_depth_mm: range.highest,
        share_under_75: under_75,
        share_over_125: over_125,
        cells,
    })
}

/// Two depths that very likely enclose the quartile of what was sampled so.
fn quartile_bracket(sample: &mut [f64]) -> (f64, f64) {
    if sample.len() < 64 {
        return (f64::NEG_INFINITY, f64::INFINITY);
    }
    let rank = |share: f64| ((sample.len() as f64 * share) as usize).min(sample.len() - 1);
    let (low, high) = (rank(0.25 - BRACKET_SHARE), rank(0.25 + BRACKET_SHARE));
    let (below, &mut high_value, _) = sample.select_nth_unstable_by(high, f64::total_cmp);
    let (_, &mut low_value, _) = below.select_nth_unstable_by(low, f64::total_cmp);
    (low_value, high_value)
}

/// Sum of the lowest quarter of the area; the cell at the quarter's edge counts in part.
fn low_quarter_sum(rows: &[&[f64]], cells: usize, mut spread: Spread) -> f64 {
    let quarter = 0.25 * cells as f64;
    let wanted = quarter - spread.below_bracket_cells;
    if wanted >= 0.0 && wanted <= spread.in_bracket.len() as f64 {
        return spread.below_bracket_sum + lowest_sum(&mut spread.in_bracket, wanted);
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
