//! The leg: catch rate against distance from one sprinkler in still air.
//!
//! A radial test sets cans along one line from the sprinkler and reads what each catches; the
//! pattern is taken to be the same all round. Between the knots the rate is linear, so discharge,
//! 2π ∫ r · rate dr (ISO 15886-3:2012 weights catches by distance in the same way; from memory,
//! confidence medium), is exact: over one piece ∫ r f dr = h/6 · (r0 (2 f0 + f1) + r1 (f0 + 2 f1)).
//! 1 mm/h over 1 m² is 1 L/h. Neglected: any change with direction, and what evaporated on the way.

use super::problem::SprinklerProblem;
use crate::range::within;
use std::f64::consts::PI;

/// Catch rate against distance from one sprinkler in still air.
///
/// Linear between the knots, constant from the center to the first knot, zero beyond the last.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Distances from the sprinkler, m, strictly rising from ≥ 0.
    pub distance_m: Vec<f64>,
    /// Rates there, mm/h, ≥ 0.
    pub rate_mm_h: Vec<f64>,
}

/// One linear piece: distance and rate at its two ends.
type Piece = ((f64, f64), (f64, f64));

impl Leg {
    /// A leg through these knots.
    ///
    /// # Errors
    /// See [`Leg::check`].
    pub fn new(distance_m: Vec<f64>, rate_mm_h: Vec<f64>) -> Result<Self, SprinklerProblem> {
        let leg = Self { distance_m, rate_mm_h };
        leg.check()?;
        Ok(leg)
    }

    /// Whether the knots make a leg.
    ///
    /// # Errors
    /// No knots, lists of different length, a distance that does not rise, is negative, not finite
    /// or over 200 m, a rate that is negative or not finite, a radius under 0.1 m, or no water.
    pub fn check(&self) -> Result<(), SprinklerProblem> {
        let wrong = |knot, reason| Err(SprinklerProblem::Leg { knot, reason });
        if self.distance_m.len() != self.rate_mm_h.len() {
            let knot = self.distance_m.len().min(self.rate_mm_h.len());
            return wrong(knot, "distances and rates must be equally many");
        }
        let mut last_m = -1.0;
        for (knot, (&r_m, &rate)) in self.distance_m.iter().zip(&self.rate_mm_h).enumerate() {
            if !(0.0..=200.0).contains(&r_m) {
                return wrong(knot, "the distance must lie between 0 and 200 m");
            }
            if r_m <= last_m {
                return wrong(knot, "distances must rise from knot to knot");
            }
            if !(rate >= 0.0 && rate.is_finite()) {
                return wrong(knot, "the rate must be a number of 0 or more");
            }
            last_m = r_m;
        }
        if last_m < 0.1 {
            return wrong(0, "the last distance must be 0.1 m or more");
        }
        if self.discharge_l_s() <= 0.0 {
            return wrong(0, "every rate is 0: no water");
        }
        Ok(())
    }

    /// Distance of the last knot: nothing falls beyond it, m.
    pub fn radius_m(&self) -> f64 {
        self.distance_m.last().copied().unwrap_or(0.0)
    }

    /// Rate at a distance, mm/h; 0 at distances that are negative or not a number.
    pub fn rate_at(&self, distance_m: f64) -> f64 {
        if !(distance_m >= 0.0 && distance_m <= self.radius_m()) {
            return 0.0;
        }
        let next = self.distance_m.partition_point(|&knot_m| knot_m < distance_m);
        let rate = |knot: usize| self.rate_mm_h.get(knot).copied().unwrap_or(0.0);
        if next == 0 {
            return rate(0);
        }
        let (r0, r1) = (self.distance_m[next - 1], self.distance_m[next]);
        let share = (distance_m - r0) / (r1 - r0);
        rate(next - 1) * (1.0 - share) + rate(next) * share
    }

    /// What the sprinkler delivers, L/s.
    pub fn discharge_l_s(&self) -> f64 {
        self.volume_inside_l_h(f64::INFINITY) / 3600.0
    }

    /// Water that falls within `distance_m` of the sprinkler, L/h.
    pub(crate) fn volume_inside_l_h(&self, distance_m: f64) -> f64 {
        self.pieces().map(|piece| volume_l_h(piece, distance_m)).sum()
    }

    /// The same leg with all rates in proportion, so that it delivers `discharge_l_s`.
    ///
    /// # Errors
    /// A discharge outside 1e-6–1000 L/s, or a leg without water.
    pub fn with_discharge(&self, discharge_l_s: f64) -> Result<Self, SprinklerProblem> {
        within("discharge_l_s", discharge_l_s, 1e-6, 1000.0)?;
        self.check()?;
        let factor = discharge_l_s / self.discharge_l_s();
        let rate_mm_h = self.rate_mm_h.iter().map(|rate| rate * factor).collect();
        Self::new(self.distance_m.clone(), rate_mm_h)
    }

    /// The same shape drawn out to another radius, the discharge unchanged.
    ///
    /// # Errors
    /// A radius outside 0.1–200 m, or an unsound leg.
    pub(crate) fn with_radius(&self, radius_m: f64) -> Result<Self, SprinklerProblem> {
        within("radius_m", radius_m, 0.1, 200.0)?;
        self.check()?;
        let factor = radius_m / self.radius_m();
        let mut distance_m: Vec<f64> = self.distance_m.iter().map(|r| r * factor).collect();
        if let Some(last) = distance_m.last_mut() {
            *last = radius_m;
        }
        let rate_mm_h = self.rate_mm_h.iter().map(|rate| rate / (factor * factor)).collect();
        Self::new(distance_m, rate_mm_h)
    }

    /// The linear pieces from the center out.
    fn pieces(&self) -> impl Iterator<Item = Piece> {
        let knots = || self.distance_m.iter().copied().zip(self.rate_mm_h.iter().copied());
        let center = knots().next().map(|(_, rate)| (0.0, rate));
        center.into_iter().chain(knots()).zip(knots())
    }
}

/// Water of the part of a piece that lies within `distance_m`, L/h.
fn volume_l_h(((r0, f0), (r1, f1)): Piece, distance_m: f64) -> f64 {
    let end = r1.min(distance_m);
    if end <= r0 {
        return 0.0;
    }
    let f_end = f0 + (f1 - f0) * ((end - r0) / (r1 - r0));
    2.0 * PI * (end - r0) / 6.0 * (r0 * (2.0 * f0 + f_end) + end * (f0 + 2.0 * f_end))
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cone() -> Leg {
        Leg::new(vec![0.0, 10.0], vec![6.0, 0.0]).unwrap()
    }

    fn any_leg() -> impl Strategy<Value = Leg> {
        let step = (0.1..5.0f64, 0.0..20.0f64);
        prop::collection::vec(step, 1..12).prop_map(|steps| {
            let mut r_m = 0.0;
            let distance_m = steps.iter().map(|(step_m, _)| {
                r_m += step_m;
                r_m
            });
            let distance_m = distance_m.collect();
            let rate_mm_h = steps.iter().map(|(_, rate)| rate + 0.01).collect();
            Leg::new(distance_m, rate_mm_h).unwrap()
        })
    }

    #[test]
    fn closed_cone() {
        // A cone 6 mm/h high on a radius of 10 m: π·100·6/3 = 200π L/h; inside 5 m
        // 2π(6·25/2 − 0.6·125/3) = 100π L/h.
        let leg = cone();
        assert!((leg.discharge_l_s() - 200.0 * PI / 3600.0).abs() < 1e-14);
        assert!((leg.volume_inside_l_h(5.0) - 100.0 * PI).abs() < 1e-10);
        assert_eq!(leg.volume_inside_l_h(0.0), 0.0);
        assert_eq!([leg.rate_at(0.0), leg.rate_at(5.0), leg.rate_at(10.0)], [6.0, 3.0, 0.0]);
        assert_eq!([leg.rate_at(10.1), leg.rate_at(-1.0), leg.rate_at(f64::NAN)], [0.0; 3]);
    }

    #[test]
    fn closed_constant_to_the_first_knot() {
        let leg = Leg::new(vec![2.0, 4.0], vec![3.0, 3.0]).unwrap();
        assert_eq!(leg.rate_at(0.5), 3.0);
        assert!((leg.discharge_l_s() * 3600.0 - 48.0 * PI).abs() < 1e-12);
    }

    #[test]
    fn invariant_bad_knots_are_refused_at_their_place() {
        let knot = |r: &[f64], f: &[f64]| match Leg::new(r.to_vec(), f.to_vec()) {
            Err(SprinklerProblem::Leg { knot, .. }) => knot,
            other => panic!("{other:?}"),
        };
        assert_eq!(knot(&[1.0, 1.0], &[1.0, 1.0]), 1);
        assert_eq!(knot(&[1.0, 2.0], &[1.0, f64::NAN]), 1);
        assert_eq!(knot(&[1.0, 2.0, 500.0], &[1.0, 1.0, 1.0]), 2);
        assert_eq!(knot(&[-1.0, 2.0], &[1.0, 1.0]), 0);
        assert_eq!(knot(&[1.0, 2.0], &[1.0]), 1);
        assert_eq!(knot(&[], &[]), 0);
        assert_eq!(knot(&[1.0, 2.0], &[0.0, 0.0]), 0);
        assert!(cone().with_discharge(0.0).is_err());
        assert!(cone().with_radius(f64::NAN).is_err());
    }

    proptest! {
        #[test]
        fn reference_discharge_is_the_sum_of_thin_rings(leg in any_leg()) {
            let (n, radius_m) = (20_000, leg.radius_m());
            let thin_m = radius_m / n as f64;
            let summed: f64 = (0..n).map(|i| {
                let r = (i as f64 + 0.5) * thin_m;
                2.0 * PI * r * thin_m * leg.rate_at(r)
            }).sum();
            prop_assert!((summed / 3600.0 / leg.discharge_l_s() - 1.0).abs() < 1e-5);
        }

        #[test]
        fn invariant_scaling_keeps_shape_and_discharge(leg in any_leg(), q in 0.01..5.0f64) {
            let scaled = leg.with_discharge(q).unwrap().with_radius(12.0).unwrap();
            prop_assert!((scaled.discharge_l_s() / q - 1.0).abs() < 1e-12);
            prop_assert_eq!(scaled.radius_m(), 12.0);
        }
    }
}
