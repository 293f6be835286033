//! The sprinkler: from leg, shape or nozzle to the depth it lays on the grid in a wind.
//!
//! ```text
//! leg (measured) ────────────────┐
//! shape (ideal) ─────────────────┼→ Leg + Launch = Jet ─┬─ landing: where the wind takes each
//! nozzle (pressure, drop sizes) ─┘                      │  class of drops, from drag and flight
//!                                                       └─ footprint: rings × azimuths laid on cells
//! losses: what never reaches the ground, by hour
//! ```
//!
//! `dormand_prince` integrates, [`flight`] knows the forces, [`landing`] tabulates, `tubes`, `scratch`
//! and [`footprint`] lay water on cells, [`radial`] does the same in still air. Nothing here knows the
//! field, the lateral or the clock.

pub mod attitude;
mod dormand_prince;
pub mod drag;
pub mod flight;
pub mod footprint;
pub mod landing;
pub mod leg;
pub mod losses;
pub mod nozzle;
pub mod problem;
pub mod radial;
mod scratch;
pub mod shape;
pub mod tilted;
mod tubes;

pub use leg::Leg;
pub use problem::SprinklerProblem;

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
    /// Pressure outside 10–2000 kPa, trajectory outside 0–60°, height outside 0.05–10 m.
    pub fn check(&self) -> Result<(), SprinklerProblem> {
        within("pressure_kpa", self.pressure_kpa, 10.0, 2000.0)?;
        within("trajectory_deg", self.trajectory_angle_deg, 0.0, 60.0)?;
        Ok(within("nozzle_height_m", self.nozzle_height_m, 0.05, 10.0)?)
    }
}

/// One nozzle's jet: what it lays down in still air, and how it flies.
#[derive(Clone, Debug, PartialEq)]
pub struct Jet {
    /// Still-air leg of this jet.
    pub leg: Leg,
    /// How it leaves the nozzle.
    pub launch: Launch,
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

/// A sprinkler: its jets, which add up, and its drag correction.
#[derive(Clone, Debug, PartialEq)]
pub struct Sprinkler {
    /// The jets.
    pub jets: Vec<Jet>,
    /// The drag correction.
    pub drag: DragCorrection,
}

impl Sprinkler {
    /// What all jets deliver together, L/s.
    pub fn discharge_l_s(&self) -> f64 {
        self.jets.iter().map(|jet| jet.leg.discharge_l_s()).sum()
    }

    /// Still-air radius of the farthest jet, m.
    pub fn radius_m(&self) -> f64 {
        self.jets.iter().map(|jet| jet.leg.radius_m()).fold(0.0, f64::max)
    }

    /// Whether every part can be computed with.
    ///
    /// # Errors
    /// The first jet or coefficient that is not sound; no jets at all.
    pub fn check(&self) -> Result<(), SprinklerProblem> {
        if self.jets.is_empty() {
            return Err(SprinklerProblem::NoJets);
        }
        self.drag.check()?;
        for jet in &self.jets {
            jet.leg.check()?;
            jet.launch.check()?;
        }
        Ok(())
    }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;

    #[test]
    fn closed_jets_add_up() {
        let launch =
            Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
        let jet = |radius_m: f64| {
            let leg = Leg::new(vec![radius_m], vec![3600.0]).unwrap();
            Jet { leg, launch }
        };
        let sprinkler = Sprinkler { jets: vec![jet(1.0), jet(2.0)], drag: DragCorrection::NONE };
        // 3600 mm/h over π and 4π m² is 5π L/s.
        let expected = 5.0 * std::f64::consts::PI;
        assert!((sprinkler.discharge_l_s() - expected).abs() < 1e-12);
        assert_eq!(sprinkler.radius_m(), 2.0);
        assert!(sprinkler.check().is_ok());
    }

    #[test]
    fn invariant_unsound_sprinklers_are_refused() {
        let none = Sprinkler { jets: vec![], drag: DragCorrection::NONE };
        assert_eq!(none.check(), Err(SprinklerProblem::NoJets));
        let drag = DragCorrection { k1: f64::NAN, ..DragCorrection::NONE };
        assert!(drag.check().is_err());
        let launch =
            Launch { pressure_kpa: -1.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
        assert!(launch.check().is_err());
    }
}
