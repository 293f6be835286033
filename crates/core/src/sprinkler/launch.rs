//! How the water leaves a nozzle, and the drag its drops meet in wind.

use super::problem::SprinklerProblem;
use crate::range::within;

/// How the water leaves a nozzle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Launch {
    /// Pressure at the nozzle, kPa.
    pub pressure_kpa: f64,
    /// Angle above the horizontal, degrees.
    pub trajectory_angle_deg: f64,
    /// Height of the nozzle above ground, m.
    pub nozzle_height_m: f64,
}

impl Launch {
    /// Whether a drop so launched can be followed to the ground.
    ///
    /// # Errors
    /// Pressure outside 10–2000 kPa, trajectory angle outside 0–60°, height outside 0.05–10 m.
    pub fn check(&self) -> Result<(), SprinklerProblem> {
        within("pressure_kpa", self.pressure_kpa, 10.0, 2000.0)?;
        within("trajectory_deg", self.trajectory_angle_deg, 0.0, 60.0)?;
        Ok(within("nozzle_height_m", self.nozzle_height_m, 0.05, 10.0)?)
    }
}

/// The drag correction in wind, C′ = C (1 + K1 sin β − K2 cos α); fitted numbers, not physics.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DragCorrection {
    /// K1, narrows the pattern across the wind.
    pub k1: f64,
    /// K2, lengthens it down the wind.
    pub k2: f64,
    /// Spread by turbulence: σ = turbulence · wind at 2 m · flight time; 0 for none.
    pub turbulence: f64,
}

impl DragCorrection {
    /// Plain sphere drag, no spread.
    pub const NONE: Self = Self { k1: 0.0, k2: 0.0, turbulence: 0.0 };

    /// Whether the numbers keep drag positive.
    ///
    /// # Errors
    /// K1 outside 0–5, K2 outside 0–0.95, turbulence outside 0–1.
    pub fn check(&self) -> Result<(), SprinklerProblem> {
        within("k1", self.k1, 0.0, 5.0)?;
        within("k2", self.k2, 0.0, 0.95)?;
        Ok(within("turbulence", self.turbulence, 0.0, 1.0)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn invariant_unsound_numbers_are_refused() {
        let drag = DragCorrection { k1: f64::NAN, ..DragCorrection::NONE };
        assert!(drag.check().is_err());
        let launch =
            Launch { pressure_kpa: -1.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
        assert!(launch.check().is_err());
    }
}
