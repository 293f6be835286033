//! What a calibration is asked, what it finds, and why it refuses.

use super::super::CatchProblem;
use crate::calibration::SprinklerPoint;
use crate::doubt::table::Doubt;

/// Least effective number of draws.
pub const LEAST_EFFECTIVE: f64 = 100.0;
/// Share of its width that the range of a narrowed doubt keeps at most.
pub const NARROWED: f64 = 0.9;
/// How much is computed, and how far cans and model may err.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CalibrationOptions {
    /// Coefficient of variation of a can's reading; `None`: 5 %, or what the test shows if that is more.
    pub can_error: Option<f64>,
    /// The same of the model's pattern.
    pub pattern_error: f64,
    /// Runs of the simulator for each test.
    pub runs: usize,
    /// Draws that are weighed, a round.
    pub draws: usize,
    /// Points that are kept.
    pub points: usize,
}

impl Default for CalibrationOptions {
    fn default() -> Self {
        Self { can_error: None, pattern_error: 0.10, runs: 384, draws: 1 << 14, points: 128 }
    }
}

/// What tests leave open.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibrated {
    /// Points of equal weight.
    pub points: Vec<SprinklerPoint>,
    /// Every doubt before and after, in the order of a point's numbers.
    pub doubts: Vec<Narrowed>,
    /// Effective number of draws.
    pub effective: f64,
    /// Draws weighed in the last round.
    pub draws: usize,
    /// Test by test.
    pub tests: Vec<TestUsed>,
}

/// A doubt before the tests and after.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Narrowed {
    /// Which.
    pub doubt: Doubt,
    /// 5 % quantile, median and 95 % quantile before.
    pub prior: [f64; 3],
    /// The same after.
    pub posterior: [f64; 3],
}

impl Narrowed {
    /// Width of the range after over that before.
    pub fn kept(&self) -> f64 {
        let width = |range: [f64; 3]| range[2] - range[0];
        let before = width(self.prior);
        if before > 0.0 { width(self.posterior) / before } else { 1.0 }
    }

    /// Whether the tests say anything of it.
    pub fn is_narrowed(&self) -> bool {
        self.kept() <= NARROWED
    }
}

/// How a test was taken.
#[derive(Clone, Debug, PartialEq)]
pub struct TestUsed {
    /// Cans that took part.
    pub cans: usize,
    /// Cans left out because they do not go with their neighbors, in the test's order.
    pub left_out: Vec<usize>,
    /// Coefficient of variation of a reading that was taken.
    pub can_error: f64,
    /// What the surface misses of the simulator, as a share of the mean depth.
    pub surface_error: f64,
    /// Discharge noted over that of the sprinkler; 1 where none is noted.
    pub discharge_ratio: f64,
}

/// Why tests cannot calibrate.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CalibrationProblem {
    /// A test cannot be simulated.
    #[error(transparent)]
    Test(#[from] CatchProblem),
    /// No test.
    #[error("no test to calibrate by")]
    NoTest,
    /// The model cannot come near the tests.
    #[error(
        "the model cannot follow {} whatever the doubts: the misfit (χ²) of the best draw is {chi_square:.0} \
         for {cans} cans, and at most {limit:.0} can be chance",
        if *.tests == 1 { "this test" } else { "these tests together" }
    )]
    CannotFollow {
        /// Tests.
        tests: usize,
        /// χ² of the best draw.
        chi_square: f64,
        /// Its limit.
        limit: f64,
        /// Cans.
        cans: usize,
    },
    /// Too few draws come near.
    #[error(
        "too few draws come near the tests: {effective:.0} count of {draws}, and at least {LEAST_EFFECTIVE} \
         are needed; the truth may lie at the end of a range"
    )]
    TooFew {
        /// Effective number.
        effective: f64,
        /// Draws.
        draws: usize,
    },
    /// No doubt became narrower.
    #[error(
        "nothing to learn: no range of a doubt is narrower with these tests than without them ({0})"
    )]
    NothingNarrowed(String),
    /// Stopped from outside.
    #[error("stopped after {done} of {total} runs")]
    Stopped {
        /// Runs done.
        done: usize,
        /// Runs in all.
        total: usize,
    },
}
