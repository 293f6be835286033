//! A sprinkler and its jets.

use super::flow_control::{FlowControl, jet_kpa};
use super::launch::{DragCorrection, Launch};
use super::leg::Leg;
use super::pattern::Pattern;
use super::problem::SprinklerProblem;
use std::sync::Arc;

/// One nozzle's jet: what it lays down in still air, and how it flies.
#[derive(Clone, Debug)]
pub struct Jet {
    pattern: Arc<dyn Pattern>,
    /// How it leaves the nozzle.
    pub launch: Launch,
}

impl Jet {
    /// A jet of any kind of pattern.
    pub fn new(pattern: impl Pattern, launch: Launch) -> Self {
        Self { pattern: Arc::new(pattern), launch }
    }

    /// Its leg in still air.
    pub fn leg(&self) -> &Leg {
        self.pattern.leg()
    }

    /// The jet at `pressure_ratio` times its pressure; `radius_exponent` is m of R ∝ Pᵐ.
    ///
    /// # Errors
    /// A radius or discharge out of range.
    pub fn at(&self, pressure_ratio: f64, radius_exponent: f64) -> Result<Self, SprinklerProblem> {
        let leg = self.pattern.leg_at(pressure_ratio, radius_exponent)?;
        let pressure_kpa = self.launch.pressure_kpa * pressure_ratio;
        Ok(Self::new(leg, Launch { pressure_kpa, ..self.launch }))
    }
}

impl PartialEq for Jet {
    fn eq(&self, other: &Self) -> bool {
        *self.pattern == *other.pattern && self.launch == other.launch
    }
}

/// A sprinkler: its jets, which add up, and its drag correction.
#[derive(Clone, Debug, PartialEq)]
pub struct Sprinkler {
    /// The jets.
    pub jets: Vec<Jet>,
    /// The drag correction.
    pub drag: DragCorrection,
    /// Where its nozzles hold their discharge; `None` for plain ones.
    pub flow_control: Option<FlowControl>,
}

impl Sprinkler {
    /// What all jets deliver together, L/s.
    pub fn discharge_l_s(&self) -> f64 {
        self.jets.iter().map(|jet| jet.leg().discharge_l_s()).sum()
    }

    /// Pressure for which it is stated, kPa; 0 without jets.
    pub fn stated_kpa(&self) -> f64 {
        self.jets.first().map_or(0.0, |jet| jet.launch.pressure_kpa)
    }

    /// What it delivers at a pressure at its nozzle, as a share of the stated discharge: √P, or what
    /// flow control makes of it.
    pub fn share_at(&self, nozzle_kpa: f64) -> f64 {
        let stated_kpa = self.stated_kpa();
        (jet_kpa(self.flow_control, stated_kpa, nozzle_kpa).max(0.0) / stated_kpa).sqrt()
    }

    /// Still-air radius of the farthest jet, m.
    pub fn radius_m(&self) -> f64 {
        self.jets.iter().map(|jet| jet.leg().radius_m()).fold(0.0, f64::max)
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
        if let Some(control) = &self.flow_control {
            control.check(self.stated_kpa())?;
        }
        for jet in &self.jets {
            jet.leg().check()?;
            jet.launch.check()?;
        }
        Ok(())
    }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;
    use crate::sprinkler::shape::{IdealPattern, Shape};

    const LAUNCH: Launch =
        Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };

    fn disk(radius_m: f64) -> Leg {
        Leg::new(vec![radius_m], vec![3600.0]).unwrap()
    }

    #[test]
    fn closed_jets_add_up() {
        let jets = [1.0, 2.0].map(|radius_m| Jet::new(disk(radius_m), LAUNCH));
        let sprinkler =
            Sprinkler { jets: jets.to_vec(), drag: DragCorrection::NONE, flow_control: None };
        // 3600 mm/h over π and 4π m² is 5π L/s.
        let expected = 5.0 * std::f64::consts::PI;
        assert!((sprinkler.discharge_l_s() - expected).abs() < 1e-12);
        assert_eq!(sprinkler.radius_m(), 2.0);
        assert!(sprinkler.check().is_ok());
    }

    #[test]
    fn invariant_a_sprinkler_without_jets_is_refused() {
        let none = Sprinkler { jets: vec![], drag: DragCorrection::NONE, flow_control: None };
        assert_eq!(none.check(), Err(SprinklerProblem::NoJets));
    }

    #[test]
    fn closed_jets_are_equal_where_kind_and_numbers_are() {
        let ideal = IdealPattern::new(Shape::Uniform, 2.0, 0.4).unwrap();
        let (jet, of_leg) = (Jet::new(ideal.clone(), LAUNCH), Jet::new(disk(2.0), LAUNCH));
        assert_eq!(jet, Jet::new(ideal, LAUNCH));
        assert_eq!(of_leg, Jet::new(disk(2.0), LAUNCH));
        assert!(jet != of_leg && of_leg != Jet::new(disk(3.0), LAUNCH));
    }
}
