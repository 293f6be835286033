//! Calibration: what catch tests say of the doubts about the sprinkler.
//!
//! ```text
//! prior (the ranges of `crate::doubt`) ─draws→ runs of the simulator for each test's cans
//!   ─surface→ cans as polynomials of the doubts ─errors, posterior→ weighted draws
//!   ─resampled→ points of equal weight (`crate::calibration`), ranges before and after
//! ```
//!
//! Bayes' rule by importance sampling: a draw weighs as much as it makes the tests
//! likely. Cans that do not go with their neighbors as the model's do (`outliers`) are left out and
//! told: one spilled can must not move K1. A noted discharge scales the simulated depths.
//!
//! Refused: tests that no draw comes near (χ² of the best beyond 1.3 times its 99.9 % quantile), or that so few
//! draws come near that their ranges mean nothing, and tests that narrow no doubt. A doubt counts as
//! narrowed where the range of the middle nine tenths shrinks by a tenth or more.
//!
//! Valid for the sprinkler, pressure and form of the drag tested. Neglected: errors of the wind noted,
//! and doubts outside the table: a test at another pressure than stated looks like another radius.

mod errors;
mod posterior;
mod prior;
mod study;
mod surface;

pub use study::{LARGEST_CAN_ERROR, STARTING_CAN_ERROR};

use super::rig::Rig;
use super::{CatchProblem, CatchTest};
use crate::calibration::{NUMBERS, SprinklerPoint};
use crate::doubt::table::Doubt;
use crate::doubt::tested::TESTED;
use crate::season::Progress;
use posterior::{Evidence, Weighted};
use prior::Prior;
use statrs::distribution::{ChiSquared, ContinuousCDF};
use study::Study;

/// Least effective number of draws.
pub const LEAST_EFFECTIVE: f64 = 100.0;
/// Share of its width that the range of a narrowed doubt keeps at most.
pub const NARROWED: f64 = 0.9;
/// χ² beyond so many times this quantile says that the model cannot follow: near the ends of the prior the
/// surface misses more than on average, and tests made there must not be refused.
const CANNOT_FOLLOW: (f64, f64) = (1.3, 0.999);
/// Ends and middle of ranges.
const SHARES: [f64; 3] = [0.05, 0.5, 0.95];

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

/// Calibrates the sprinkler of `rig` by `tests` together.
///
/// # Errors
/// A test that cannot be simulated, tests that say nothing or that the model cannot follow, a stop.
pub fn calibrate(
    rig: &Rig<'_>,
    tests: &[CatchTest],
    options: &CalibrationOptions,
    go_on: &(dyn Fn(Progress) -> bool + Sync),
) -> Result<Calibrated, CalibrationProblem> {
    if tests.is_empty() {
        return Err(CalibrationProblem::NoTest);
    }
    let prior = Prior::around(&rig.sprinkler.drag);
    let total = tests.len() * options.runs;
    let mut studies = Vec::with_capacity(tests.len());
    for (index, test) in tests.iter().enumerate() {
        let went = |done: usize| go_on(Progress { done: index * options.runs + done, total });
        studies.push(Study::of(test, rig, (&prior, options), &went)?);
    }
    let evidence: Vec<Evidence> = studies
        .iter()
        .zip(tests)
        .map(|(study, test)| study.evidence(test))
        .collect::<Result<_, CatchProblem>>()?;
    let weighted = weigh(&prior, &evidence, options.draws);
    let doubts = checked(&prior, &weighted, &evidence)?;
    Ok(Calibrated {
        points: weighted.resampled(options.points).into_iter().map(SprinklerPoint::of).collect(),
        doubts,
        effective: weighted.effective(),
        draws: options.draws,
        tests: studies.iter().map(Study::used).collect(),
    })
}

fn weigh(prior: &Prior, evidence: &[Evidence], draws: usize) -> Weighted {
    Weighted::of(prior, evidence, draws)
}

/// The doubts before and after, if the tests say something that can be relied upon.
fn checked(
    prior: &Prior,
    weighted: &Weighted,
    evidence: &[Evidence],
) -> Result<Vec<Narrowed>, CalibrationProblem> {
    let cans: usize = evidence.iter().map(|one| one.cans).sum();
    let limit = ChiSquared::new(cans as f64)
        .map_or(f64::INFINITY, |chi| CANNOT_FOLLOW.0 * chi.inverse_cdf(CANNOT_FOLLOW.1));
    let chi_square = weighted.best_chi_square;
    if chi_square > limit {
        let tests = evidence.len();
        return Err(CalibrationProblem::CannotFollow { tests, chi_square, limit, cans });
    }
    let (effective, draws) = (weighted.effective(), weighted.count());
    if effective < LEAST_EFFECTIVE {
        return Err(CalibrationProblem::TooFew { effective, draws });
    }
    let doubts = narrowed(prior, weighted);
    if !doubts.iter().any(Narrowed::is_narrowed) {
        let kept = doubts.iter().map(|doubt| {
            format!("{} keeps {:.0} %", doubt.doubt.row().label, 100.0 * doubt.kept())
        });
        return Err(CalibrationProblem::NothingNarrowed(kept.collect::<Vec<_>>().join(", ")));
    }
    Ok(doubts)
}

fn narrowed(prior: &Prior, weighted: &Weighted) -> Vec<Narrowed> {
    let of = |number: usize| Narrowed {
        doubt: TESTED[number],
        prior: SHARES.map(|share| prior.quantile(number, share)),
        posterior: weighted.quantiles(number, SHARES),
    };
    (0..NUMBERS).map(of).collect()
}

#[cfg(test)]
mod tests;
