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
//! Refused: tests that no draw comes near (χ² of the best beyond its 99.9 % quantile), or that so few
//! draws come near that their ranges mean nothing, and tests that narrow no doubt. A doubt counts as
//! narrowed where the range of the middle nine tenths shrinks by a tenth or more.
//!
//! Valid for the sprinkler, pressure and form of the drag tested. Neglected: errors of the wind noted,
//! and doubts outside the table: a test at another pressure than stated looks like another radius.

mod errors;
mod found;
mod posterior;
mod prior;
mod study;
mod surface;

pub use found::{
    Calibrated, CalibrationOptions, CalibrationProblem, LEAST_EFFECTIVE, NARROWED, Narrowed,
    TestUsed,
};
pub use study::{LARGEST_CAN_ERROR, STARTING_CAN_ERROR};

use super::rig::Rig;
use super::{CatchProblem, CatchTest};
use crate::calibration::{NUMBERS, SprinklerPoint};
use crate::doubt::tested::TESTED;
use crate::season::Progress;
use posterior::{Evidence, Weighted};
use prior::Prior;
use statrs::distribution::{ChiSquared, ContinuousCDF};
use study::Study;

/// χ² beyond this quantile says that the model cannot follow.
const CANNOT_FOLLOW: f64 = 0.999;
/// Ends and middle of ranges.
const SHARES: [f64; 3] = [0.05, 0.5, 0.95];

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
    let limit =
        ChiSquared::new(cans as f64).map_or(f64::INFINITY, |chi| chi.inverse_cdf(CANNOT_FOLLOW));
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
