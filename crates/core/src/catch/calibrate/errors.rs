//! How far a can may lie from the simulator's depth, and which cans err together.
//!
//! Four parts, with s the expected depth of a can (the mean over the prior), in mm²:
//! - reading, each can by itself: (e s)² + 0.1² mm², e the can error (5 % to start with);
//! - the model's pattern: a smooth field over the ground, δ² sᵢ sⱼ exp(−½ (d/ℓ)²), δ 10 % and ℓ a quarter of
//!   the radius. The model is not the truth, and that is what keeps many cans from making it look sure
//!   (Kennedy & O'Hagan 2001, J. R. Stat. Soc. B 63:425; from memory, high). A field of 10 % takes a CU of
//!   85 down by about 2 points, within the 3.09 points by which fitted models miss (Playán et al. 2006);
//! - level, all cans alike: η² sᵢ sⱼ, η 3 % where the discharge was measured and 10 % where it was not;
//! - what the surface misses (`surface`).
//!
//! The sizes of e, δ, ℓ and η are judgment, no source. Neglected: errors of the wind noted, and that
//! a dry can cannot be drier.

use super::super::{Can, distance_m};
use nalgebra::DMatrix;

/// Least error of reading, mm.
pub(super) const FLOOR_MM: f64 = 0.1;
/// Reach of the pattern's error, in radii of the sprinkler.
const REACH: f64 = 0.25;
/// Error of the level where the discharge was measured.
const LEVEL_MEASURED: f64 = 0.03;
/// The same where it was not.
const LEVEL_STATED: f64 = 0.10;

/// Sizes of the errors of one test, fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sizes {
    pub(super) can: f64,
    pub(super) pattern: f64,
    pub(super) is_measured: bool,
    pub(super) radius_m: f64,
}

/// Covariance of reading, pattern and level, mm², for cans that are expected to hold `expected_mm`.
pub(super) fn covariance(cans: &[Can], expected_mm: &[f64], sizes: &Sizes) -> DMatrix<f64> {
    let level = if sizes.is_measured { LEVEL_MEASURED } else { LEVEL_STATED };
    let reach_m = REACH * sizes.radius_m;
    let n = cans.len();
    DMatrix::from_fn(n, n, |i, j| {
        let apart = distance_m(&cans[i], &cans[j]) / reach_m;
        let together = sizes.pattern * sizes.pattern * libm::exp(-0.5 * apart * apart);
        let shared = (together + level * level) * expected_mm[i] * expected_mm[j];
        if i == j {
            shared + (sizes.can * expected_mm[i]).powi(2) + FLOOR_MM * FLOOR_MM
        } else {
            shared
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_far_cans_share_the_level_alone_and_near_ones_the_pattern() {
        let can = |x_m: f64| Can { x_m, y_m: 0.0, depth_mm: Some(1.0), line: 0 };
        let sizes = Sizes { can: 0.05, pattern: 0.1, is_measured: true, radius_m: 12.0 };
        let cans = [can(0.0), can(3.0), can(60.0)];
        let found = covariance(&cans, &[10.0, 10.0, 20.0], &sizes);
        // (0.05 · 10)² + 0.1² + (0.1² + 0.03²) · 100.
        assert!((found[(0, 0)] - (0.25 + 0.01 + 1.09)).abs() < 1e-12);
        assert!((found[(0, 1)] - (libm::exp(-0.5) + 0.09)).abs() < 1e-12);
        assert!((found[(0, 2)] - 0.0009 * 200.0).abs() < 1e-12);
    }
}
