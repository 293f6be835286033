//! Ideal shapes of a leg, as overlap studies use them (Christiansen 1942, California Agr. Exp. Sta.
//! Bulletin 670; the shapes are named there, the formulas are the usual ones, from memory).
//!
//! With s = distance / radius and peak rate p, rate = p · f(s), and the discharge is
//! 2π R² p ∫ s f ds over 0 … 1:
//!
//! | shape | f(s) | ∫ s f ds |
//! |---|---|---|
//! | triangular (a cone) | 1 − s | 1/6 |
//! | elliptical | √(1 − s²) | 1/3 |
//! | parabolic | 1 − s² | 1/4 |
//! | uniform (a disk) | 1 | 1/2 |
//! | ring | 4 (s − a)(1 − s)/(1 − a)² for s ≥ a, else 0 | (1 − a²)/3 |
//!
//! The ring is ours: an arch between the inner fraction a and the radius, for sprinklers run at too
//! low a pressure. No real leg is any of these.

use super::leg::Leg;
use super::pattern::Pattern;
use super::problem::SprinklerProblem;
use crate::range::within;
use libm::sin;
use std::f64::consts::{FRAC_PI_2, PI};

/// Pieces into which a curved shape is cut for a leg.
const PIECES: usize = 200;

/// The shape of an ideal leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// Falls evenly from the sprinkler to the radius.
    Triangular,
    /// A half ellipse.
    Elliptical,
    /// A parabola with its top at the sprinkler.
    Parabolic,
    /// The same everywhere within the radius.
    Uniform,
    /// Dry within the inner fraction of the radius, an arch beyond.
    Ring {
        /// Dry part of the radius, 0–0.95.
        inner_fraction: f64,
    },
}

/// An ideal shape with its size, as a leg: exact in discharge, and everywhere within 1e-3 of the peak
/// (exact for the straight shapes).
#[derive(Clone, Debug, PartialEq)]
pub struct IdealPattern {
    shape: Shape,
    leg: Leg,
}

impl IdealPattern {
    /// A sprinkler of this shape that wets `radius_m` and delivers `discharge_l_s`.
    ///
    /// # Errors
    /// Radius outside 0.1–200 m, discharge outside 1e-6–1000 L/s, inner fraction outside 0–0.95.
    pub fn new(shape: Shape, radius_m: f64, discharge_l_s: f64) -> Result<Self, SprinklerProblem> {
        within("radius_m", radius_m, 0.1, 200.0)?;
        within("discharge_l_s", discharge_l_s, 1e-6, 1000.0)?;
        if let Shape::Ring { inner_fraction } = shape {
            within("inner_fraction", inner_fraction, 0.0, 0.95)?;
        }
        let peak_mm_h = shape.peak_mm_h(radius_m, discharge_l_s);
        let shares = shape.knots();
        let distance_m = shares.iter().map(|s| s * radius_m).collect();
        let rate_mm_h = shares.iter().map(|&s| peak_mm_h * shape.at(s)).collect();
        let leg = Leg::new(distance_m, rate_mm_h)?.with_discharge(discharge_l_s)?;
        Ok(Self { shape, leg })
    }
}

impl Pattern for IdealPattern {
    fn leg(&self) -> &Leg {
        &self.leg
    }
}

impl Shape {
    /// f(s); 0 beyond s = 1.
    pub(super) fn at(self, s: f64) -> f64 {
        if !(0.0..=1.0).contains(&s) {
            return 0.0;
        }
        match self {
            Self::Triangular => 1.0 - s,
            Self::Elliptical => (1.0 - s * s).sqrt(),
            Self::Parabolic => 1.0 - s * s,
            Self::Uniform => 1.0,
            Self::Ring { inner_fraction: a } if s < a => 0.0,
            Self::Ring { inner_fraction: a } => 4.0 * (s - a) * (1.0 - s) / ((1.0 - a) * (1.0 - a)),
        }
    }

    /// Highest rate of a sprinkler so large, mm/h.
    fn peak_mm_h(self, radius_m: f64, discharge_l_s: f64) -> f64 {
        let litres_h = discharge_l_s * 3600.0;
        litres_h / (2.0 * PI * radius_m * radius_m * self.moment())
    }

    /// ∫ s f(s) ds from 0 to 1.
    fn moment(self) -> f64 {
        match self {
            Self::Triangular => 1.0 / 6.0,
            Self::Elliptical => 1.0 / 3.0,
            Self::Parabolic => 0.25,
            Self::Uniform => 0.5,
            Self::Ring { inner_fraction: a } => (1.0 - a * a) / 3.0,
        }
    }

    /// Knots of s that a leg needs; denser outwards, where the ellipse falls steeply.
    fn knots(self) -> Vec<f64> {
        let first = match self {
            Self::Triangular => return vec![0.0, 1.0],
            Self::Uniform => return vec![1.0],
            Self::Ring { inner_fraction } => inner_fraction,
            Self::Elliptical | Self::Parabolic => 0.0,
        };
        let share = |k: usize| sin(FRAC_PI_2 * k as f64 / PIECES as f64).min(1.0);
        let mut knots: Vec<f64> = (0..PIECES).map(|k| first + (1.0 - first) * share(k)).collect();
        knots.push(1.0);
        knots
    }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;

    const ALL: [Shape; 6] = [
        Shape::Triangular,
        Shape::Elliptical,
        Shape::Parabolic,
        Shape::Uniform,
        Shape::Ring { inner_fraction: 0.0 },
        Shape::Ring { inner_fraction: 0.4 },
    ];

    #[test]
    fn closed_peaks() {
        // 1 L/s on 10 m: the disk gives 3600/(100π) mm/h; a cone peaks at 3 times that, an
        // ellipse at 3/2, a parabola at 2.
        let disk = 3600.0 / (100.0 * PI);
        for (shape, times) in [
            (Shape::Uniform, 1.0),
            (Shape::Triangular, 3.0),
            (Shape::Elliptical, 1.5),
            (Shape::Parabolic, 2.0),
        ] {
            let peak_mm_h = shape.peak_mm_h(10.0, 1.0);
            assert!((peak_mm_h / disk - times).abs() < 1e-12);
            assert_eq!(shape.at(0.0), 1.0);
        }
    }

    #[test]
    fn reference_moments_are_the_integrals() {
        for shape in ALL {
            let n = 100_000;
            let sum: f64 = (0..n)
                .map(|i| {
                    let s = (i as f64 + 0.5) / n as f64;
                    s * shape.at(s) / n as f64
                })
                .sum();
            assert!((sum - shape.moment()).abs() < 1e-6, "{shape:?}: {sum}");
        }
    }

    #[test]
    fn closed_legs_keep_discharge_and_shape() {
        for shape in ALL {
            let pattern = IdealPattern::new(shape, 13.0, 0.4).unwrap();
            let (leg, peak_mm_h) = (pattern.leg(), shape.peak_mm_h(13.0, 0.4));
            assert!((leg.discharge_l_s() / 0.4 - 1.0).abs() < 1e-12);
            assert_eq!(leg.radius_m(), 13.0);
            for k in 0..=1299 {
                let r_m = k as f64 * 0.01;
                let apart = (leg.rate_at(r_m) / peak_mm_h - shape.at(r_m / 13.0)).abs();
                assert!(apart < 1e-3, "{shape:?} at {r_m} m: {apart}");
            }
        }
    }

    #[test]
    fn invariant_bad_sizes_are_refused() {
        assert!(IdealPattern::new(Shape::Uniform, 0.0, 1.0).is_err());
        assert!(IdealPattern::new(Shape::Uniform, 10.0, f64::NAN).is_err());
        assert!(IdealPattern::new(Shape::Ring { inner_fraction: 1.0 }, 10.0, 1.0).is_err());
    }
}
