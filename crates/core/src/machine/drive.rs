//! Time of a move against temperature, from the oil of a hydraulic drive.
//!
//! t = c · ν(T)ⁿ, with ν from [`super::oil`] and c and n fitted to moves that the user has timed:
//! a straight line through log t against log ν (least squares where there are more than two).
//!
//! The form is ours, without a source: thick oil slows a hydraulic drive, and two parameters are
//! what two timed moves can settle. The oil is taken to be as warm as the air. Valid between the
//! timed temperatures; beyond them it is an extrapolation and [`Drive::is_beyond`] says so.

use super::oil::Oil;
use crate::statistics;

/// Temperatures closer than this do not settle a slope, K; judgment.
const LEAST_SPREAD_K: f64 = 3.0;
/// So far beyond the timed temperatures the fit still counts as between them, K; judgment.
const NEAR_K: f64 = 3.0;

/// A move that was timed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimedMove {
    /// Air temperature, °C.
    pub temperature_c: f64,
    /// How long the move took, h.
    pub time_h: f64,
}

/// What can be wrong with the timed moves.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum DriveProblem {
    /// Too few.
    #[error("two timed moves are needed, at temperatures at least 3 K (5 °F) apart")]
    TooAlike,
    /// A time that is none.
    #[error("a move takes some time: {time_h} h is none")]
    NoTime {
        /// The time, h.
        time_h: f64,
    },
    /// Faster in cold.
    #[error(
        "the timed moves are faster in cold than in heat; thick oil cannot do that, so something \
         else made the difference: time them again on like ground"
    )]
    FasterInCold,
}

/// A drive with its oil, fitted to timed moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    oil: Oil,
    ln_c: f64,
    exponent: f64,
    /// Coldest and warmest timed temperature, °C.
    timed_c: (f64, f64),
    /// Largest miss of a timed move from the fit, a fraction of its time; 0 with two.
    pub largest_miss: f64,
}

impl Drive {
    /// Fits a drive with `oil` to `timed` moves.
    ///
    /// # Errors
    /// Times or temperatures that settle nothing.
    pub fn fit(oil: Oil, timed: &[TimedMove]) -> Result<Self, DriveProblem> {
        if let Some(bad) = timed.iter().find(|one| !(one.time_h > 0.0 && one.time_h.is_finite())) {
            return Err(DriveProblem::NoTime { time_h: bad.time_h });
        }
        let temperatures = timed.iter().map(|one| one.temperature_c);
        let coldest_c = temperatures.clone().fold(f64::INFINITY, f64::min);
        let warmest_c = temperatures.fold(f64::NEG_INFINITY, f64::max);
        if !(warmest_c - coldest_c >= LEAST_SPREAD_K) {
            return Err(DriveProblem::TooAlike);
        }
        let x: Vec<f64> =
            timed.iter().map(|one| oil.viscosity_mm2_s(one.temperature_c).ln()).collect();
        let y: Vec<f64> = timed.iter().map(|one| one.time_h.ln()).collect();
        let count = timed.len() as f64;
        let (mean_x, mean_y) = (statistics::sum(&x) / count, statistics::sum(&y) / count);
        let products = |of: &dyn Fn(usize) -> f64| -> f64 {
            statistics::sum(&(0..x.len()).map(of).collect::<Vec<_>>())
        };
        let exponent = products(&|i| (x[i] - mean_x) * (y[i] - mean_y))
            / products(&|i| (x[i] - mean_x) * (x[i] - mean_x));
        if exponent < 0.0 {
            return Err(DriveProblem::FasterInCold);
        }
        let ln_c = mean_y - exponent * mean_x;
        let timed_c = (coldest_c, warmest_c);
        let mut drive = Self { oil, ln_c, exponent, timed_c, largest_miss: 0.0 };
        let misses =
            timed.iter().map(|one| drive.move_time_h(one.temperature_c) / one.time_h - 1.0);
        drive.largest_miss = misses.map(f64::abs).fold(0.0, f64::max);
        Ok(drive)
    }

    /// Time of a move at `temperature_c`, h.
    pub fn move_time_h(&self, temperature_c: f64) -> f64 {
        (self.ln_c + self.exponent * self.oil.viscosity_mm2_s(temperature_c).ln()).exp()
    }

    /// The power n of the viscosity.
    pub fn exponent(&self) -> f64 {
        self.exponent
    }

    /// The oil.
    pub fn oil(&self) -> &Oil {
        &self.oil
    }

    /// Coldest and warmest timed temperature, °C.
    pub fn timed_c(&self) -> (f64, f64) {
        self.timed_c
    }

    /// Whether `temperature_c` lies beyond the timed moves, where the fit is an extrapolation.
    pub fn is_beyond(&self, temperature_c: f64) -> bool {
        let (coldest_c, warmest_c) = self.timed_c;
        temperature_c < coldest_c - NEAR_K || temperature_c > warmest_c + NEAR_K
    }

    /// The temperature below which a move takes longer than `gap_h`, °C, within `range_c`: `None`
    /// if it never does there, the upper end if it always does.
    pub fn too_cold_below_c(&self, gap_h: f64, range_c: (f64, f64)) -> Option<f64> {
        let (mut low, mut high) = range_c;
        if self.move_time_h(low) <= gap_h {
            return None;
        }
        if self.move_time_h(high) > gap_h {
            return Some(high);
        }
        // Time falls with temperature, so halving finds the one place; 60 halvings are exact.
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.move_time_h(middle) > gap_h { low = middle } else { high = middle }
        }
        Some(high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn oil() -> Oil {
        Oil::new(32.0, 5.4).unwrap()
    }

    fn timed(temperature_c: f64, time_h: f64) -> TimedMove {
        TimedMove { temperature_c, time_h }
    }

    #[test]
    fn closed_two_timed_moves_are_met_and_between_them_time_goes_with_viscosity() {
        let drive = Drive::fit(oil(), &[timed(25.0, 0.3), timed(5.0, 0.6)]).unwrap();
        assert!((drive.move_time_h(25.0) - 0.3).abs() < 1e-12);
        assert!((drive.move_time_h(5.0) - 0.6).abs() < 1e-12 && drive.largest_miss < 1e-12);
        // Twice the time by n = ln 2 / ln(ν(5)/ν(25)).
        let ratio = oil().viscosity_mm2_s(5.0) / oil().viscosity_mm2_s(25.0);
        assert!((drive.exponent() - 2f64.ln() / ratio.ln()).abs() < 1e-12);
        let cold_c = drive.too_cold_below_c(0.5, (-20.0, 40.0)).unwrap();
        assert!((drive.move_time_h(cold_c) - 0.5).abs() < 1e-9);
        assert_eq!(drive.too_cold_below_c(24.0, (-20.0, 40.0)), None);
        assert_eq!(drive.too_cold_below_c(0.01, (-20.0, 40.0)), Some(40.0));
        assert!(drive.is_beyond(-5.0) && !drive.is_beyond(10.0));
    }

    #[test]
    fn closed_moves_that_settle_nothing_are_refused() {
        let fit = |timed: &[TimedMove]| Drive::fit(oil(), timed).unwrap_err();
        assert_eq!(fit(&[timed(20.0, 0.3)]), DriveProblem::TooAlike);
        assert_eq!(fit(&[timed(20.0, 0.3), timed(21.0, 0.4)]), DriveProblem::TooAlike);
        assert_eq!(fit(&[timed(20.0, 0.4), timed(5.0, 0.3)]), DriveProblem::FasterInCold);
        assert_eq!(fit(&[timed(20.0, 0.0), timed(5.0, 0.3)]), DriveProblem::NoTime { time_h: 0.0 });
    }

    proptest! {
        #[test]
        fn invariant_a_known_drive_is_found_back(
            exponent in 0.05..1.5f64, at_20_h in 0.1..1.0f64, cold_c in -10.0..10.0f64
        ) {
            let nu = |celsius: f64| oil().viscosity_mm2_s(celsius);
            let time_h = |celsius: f64| at_20_h * (nu(celsius) / nu(20.0)).powf(exponent);
            let moves: Vec<TimedMove> =
                [cold_c, 15.0, 20.0, 35.0].map(|t| timed(t, time_h(t))).to_vec();
            let drive = Drive::fit(oil(), &moves).unwrap();
            prop_assert!((drive.exponent() - exponent).abs() < 1e-9);
            prop_assert!((drive.move_time_h(0.0) / time_h(0.0) - 1.0).abs() < 1e-9);
        }
    }
}
