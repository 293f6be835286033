//! What every kind of sprinkler pattern has in common.
//!
//! A pattern is what one nozzle lays down around itself in still air, wherever that is known from: a
//! measured leg ([`Leg`]), an ideal shape ([`shape`](super::shape)) or a nozzle with its drop sizes
//! ([`nozzle`](super::nozzle)). The leg says how much water falls at each distance, and so in each
//! drop class of a landing map; its discharge and its radius are the pattern's.
//!
//! At another pressure a plain nozzle delivers q ∝ √P (Torricelli) and throws to R ∝ Pᵐ (m is the
//! user's; see [`crate::lateral::hydraulics`]); the leg keeps its shape. Neglected there: the ring
//! that low pressure leaves, and how drop sizes follow pressure.
//!
//! A new kind is one file with one `impl Pattern`: it gives its leg, and says how that changes with
//! pressure where √P and Pᵐ do not hold.

use super::leg::Leg;
use super::problem::SprinklerProblem;
use libm::pow;
use std::any::Any;
use std::fmt;

/// What one nozzle lays down in still air, and how pressure changes it.
pub trait Pattern: SamePattern + fmt::Debug + Send + Sync {
    /// Catch rate against distance at the pressure the pattern is stated for.
    fn leg(&self) -> &Leg;

    /// The leg at `pressure_ratio` times that pressure; `radius_exponent` is m of R ∝ Pᵐ.
    ///
    /// # Errors
    /// A radius or discharge out of range.
    fn leg_at(&self, pressure_ratio: f64, radius_exponent: f64) -> Result<Leg, SprinklerProblem> {
        let leg = self.leg();
        leg.with_radius(leg.radius_m() * pow(pressure_ratio, radius_exponent))?
            .with_discharge(leg.discharge_l_s() * pressure_ratio.sqrt())
    }
}

/// Equality of patterns of any kinds; every kind that has `PartialEq` has it.
pub trait SamePattern: Any {
    /// Whether `other` is of the same kind and equal.
    fn is_same(&self, other: &dyn Any) -> bool;
}

impl<T: Any + PartialEq> SamePattern for T {
    fn is_same(&self, other: &dyn Any) -> bool {
        other.downcast_ref::<T>().is_some_and(|other| self == other)
    }
}

impl PartialEq for dyn Pattern {
    fn eq(&self, other: &Self) -> bool {
        self.is_same(other)
    }
}

impl Pattern for Leg {
    fn leg(&self) -> &Leg {
        self
    }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;

    #[test]
    fn closed_four_times_the_pressure_doubles_the_discharge() {
        let leg = Leg::new(vec![0.0, 10.0], vec![6.0, 0.0]).unwrap();
        let strong = leg.leg_at(4.0, 0.5).unwrap();
        assert!((strong.discharge_l_s() / leg.discharge_l_s() - 2.0).abs() < 1e-12);
        assert_eq!(strong.radius_m(), 20.0);
    }
}
