//! A field test held against the simulated pass in the wind that was noted that day.
//!
//! Figures of both over the same cans; the differences can by can: mean, root mean square, and the
//! correlation of Pearson. A simulation can be right on the mean and wrong on the pattern, or the
//! other way round, so both are given. The simulated depths come from [`rig`](super::rig).

use super::confidence::{Limits, limits};
use super::{CatchProblem, CatchTest};
use crate::uniformity::{Uniformity, figures};
use ndarray::ArrayView2;

/// Fewest cans that are compared.
const FEWEST: usize = 4;

/// Measured against simulated.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Figures of the cans, with limits.
    pub measured: Limits,
    /// Figures of the simulated depths in the same cans.
    pub simulated: Uniformity,
    /// Cans with a reading.
    pub pairs: Vec<Pair>,
    /// Correlation of measured and simulated; `None` where one of them does not vary.
    pub correlation: Option<f64>,
    /// Root mean square of the differences, mm.
    pub rms_mm: f64,
    /// Mean simulated less mean measured, mm.
    pub mean_difference_mm: f64,
    /// Root mean square of the differences once both are over their own mean, fraction: the pattern
    /// alone.
    pub pattern_rms: f64,
}

/// One can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// Place, m.
    pub x_m: f64,
    /// Place, m.
    pub y_m: f64,
    /// Measured, mm.
    pub measured_mm: f64,
    /// Simulated, mm.
    pub simulated_mm: f64,
}

/// Compares the cans of a test with `simulated_mm`, one a can in the test's order.
///
/// # Errors
/// Fewer than four cans with a reading, no water in one of the two, lists of different length.
pub fn compare(
    test: &CatchTest,
    simulated_mm: &[f64],
    level: f64,
) -> Result<Comparison, CatchProblem> {
    if simulated_mm.len() != test.cans.len() {
        return Err(CatchProblem::WrongKind("one simulated depth a can is needed"));
    }
    let pairs: Vec<Pair> = test
        .cans
        .iter()
        .zip(simulated_mm)
        .filter_map(|(can, simulated)| {
            let measured_mm = can.depth_mm?;
            Some(Pair { x_m: can.x_m, y_m: can.y_m, measured_mm, simulated_mm: *simulated })
        })
        .collect();
    if pairs.len() < FEWEST {
        let cans = pairs.len();
        return Err(CatchProblem::TooFewCans { cans, least: FEWEST, what: "a comparison" });
    }
    let list = |of: &dyn Fn(&Pair) -> f64| pairs.iter().map(of).collect::<Vec<f64>>();
    let (measured, simulated) = (list(&|p| p.measured_mm), list(&|p| p.simulated_mm));
    let limits = limits(&measured, level)?;
    let row = ArrayView2::from_shape((1, simulated.len()), &simulated);
    let of_simulated = row.ok().and_then(|row| figures(&row)).ok_or(CatchProblem::Dry)?;
    let (mean_m, mean_s) = (limits.figures.mean_depth_mm, of_simulated.mean_depth_mm);
    let n = pairs.len() as f64;
    let mean_of = |of: &dyn Fn(&Pair) -> f64| pairs.iter().map(of).sum::<f64>() / n;
    let together = mean_of(&|p| (p.measured_mm - mean_m) * (p.simulated_mm - mean_s));
    let spreads = mean_of(&|p| (p.measured_mm - mean_m).powi(2))
        * mean_of(&|p| (p.simulated_mm - mean_s).powi(2));
    Ok(Comparison {
        measured: limits,
        simulated: of_simulated,
        correlation: (spreads > 1e-24 * (mean_m * mean_s).powi(2))
            .then(|| together / spreads.sqrt()),
        rms_mm: mean_of(&|p| (p.simulated_mm - p.measured_mm).powi(2)).sqrt(),
        mean_difference_mm: mean_s - mean_m,
        pattern_rms: mean_of(&|p| (p.simulated_mm / mean_s - p.measured_mm / mean_m).powi(2))
            .sqrt(),
        pairs,
    })
}

#[cfg(test)]
#[path = "compare_tests.rs"]
mod tests;
