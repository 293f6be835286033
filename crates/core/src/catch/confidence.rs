//! CU and DUlq of a catch test with confidence limits.
//!
//! The spread comes from the jackknife, each can left out in turn (Tukey 1958; Efron & Tibshirani
//! 1993, An Introduction to the Bootstrap, ch. 11; from memory, high). Limits are those of Student's t
//! on ln(1 − figure), the unevenness on a scale of its own, so no limit passes 100 %. Degrees of
//! freedom are n − 1 for CU and n/4 − 1 (at least 2) for DUlq, in which only the cans of the low
//! quarter move; the latter is ours, chosen by trial: with n − 1 the 90 % limits of DUlq covered 77–90 %.
//!
//! Measured cover of the 90 % limits, cans at random places (normal, lognormal, two waves as of an
//! overlap, a half-normal tail of dry spots): CU 85–92 % from 24 cans, DUlq 86–94 %; from 48 cans 89–92 %
//! and 89–93 %. With 8 or 12 cans CU falls to 84 % where there is a tail of dry spots, DUlq is wider
//! than it says (89–98 %). A bootstrap with bias correction and acceleration covered less (DUlq
//! 77–88 % at 24 cans), so it is not used.
//!
//! What is neglected: cans on a grid are alike where they are neighbors, and stand evenly instead of
//! at random. Over a smooth pattern an even grid errs less than the limits say. The limits tell how
//! far these cans tell the figure of the patch of ground under these laterals on this day, and
//! nothing of another place, day or wind.

use super::CatchProblem;
use crate::ensemble::{Interval, t_quantile};
use crate::uniformity::{Uniformity, figures};
use libm::{exp, log};
use ndarray::ArrayView2;

/// Fewest cans for figures.
pub const FEWEST: usize = 4;
/// Fewest cans for limits.
const FEWEST_FOR_LIMITS: usize = 8;

/// Figures with limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// The figures.
    pub figures: Uniformity,
    /// Limits of CU; `None` under eight cans or where no can differs.
    pub cu: Option<Interval>,
    /// Limits of DUlq; `None` likewise.
    pub du_lq: Option<Interval>,
}

/// Figures of cans that stand for equal areas, with limits at `level` (fraction).
///
/// # Errors
/// Fewer than four cans, no water in any, a level outside 0.5–0.999.
pub fn limits(depths_mm: &[f64], level: f64) -> Result<Limits, CatchProblem> {
    crate::range::within("level", level, 0.5, 0.999)?;
    let n = depths_mm.len();
    if n < FEWEST {
        return Err(CatchProblem::TooFewCans { cans: n, least: FEWEST, what: "CU and DUlq" });
    }
    let figures = of(depths_mm).ok_or(CatchProblem::Dry)?;
    if n < FEWEST_FOR_LIMITS {
        return Ok(Limits { figures, cu: None, du_lq: None });
    }
    let mut without: Vec<Uniformity> = Vec::with_capacity(n);
    for can in 0..n {
        let mut rest = depths_mm.to_vec();
        rest.remove(can);
        without.push(of(&rest).ok_or(CatchProblem::Dry)?);
    }
    let interval = |figure: f64, of: &dyn Fn(&Uniformity) -> f64, freedom: usize| {
        let values: Vec<f64> = without.iter().map(of).collect();
        around(figure, jackknife_error(&values), t_quantile(freedom, 0.5 + 0.5 * level), level)
    };
    Ok(Limits {
        figures,
        cu: interval(figures.cu, &|f| f.cu, n - 1),
        du_lq: interval(figures.du_lq, &|f| f.du_lq, (n / 4).saturating_sub(1).max(2)),
    })
}

/// Figures of a list of depths; `None` without water.
fn of(depths_mm: &[f64]) -> Option<Uniformity> {
    figures(&ArrayView2::from_shape((1, depths_mm.len()), depths_mm).ok()?)
}

/// Standard error from the values with one can left out each.
fn jackknife_error(values: &[f64]) -> f64 {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    ((n - 1.0) / n * squares).sqrt()
}

/// Limits on ln(1 − figure); `None` where there is no unevenness to speak of.
fn around(figure: f64, error: f64, t: f64, level: f64) -> Option<Interval> {
    let uneven = 1.0 - figure;
    if !(uneven > 1e-9 && error.is_finite()) {
        return None;
    }
    let stretch = (t * error / uneven).min(50.0);
    let (low, high) = (1.0 - exp(log(uneven) + stretch), 1.0 - exp(log(uneven) - stretch));
    // DUlq is never under 0; CU can be.
    Some(Interval { low, high, level })
}

#[cfg(test)]
#[path = "confidence_tests.rs"]
mod tests;
