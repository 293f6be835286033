//! Leg and K1 from the cans around one sprinkler.
//!
//! The leg is linear between equally spaced knots, from the sprinkler to its radius, where it is 0;
//! few knots (about one for every can along the radius of a grid, one for a can and a half of a leg, 4
//! to 10 pieces) take the place of smoothing, so that intervals hold no bias of a smoother. In wind, K1 of the drag correction
//! C (1 + K1 sin β − K2 cos α) is fitted with it; K2 and the spread by turbulence are held fixed.
//! The rates are net: what reached the cans.
//!
//! Intervals are estimate ± t(n − p) · standard error, with HC3 errors (see `least_squares`). They
//! cover at their stated rate where the model is right and cans err by themselves (measured in the
//! tests); wrong wind notes, a leg that is not the same all round, and cans that err together come on
//! top and are not in them.

use super::basis::{Basis, Flying};
use super::least_squares::{self, Rest};
use super::volume::{VolumeCheck, against};
use super::{CatchProblem, CatchTest, Kind};
use crate::ensemble::{Interval, t_quantile};
use crate::range::within;
use crate::sprinkler::{DragCorrection, Launch, Leg};
use nalgebra::DVector;
use std::f64::consts::PI;

/// What is held fixed in a fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FitOptions {
    /// The drag correction; its K1 is fitted and not read.
    pub drag: DragCorrection,
    /// Level of the intervals, fraction.
    pub confidence_level: f64,
    /// Still-air radius, m; `None`: from the farthest wet can.
    pub radius_m: Option<f64>,
}

/// A leg (and K1) fitted to cans.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The leg, net of losses.
    pub leg: Leg,
    /// Limits of the rate at each knot; `None` where the rate is held at 0.
    pub rate_intervals: Vec<Option<Interval>>,
    /// K1; `None` in still air and for legs.
    pub k1: Option<K1Fit>,
    /// Places from the sprinkler, and rates measured and fitted, of each can with a reading.
    pub cans: Vec<FittedCan>,
    /// Root mean square of the residuals, mm/h.
    pub rms_mm_h: f64,
    /// The same as a fraction of the mean rate of the wet cans.
    pub rms_of_mean: f64,
    /// Share of the variance among the cans that the fit explains; 0 where they do not differ.
    pub r_squared: f64,
    /// Number of values fitted.
    pub parameters: usize,
    /// Volume of the leg against what was delivered; `None` without a discharge.
    pub volume: Option<VolumeCheck>,
    /// Limits of the volume caught, L.
    pub caught_l: Interval,
}

/// One can of a fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittedCan {
    /// Distance from the sprinkler, m.
    pub distance_m: f64,
    /// Measured, mm/h.
    pub measured_mm_h: f64,
    /// Fitted, mm/h.
    pub fitted_mm_h: f64,
}

/// K1 as fitted.
#[derive(Clone, Debug, PartialEq)]
pub struct K1Fit {
    /// Best value.
    pub k1: f64,
    /// Its limits; `None` where it sits at an end of its range.
    pub interval: Option<Interval>,
    /// Whether the test determines it.
    pub found: K1Found,
    /// K1 and the root mean square residual (mm/h) of the best leg with it.
    pub profile: Vec<(f64, f64)>,
}

/// Whether a test determines K1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum K1Found {
    /// Its interval is narrower than the range of values in use.
    Determined,
    /// The interval is wider than `WIDEST`: mostly for lack of wind, or of cans.
    TooWide,
    /// The best value lies at an end of what was tried.
    AtEnd,
}

/// Interval from which K1 counts as not determined: the width of the range in use.
const WIDEST: f64 = 1.0;
/// A can is wet from this share of the highest.
const WET_SHARE: f64 = 0.02;
/// Share of the variance among the cans under which nothing is explained.
const LEAST_EXPLAINED: f64 = 0.2;
/// Fewest cans beyond the number of what is fitted.
const SPARE_CANS: usize = 3;

/// Fits leg and, in wind, K1.
///
/// # Errors
/// A test under laterals, too few cans, no water, pressure or nozzle height not noted (in wind), options
/// out of range, a fit that does not settle.
pub fn fit(test: &CatchTest, options: &FitOptions) -> Result<Fit, CatchProblem> {
    Fitter::new(test, options)?.fit(test, options)
}

/// The flown basis of a test: any depths caught in cans at the same places in the same wind can be
/// fitted with it.
#[derive(Debug)]
struct Fitter {
    knots_m: Vec<f64>,
    basis: Basis,
}

impl Fit {
    /// Whether it says no more of the cans than one pattern that is none: under a fifth of their
    /// variance explained (judgment), or less than chance gives so many values fitted.
    pub fn explains_nothing(&self) -> bool {
        let (cans, fitted) = (self.cans.len() as f64, self.parameters as f64);
        // Of n cans that differ by chance alone, p values fitted explain (p − 1)/(n − 1) on average.
        let by_chance = (fitted - 1.0) / (cans - 1.0).max(1.0);
        self.r_squared < LEAST_EXPLAINED.max(by_chance)
    }
}

impl Fitter {
    /// Flies what a fit needs.
    ///
    /// # Errors
    /// See [`fit`].
    fn new(test: &CatchTest, options: &FitOptions) -> Result<Self, CatchProblem> {
        DragCorrection { k1: 0.0, ..options.drag }.check()?;
        within("level", options.confidence_level, 0.5, 0.999)?;
        let knots_m = knots(test, options.radius_m)?;
        let fitted = knots_m.len();
        let (cans, least) = (test.readings().len(), fitted + SPARE_CANS);
        if cans < least {
            return Err(CatchProblem::TooFewCans { cans, least, what: "a fit" });
        }
        let windy = matches!(test.kind, Kind::Single { .. })
            && test.wind.iter().any(|wind| wind.speed_m_s > 0.0);
        let basis = if windy {
            Basis::windy(test, &knots_m, &flying(test, options)?)?
        } else {
            Basis::still(test, &knots_m)?
        };
        Ok(Self { knots_m, basis })
    }

    /// Fits the depths of `test`.
    ///
    /// # Errors
    /// See [`fit`].
    fn fit(&self, test: &CatchTest, options: &FitOptions) -> Result<Fit, CatchProblem> {
        let depths = test.depths_mm();
        let measured = DVector::from_iterator(
            depths.len(),
            depths.iter().map(|depth| depth / test.duration_h),
        );
        if !(measured.sum() > 0.0) {
            return Err(CatchProblem::Dry);
        }
        let (rest, ladder) =
            least_squares::fit(&self.basis, &measured).map_err(CatchProblem::NoFit)?;
        let freedom = depths.len().saturating_sub(rest.parameters).max(1);
        let t = t_quantile(freedom, 0.5 + 0.5 * options.confidence_level);
        let error = |at: usize| rest.covariance[(at, at)].max(0.0).sqrt();
        let around = |value: f64, error: f64| Interval {
            low: value - t * error,
            high: value + t * error,
            level: options.confidence_level,
        };
        let hats = rest.rates_mm_h.len();
        let rate_intervals = (0..hats)
            .map(|hat| {
                let interval = around(rest.rates_mm_h[hat], error(hat));
                let interval = Interval { low: interval.low.max(0.0), ..interval };
                (error(hat) > 0.0).then_some(interval)
            })
            .collect();
        let leg = self.leg(&rest)?;
        let hours = test.duration_h;
        let caught_l = leg.discharge_l_s() * 3600.0 * hours;
        let caught_error = hours * self.volume_error_l_h(&rest);
        let k1 = self.basis.has_k1().then(|| {
            let interval = (!rest.k1_held)
                .then(|| around(rest.k1, error(hats)))
                .map(|i| Interval { low: i.low.max(0.0), ..i });
            let rms = |squares: f64| (squares / depths.len() as f64).sqrt();
            let profile = ladder.iter().map(|(k1, squares)| (*k1, rms(*squares))).collect();
            K1Fit { k1: rest.k1, interval, found: k1_found(interval), profile }
        });
        Ok(Fit {
            rate_intervals,
            k1,
            volume: against(test, caught_l).ok(),
            caught_l: around(caught_l, caught_error),
            ..goodness(test, &rest, &measured, leg)
        })
    }

    fn leg(&self, rest: &Rest) -> Result<Leg, CatchProblem> {
        let rates = rest.rates_mm_h.iter().copied().chain([0.0]).collect();
        Ok(Leg::new(self.knots_m.clone(), rates)?)
    }

    /// Standard error of the leg's volume, L/h: it is linear in the rates.
    fn volume_error_l_h(&self, rest: &Rest) -> f64 {
        let moments: Vec<f64> =
            (0..rest.rates_mm_h.len()).map(|hat| hat_volume_l_h(&self.knots_m, hat)).collect();
        let mut square = 0.0;
        for (i, a) in moments.iter().enumerate() {
            for (j, b) in moments.iter().enumerate() {
                square += a * b * rest.covariance[(i, j)];
            }
        }
        square.max(0.0).sqrt()
    }
}

/// The fit without its intervals.
fn goodness(test: &CatchTest, rest: &Rest, measured: &DVector<f64>, leg: Leg) -> Fit {
    let n = measured.len() as f64;
    let rms_mm_h = (rest.residuals.norm_squared() / n).sqrt();
    let wet = measured.iter().filter(|rate| **rate > 0.0).count().max(1);
    let mean = measured.mean();
    let spread: f64 = measured.iter().map(|rate| (rate - mean).powi(2)).sum();
    let places = test.readings();
    let cans = places.iter().zip(measured.iter()).zip(rest.residuals.iter());
    Fit {
        cans: cans
            .map(|(((x, y, _), measured), residual)| FittedCan {
                distance_m: test.from_sprinkler_m(*x, *y).unwrap_or(0.0),
                measured_mm_h: *measured,
                fitted_mm_h: measured + residual,
            })
            .collect(),
        rms_mm_h,
        rms_of_mean: rms_mm_h / (measured.sum() / wet as f64),
        r_squared: if spread > 0.0 { 1.0 - rest.residuals.norm_squared() / spread } else { 0.0 },
        parameters: rest.parameters,
        leg,
        rate_intervals: Vec::new(),
        k1: None,
        volume: None,
        caught_l: Interval { low: 0.0, high: 0.0, level: 0.0 },
    }
}

/// 2π ∫ r · hat dr of the hat of height 1 mm/h at a knot, L/h.
fn hat_volume_l_h(knots_m: &[f64], hat: usize) -> f64 {
    let top = knots_m[hat];
    let rising = |near: f64| (top - near) / 6.0 * (near + 2.0 * top);
    let falling = |far: f64| (far - top) / 6.0 * (2.0 * top + far);
    let inside = if hat == 0 { 0.5 * top * top } else { rising(knots_m[hat - 1]) };
    2.0 * PI * (inside + knots_m.get(hat + 1).map_or(0.0, |far| falling(*far)))
}

/// Equally spaced knots from the sprinkler to the radius.
fn knots(test: &CatchTest, radius_m: Option<f64>) -> Result<Vec<f64>, CatchProblem> {
    let places = test.readings();
    let highest = places.iter().map(|(_, _, depth)| *depth).fold(0.0, f64::max);
    if !(highest > 0.0) {
        return Err(CatchProblem::Dry);
    }
    let step_m = test.can_spacing_m().unwrap_or(1.0).max(0.05);
    let mut farthest_m = 0.0_f64;
    for (x, y, depth) in &places {
        let distance_m = test.from_sprinkler_m(*x, *y).ok_or(CatchProblem::WrongKind(
            "a leg can be fitted to the cans around one sprinkler only",
        ))?;
        if *depth > WET_SHARE * highest {
            farthest_m = farthest_m.max(distance_m);
        }
    }
    let radius_m = radius_m.unwrap_or(farthest_m + 0.5 * step_m);
    within("wetted radius, m", radius_m, 1.0, 100.0)?;
    let cans_a_piece = if matches!(test.kind, Kind::Leg) { 1.5 } else { 0.9 };
    let pieces = (radius_m / (cans_a_piece * step_m)).round().clamp(4.0, 10.0) as usize;
    Ok((0..=pieces).map(|knot| radius_m * knot as f64 / pieces as f64).collect())
}

fn flying(test: &CatchTest, options: &FitOptions) -> Result<Flying, CatchProblem> {
    let notes = &test.nozzle;
    let launch = Launch {
        pressure_kpa: notes.pressure_kpa.ok_or(CatchProblem::NotNoted("pressure"))?,
        trajectory_angle_deg: notes
            .trajectory_angle_deg
            .ok_or(CatchProblem::NotNoted("trajectory_angle"))?,
        nozzle_height_m: notes.height_m.ok_or(CatchProblem::NotNoted("nozzle height"))?,
    };
    launch.check()?;
    Ok(Flying { launch, drag: options.drag })
}

fn k1_found(interval: Option<Interval>) -> K1Found {
    match interval {
        None => K1Found::AtEnd,
        Some(interval) if interval.high - interval.low > WIDEST => K1Found::TooWide,
        Some(_) => K1Found::Determined,
    }
}

#[cfg(test)]
#[path = "fit_tests.rs"]
mod tests;
