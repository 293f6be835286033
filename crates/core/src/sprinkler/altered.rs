//! A jet that throws farther or delivers more than stated, its pattern otherwise the same.
//!
//! The leg is drawn out or in along the distance and scaled to its discharge, at every pressure:
//! rate(r) = stated(r / a) · b / a², a and b being the factors of radius and discharge. The jet leaves
//! as it did. Neglected: that a worn bore makes coarser drops and throws a little farther.

use super::jet::{Jet, Sprinkler};
use super::leg::Leg;
use super::pattern::Pattern;
use super::problem::SprinklerProblem;

/// The pattern of `stated` with another radius and discharge.
#[derive(Debug, PartialEq)]
struct Altered {
    stated: Jet,
    radius_factor: f64,
    discharge_factor: f64,
    leg: Leg,
}

impl Altered {
    fn new(stated: &Jet, factors: (f64, f64)) -> Result<Self, SprinklerProblem> {
        let (radius_factor, discharge_factor) = factors;
        let leg = altered(stated.leg(), factors)?;
        Ok(Self { stated: stated.clone(), radius_factor, discharge_factor, leg })
    }
}

/// The leg keeps its discharge as it is drawn out, and is scaled only where it has to be.
fn altered(leg: &Leg, (radius, discharge): (f64, f64)) -> Result<Leg, SprinklerProblem> {
    let drawn_out = leg.with_radius(leg.radius_m() * radius)?;
    if discharge == 1.0 {
        return Ok(drawn_out);
    }
    drawn_out.with_discharge(leg.discharge_l_s() * discharge)
}

impl Pattern for Altered {
    fn leg(&self) -> &Leg {
        &self.leg
    }

    fn leg_at(&self, pressure_ratio: f64, radius_exponent: f64) -> Result<Leg, SprinklerProblem> {
        let stated = self.stated.at(pressure_ratio, radius_exponent)?;
        altered(stated.leg(), (self.radius_factor, self.discharge_factor))
    }
}

impl Jet {
    /// The jet with so many times its radius and its discharge.
    ///
    /// # Errors
    /// A radius or discharge out of range.
    pub fn altered(
        &self,
        radius_factor: f64,
        discharge_factor: f64,
    ) -> Result<Self, SprinklerProblem> {
        let pattern = Altered::new(self, (radius_factor, discharge_factor))?;
        Ok(Self::new(pattern, self.launch))
    }
}

impl Sprinkler {
    /// The sprinkler with all its jets [`Jet::altered`].
    ///
    /// # Errors
    /// A radius or discharge out of range.
    pub fn altered(
        &self,
        radius_factor: f64,
        discharge_factor: f64,
    ) -> Result<Self, SprinklerProblem> {
        let jets = self.jets.iter().map(|jet| jet.altered(radius_factor, discharge_factor));
        Ok(Self { jets: jets.collect::<Result<_, _>>()?, ..self.clone() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sprinkler::Launch;

    #[test]
    fn closed_radius_and_discharge_change_each_by_itself_at_any_pressure() {
        let launch =
            Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
        let stated = Jet::new(Leg::new(vec![0.0, 10.0], vec![6.0, 0.0]).unwrap(), launch);
        for (radius, discharge) in [(1.1, 1.0), (1.0, 1.05), (0.9, 0.8)] {
            let altered = stated.altered(radius, discharge).unwrap();
            for pressure_ratio in [0.8, 1.0] {
                let at = |jet: &Jet| jet.at(pressure_ratio, 0.2).unwrap();
                let (a, b) = (at(&stated), at(&altered));
                let ratio = b.leg().discharge_l_s() / a.leg().discharge_l_s();
                assert!((b.leg().radius_m() / a.leg().radius_m() - radius).abs() < 1e-12);
                assert!((ratio - discharge).abs() < 1e-12);
            }
        }
    }
}
