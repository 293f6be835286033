//! One test's cans over the whole prior: the simulator run at its points, and the surface through them.
//!
//! Runs are coarse (`rig`); what the finer simulator lays otherwise at the scenario's own numbers is added
//! to all of them. Losses are a factor on all depths, n = (1 − f L)/(1 − L) for f times the share L that
//! the scenario's formula loses on average over the test: exact for one wind, and close where the
//! formula gives about the same for all winds of a test. The can error is the one asked for, or 5 % (judgment), or what the cans scatter
//! about their neighbors if that is more.

use super::super::outliers::{beside, scatter};
use super::super::rig::{Fineness, Rig, mean_loss, simulate_any};
use super::super::{Can, CatchProblem, CatchTest};
use super::errors::{Sizes, covariance};
use super::found::{CalibrationOptions, CalibrationProblem, TestUsed};
use super::posterior::Evidence;
use super::prior::Prior;
use super::surface::{SHAPING, Surface};
use crate::calibration::SprinklerPoint;
use crate::doubt::apply::at_point;
use nalgebra::DMatrix;
use rayon::prelude::*;

/// Coefficient of variation of a can's reading where nothing else is said.
pub const STARTING_CAN_ERROR: f64 = 0.05;
/// Most that cans' own scatter is taken for.
pub const LARGEST_CAN_ERROR: f64 = 0.3;
/// Runs between two looks at whether to go on; a multiple of the usual number of threads.
const BATCH: usize = 32;
/// Fewest cans that calibrate.
const FEWEST: usize = 8;

/// A test's cans over the prior.
#[derive(Debug)]
pub(super) struct Study {
    /// The cans that take part, by their place in the test.
    pub(super) cans: Vec<usize>,
    left_out: Vec<usize>,
    surface: Surface,
    errors: DMatrix<f64>,
    mean_mm: f64,
    lost: f64,
    sizes: Sizes,
    discharge_ratio: f64,
}

impl Study {
    /// Runs the simulator for the cans of `test`; `went` is told of the runs done and may stop them.
    pub(super) fn of(
        test: &CatchTest,
        rig: &Rig<'_>,
        (prior, options): (&Prior, &CalibrationOptions),
        went: &(dyn Fn(usize) -> bool + Sync),
    ) -> Result<Self, CalibrationProblem> {
        let spacing_m = test.can_spacing_m().unwrap_or(1.0);
        let discharge = rig.sprinkler.discharge_l_s();
        let noted = test.nozzle.discharge_l_s;
        let discharge_ratio = noted.map_or(1.0, |noted| noted / discharge);
        let (points, depths_mm) = runs(test, rig, (prior, options.runs), went)?;
        let depths_mm = depths_mm * discharge_ratio;
        let model_mm: Vec<f64> = depths_mm.column_iter().map(|can| can.mean()).collect();
        let can_error = options.can_error.unwrap_or_else(|| {
            let own = scatter(&test.cans, &model_mm, spacing_m).unwrap_or(0.0);
            own.clamp(STARTING_CAN_ERROR, LARGEST_CAN_ERROR)
        });
        let left_out = beside(&test.cans, &model_mm, spacing_m, can_error);
        let left_out: Vec<usize> = left_out.iter().map(|outlier| outlier.can).collect();
        let is_in = |can: &usize| test.cans[*can].depth_mm.is_some() && !left_out.contains(can);
        let cans: Vec<usize> = (0..test.cans.len()).filter(is_in).collect();
        if cans.len() < FEWEST {
            let (cans, least) = (cans.len(), FEWEST);
            return Err(CatchProblem::TooFewCans { cans, least, what: "a calibration" }.into());
        }
        let depths_mm = depths_mm.select_columns(&cans);
        let expected_mm: Vec<f64> = cans.iter().map(|can| model_mm[*can]).collect();
        let mean_mm = expected_mm.iter().sum::<f64>() / expected_mm.len() as f64;
        let too_few = CatchProblem::NoFit(format!("{} runs are too few", options.runs));
        let surface = Surface::through(&points, &depths_mm).ok_or(too_few)?;
        let sizes = Sizes {
            can: can_error,
            pattern: options.pattern_error,
            is_measured: noted.is_some(),
            radius_m: rig.sprinkler.radius_m(),
        };
        let places: Vec<Can> = cans.iter().map(|can| test.cans[*can]).collect();
        let errors = covariance(&places, &expected_mm, &sizes);
        let lost = mean_loss(test, rig)?;
        Ok(Self { cans, left_out, surface, errors, mean_mm, lost, sizes, discharge_ratio })
    }

    /// What the depths of `test` say, a test of the same cans in the same wind.
    pub(super) fn evidence(&self, test: &CatchTest) -> Result<Evidence, CatchProblem> {
        let caught = |can: &usize| test.cans[*can].depth_mm.unwrap_or(0.0);
        let caught_mm: Vec<f64> = self.cans.iter().map(caught).collect();
        if !(caught_mm.iter().sum::<f64>() > 0.0) {
            return Err(CatchProblem::Dry);
        }
        Evidence::of(&self.surface, &self.errors, &caught_mm, self.lost).ok_or_else(|| {
            CatchProblem::NoFit("the errors of the cans are no covariance".to_owned())
        })
    }

    /// How the test was taken.
    pub(super) fn used(&self) -> TestUsed {
        TestUsed {
            cans: self.cans.len(),
            left_out: self.left_out.clone(),
            can_error: self.sizes.can,
            surface_error: self.surface.rms_mm() / self.mean_mm,
            discharge_ratio: self.discharge_ratio,
        }
    }

    /// Covariance of reading, pattern and level, for tests that draw such errors.
    #[cfg(test)]
    pub(super) fn errors(&self) -> &DMatrix<f64> {
        &self.errors
    }
}

/// The depths that the simulator lays into `test` for a sprinkler with these numbers.
pub(super) fn simulated(
    test: &CatchTest,
    rig: &Rig<'_>,
    point: &SprinklerPoint,
    fine: &Fineness,
) -> Result<Vec<f64>, CatchProblem> {
    let sprinkler = at_point(rig.sprinkler, point.drag(rig.sprinkler.drag), point.radius)?;
    let losses_factor = rig.losses_factor * point.losses;
    simulate_any(test, &Rig { sprinkler: &sprinkler, losses_factor, ..*rig }, fine)
}

/// Standardized points, and the depths there: a row a run, a column a can.
type Runs = (Vec<[f64; SHAPING]>, DMatrix<f64>);

fn runs(
    test: &CatchTest,
    rig: &Rig<'_>,
    (prior, count): (&Prior, usize),
    went: &(dyn Fn(usize) -> bool + Sync),
) -> Result<Runs, CalibrationProblem> {
    let own = simulate_any(test, rig, &Fineness::default())?;
    let coarse = simulate_any(test, rig, &Fineness::COARSE)?;
    let mut depths: Vec<Vec<f64>> = Vec::with_capacity(count);
    while depths.len() < count {
        let batch = depths.len()..(depths.len() + BATCH).min(count);
        let run = |index: usize| {
            simulated(test, rig, &SprinklerPoint::of(prior.run(index)), &Fineness::COARSE)
        };
        let laid: Vec<Vec<f64>> =
            batch.into_par_iter().map(run).collect::<Result<_, CatchProblem>>()?;
        depths.extend(laid);
        if !went(depths.len()) {
            return Err(CalibrationProblem::Stopped { done: depths.len(), total: count });
        }
    }
    let points = (0..count).map(|index| prior.standardized(&prior.run(index))).collect();
    let all = DMatrix::from_fn(count, own.len(), |run, can| {
        (depths[run][can] + own[can] - coarse[can]).max(0.0)
    });
    Ok((points, all))
}
