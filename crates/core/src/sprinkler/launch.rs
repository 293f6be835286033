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

/// Which angles K1 and K2 go with; see [`DragCorrection`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DragForm {
    /// K1 with the angle between a drop's velocities through the air and over the ground, K2 with
    /// that between its velocity through the air and the wind.
    AirAndGround,
    /// K1 with the angle between its velocity through the air and the wind, K2 with that between
    /// its velocities through the air and over the ground.
    AirAndWind,
}

/// How the drag of a drop in a jet differs from that of a lone sphere in still air.
///
/// C′ = C (1 + K1 sin β − K2 cos α), with the angles of the [`DragForm`]; fitted numbers, not physics.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DragCorrection {
    /// Which angles K1 and K2 go with.
    pub form: DragForm,
    /// K1: more of it, and drops that fly across the wind or are turned by it fall shorter.
    pub k1: f64,
    /// K2: more of it, and the pattern reaches farther down the wind.
    pub k2: f64,
    /// Spread by turbulence: σ = turbulence · wind at 2 m · flight time; 0 for none.
    pub turbulence: f64,
    /// Length over which the jet holds together: drag grows in proportion to the distance from the
    /// nozzle until there, m; 0 for drops that fly alone from the nozzle on.
    pub jet_length_m: f64,
    /// Whether large drops are flattened by the air, as drops that fall steadily are.
    pub flattens: bool,
}

impl DragCorrection {
    /// Plain sphere drag, no spread.
    pub const NONE: Self = Self {
        form: DragForm::AirAndGround,
        k1: 0.0,
        k2: 0.0,
        turbulence: 0.0,
        jet_length_m: 0.0,
        flattens: false,
    };

    /// What of it holds in still air.
    pub(super) const fn in_still_air(self) -> Self {
        Self { k1: 0.0, k2: 0.0, turbulence: 0.0, ..self }
    }

    /// Whether the numbers keep drag positive.
    ///
    /// # Errors
    /// K1 outside 0–5, K2 outside 0–0.95, turbulence outside 0–1, jet length outside 0–30 m.
    pub fn check(&self) -> Result<(), SprinklerProblem> {
        within("k1", self.k1, 0.0, 5.0)?;
        within("k2", self.k2, 0.0, 0.95)?;
        within("jet_length_m", self.jet_length_m, 0.0, 30.0)?;
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
