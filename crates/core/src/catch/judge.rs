//! Whether the model passes a test under laterals: CU and DUlq of what a pass lays, measured against
//! simulated.
//!
//! Cans under one lateral hold a part of what falls on their ground: the sets on both sides lay the
//! rest. So measured and simulated depths are overlapped alike (`overlap`) before figures are taken.
//! Cans on one side only are mirrored first, measured and simulated alike; that takes the two sides
//! as the same, which wind breaks. Cans under several laterals hold their sum already.
//!
//! The model passes if both figures differ by no more than √((z s)² + t²): s the standard error of
//! CU of ballistic models fitted to tests, 3.09 points (Playán et al. 2006, Agric. Water Manage. 84,
//! abstract), z of the two-sided level, and t the test's own limit on that side (`confidence`). For
//! DUlq s is 1.59 · 3.09 = 4.91 points: the slope of DU = 100 − 1.59 (100 − CU), which holds for
//! normally distributed depths (SCS NEH 15-11; from memory); that it carries errors over is ours.
//!
//! Overlapped points that are no cans of their own (interpolated, or the other side's mirror image)
//! are not counted as such: t is widened by √(points/independent points). Neglected: errors of the
//! wind noted, and whatever is not in the test, such as another wind.

use super::confidence::{Limits, limits};
use super::overlap::{Spacing, TestPattern, overlap};
use super::{Can, CatchProblem, CatchTest, Kind, Lines};
use crate::ensemble::Interval;
use crate::rotation::Shift;
use crate::statistics::normal_quantile;
use crate::uniformity::{Uniformity, figures};
use ndarray::ArrayView2;

/// Standard error of CU of a model fitted to tests, fraction.
pub const MODEL_ERROR_OF_CU: f64 = 0.0309;
/// Points of DUlq for one of CU.
const DU_TO_CU: f64 = 1.59;

/// How a model stands against a test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judgment {
    /// How the cans were put together.
    pub pass: Pass,
    /// CU of both.
    pub cu: Against,
    /// DUlq of both.
    pub du_lq: Against,
    /// Level of what is allowed, fraction.
    pub level: f64,
}

/// How the depths of a pass were had from the cans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pass {
    /// The cans stood under several laterals.
    AsCaught,
    /// Those of one lateral were overlapped.
    Overlapped {
        /// Spacing of the lateral's stops, m.
        across_m: f64,
        /// The cans stood on one side and were mirrored.
        mirrored: bool,
        /// Water fell beyond the outermost cans.
        cut_off: bool,
    },
}

/// A figure of the test and of the model, fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Against {
    /// Of the cans.
    pub measured: f64,
    /// Of the model.
    pub simulated: f64,
    /// How much they may differ.
    pub allowed: f64,
}

impl Against {
    /// Whether they differ by no more than is allowed.
    pub fn passes(&self) -> bool {
        (self.simulated - self.measured).abs() <= self.allowed
    }
}

impl Judgment {
    /// Whether the model passes.
    pub fn passes(&self) -> bool {
        self.cu.passes() && self.du_lq.passes()
    }
}

/// Judges `simulated_mm`, one depth a can in the test's order. `across_m` is the spacing at which one
/// lateral's cans are overlapped.
///
/// # Errors
/// A test of another kind, cans on no regular grid, no water, no spacing for one lateral.
pub fn judge(
    test: &CatchTest,
    simulated_mm: &[f64],
    across_m: Option<f64>,
    level: f64,
) -> Result<Judgment, CatchProblem> {
    let Kind::Lines(lines) = &test.kind else {
        return Err(CatchProblem::WrongKind("a test under laterals is needed to judge a pass"));
    };
    let model = with_depths(test, simulated_mm)?;
    if lines.at_m.len() != 1 {
        let measured = limits(&test.depths_mm(), level)?;
        let simulated = of_list(&model.depths_mm())?;
        return Ok(judged(Pass::AsCaught, &measured, &simulated, (level, 1.0)));
    }
    let across_m = across_m.ok_or(CatchProblem::NotNoted("outlet spacing"))?;
    let mirrored = is_one_sided(test, lines);
    let pattern = |test: &CatchTest| {
        if mirrored { TestPattern::of(&both_sides(test, lines)) } else { TestPattern::of(test) }
    };
    let measured = pattern(test)?;
    let cut_off = measured.is_cut_off(false);
    let pass = |pattern: &TestPattern| {
        let spacing = Spacing { along_m: None, across_m };
        overlap(pattern, spacing, &[Shift { across_m: 0.0, along_m: 0.0 }])
    };
    let (measured, simulated) = (pass(&measured)?, pass(&pattern(&model)?)?);
    // Between the cans there are two points a can, of the mirror's two sides one is a can's.
    let a_can = [!measured.exact, mirrored].map(|is| if is { 2.0_f64 } else { 1.0 });
    let widen = (a_can[0] * a_can[1]).sqrt();
    let depths: Vec<f64> = measured.depth_mm.iter().copied().collect();
    let pass = Pass::Overlapped { across_m, mirrored, cut_off };
    Ok(judged(pass, &limits(&depths, level)?, &simulated.figures, (level, widen)))
}

fn judged(
    pass: Pass,
    measured: &Limits,
    simulated: &Uniformity,
    (level, widen): (f64, f64),
) -> Judgment {
    let z = normal_quantile(0.5 + 0.5 * level);
    let against = |measured: f64, limits: Option<Interval>, simulated: f64, error: f64| {
        let own = limits.map_or(0.0, |limits| {
            if simulated > measured { limits.high - measured } else { measured - limits.low }
        });
        let allowed = ((z * error).powi(2) + (widen * own).powi(2)).sqrt();
        Against { measured, simulated, allowed }
    };
    let error = MODEL_ERROR_OF_CU;
    Judgment {
        pass,
        cu: against(measured.figures.cu, measured.cu, simulated.cu, error),
        du_lq: against(measured.figures.du_lq, measured.du_lq, simulated.du_lq, DU_TO_CU * error),
        level,
    }
}

/// The test with the model's depths in the cans that have a reading.
fn with_depths(test: &CatchTest, simulated_mm: &[f64]) -> Result<CatchTest, CatchProblem> {
    if simulated_mm.len() != test.cans.len() {
        return Err(CatchProblem::WrongKind("one simulated depth a can is needed"));
    }
    let mut model = test.clone();
    for (can, depth_mm) in model.cans.iter_mut().zip(simulated_mm) {
        can.depth_mm = can.depth_mm.map(|_| *depth_mm);
    }
    Ok(model)
}

fn of_list(depths_mm: &[f64]) -> Result<Uniformity, CatchProblem> {
    let row = ArrayView2::from_shape((1, depths_mm.len()), depths_mm).ok();
    row.and_then(|row| figures(&row)).ok_or(CatchProblem::Dry)
}

/// Place of the one lateral, m.
fn at_m(lines: &Lines) -> f64 {
    lines.at_m.first().copied().unwrap_or(0.0)
}

/// Whether all cans stand on one side of the lateral, or under it.
fn is_one_sided(test: &CatchTest, lines: &Lines) -> bool {
    let near_m = 0.5 * test.can_spacing_m().unwrap_or(1.0);
    let is_beyond = |side: f64| move |can: &Can| side * (can.y_m - at_m(lines)) > near_m;
    !test.cans.iter().any(is_beyond(1.0)) || !test.cans.iter().any(is_beyond(-1.0))
}

/// The test with every can once more on the other side of the lateral.
fn both_sides(test: &CatchTest, lines: &Lines) -> CatchTest {
    let mut both = test.clone();
    let off_m = |can: &&Can| (can.y_m - at_m(lines)).abs();
    // Cans right under it, and the few just beyond it, are their own mirror images.
    let farthest = test.cans.iter().max_by(|a, b| off_m(a).total_cmp(&off_m(b)));
    let side = farthest.map_or(1.0, |can| (can.y_m - at_m(lines)).signum());
    both.cans.retain(|can| side * (can.y_m - at_m(lines)) > -1e-6);
    let images: Vec<Can> = both
        .cans
        .iter()
        .filter(|can| off_m(can) > 1e-6)
        .map(|can| Can { y_m: 2.0 * at_m(lines) - can.y_m, ..*can })
        .collect();
    both.cans.extend(images);
    both
}

#[cfg(test)]
#[path = "judge_tests.rs"]
mod tests;
