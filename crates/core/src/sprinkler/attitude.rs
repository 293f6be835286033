//! How a sprinkler stands when its pipe has not made whole turns: tilt, place, and what of its jet
//! the pipe blocks.
//!
//! Our model, no source; it is geometry only:
//! - the riser turns with the pipe by the roll θ from upright, so that the nozzle stands at
//!   r (sin θ, cos θ) from the pipe's axis, across and up, r = half the pipe's diameter + riser;
//! - a leveler holds the sprinkler upright while |θ| is within its range; beyond, the sprinkler is
//!   tilted by τ = |θ| − range, across the pipe;
//! - the sprinkler turns about its own axis at an even pace, so that at turn φ a jet of trajectory ε
//!   leaves along (cos ε cos φ, cos ε sin φ cos τ + sin ε sin τ, −cos ε sin φ sin τ + sin ε cos τ),
//!   along the pipe, across it and up: its elevation swings between ε − τ and ε + τ;
//! - a jet that meets the pipe within 3 m of the nozzle, taken as straight so far, is blocked whole,
//!   and its water drips from the pipe where it met it.
//!
//! Valid for one sprinkler over one straight pipe. Neglected: the thickness of the jet, what splashes
//! off the pipe, sprinklers that turn unevenly or not at all when tilted (which makes things worse),
//! couplers, wheels, and water on the crop.

use super::problem::SprinklerProblem;
use crate::range::within;
use libm::{asin, atan2, cos, sin};
use std::f64::consts::PI;

/// So far a jet is taken as straight and whole, m: judgment.
pub(super) const SOLID_JET_M: f64 = 3.0;

/// A sprinkler over its pipe, turned from upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Attitude {
    /// Turn of the pipe from upright, + in the direction of travel, degrees.
    pub roll_deg: f64,
    /// Turn that the leveler takes up, either way, degrees.
    pub leveler_range_deg: f64,
    /// Outside diameter of the pipe, m.
    pub pipe_diameter_m: f64,
    /// Nozzle above the top of the pipe, when upright, m.
    pub riser_m: f64,
}

/// Where a jet goes at one turn of the sprinkler.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum JetDirection {
    /// Into the air.
    Free {
        /// Direction over the ground, from along the pipe (+x) toward across it (+y), radians.
        azimuth_rad: f64,
        /// Above the horizontal, radians; below it where negative.
        elevation_rad: f64,
    },
    /// Against the pipe, so far along it from the nozzle, m.
    Blocked {
        /// Along the pipe, m.
        along_m: f64,
    },
}

impl Attitude {
    /// Whether this can be computed with.
    ///
    /// # Errors
    /// Roll outside ±180°, leveler range outside 0–180°, pipe outside 1–50 cm, riser outside
    /// 0–3 m.
    pub(super) fn check(&self) -> Result<(), SprinklerProblem> {
        within("roll_deg", self.roll_deg, -180.0, 180.0)?;
        within("leveler_range_deg", self.leveler_range_deg, 0.0, 180.0)?;
        within("pipe_diameter_m", self.pipe_diameter_m, 0.01, 0.5)?;
        Ok(within("riser_m", self.riser_m, 0.0, 3.0)?)
    }

    /// Tilt that the leveler leaves, + in the direction of travel, degrees.
    pub fn tilt_deg(&self) -> f64 {
        let left = (self.roll_deg.abs() - self.leveler_range_deg).max(0.0);
        left.copysign(self.roll_deg)
    }

    /// Whether all turns of the sprinkler are alike and the nozzle stands above the pipe.
    pub(super) fn is_upright(&self) -> bool {
        self.roll_deg == 0.0
    }

    /// Nozzle from the pipe's axis, across and up, m.
    pub(super) fn nozzle_m(&self) -> [f64; 2] {
        let arm_m = 0.5 * self.pipe_diameter_m + self.riser_m;
        let roll = self.roll_deg.to_radians();
        [arm_m * sin(roll), arm_m * cos(roll)]
    }

    /// How much lower the nozzle is than upright, m.
    pub(super) fn drop_m(&self) -> f64 {
        0.5 * self.pipe_diameter_m + self.riser_m - self.nozzle_m()[1]
    }

    /// Where a jet of this trajectory goes when the sprinkler has turned to `turn_rad`.
    pub fn direction(&self, trajectory_angle_deg: f64, turn_rad: f64) -> JetDirection {
        let (rise, tilt) = (trajectory_angle_deg.to_radians(), self.tilt_deg().to_radians());
        let [x, y, z] = [
            cos(rise) * cos(turn_rad),
            cos(rise) * sin(turn_rad) * cos(tilt) + sin(rise) * sin(tilt),
            sin(rise) * cos(tilt) - cos(rise) * sin(turn_rad) * sin(tilt),
        ];
        match self.meets_pipe_after_m([y, z]) {
            Some(after_m) => JetDirection::Blocked { along_m: after_m * x },
            None => JetDirection::Free {
                azimuth_rad: atan2(y, x),
                elevation_rad: asin(z.clamp(-1.0, 1.0)),
            },
        }
    }

    /// After how many meters a jet with these parts across and up meets the pipe, if it does.
    fn meets_pipe_after_m(&self, [y, z]: [f64; 2]) -> Option<f64> {
        let [from_y, from_z] = self.nozzle_m();
        let radius_m = 0.5 * self.pipe_diameter_m;
        let square = y * y + z * z;
        let toward = -(from_y * y + from_z * z);
        // The jet starts outside the pipe, so one that leads away from it never meets it.
        if square <= 0.0 || toward <= 0.0 {
            return None;
        }
        let off2 = (from_y * z - from_z * y).powi(2) / square;
        let inside2 = radius_m * radius_m - off2;
        let after_m = (inside2 > 0.0).then(|| toward / square - (inside2 / square).sqrt())?;
        (after_m <= SOLID_JET_M).then_some(after_m)
    }

    /// Share of the turn in which a jet of this trajectory is blocked.
    pub fn blocked_share(&self, trajectory_angle_deg: f64) -> f64 {
        const STEPS: usize = 3600;
        let turn = |step: usize| 2.0 * PI * (step as f64 + 0.5) / STEPS as f64;
        let blocked = (0..STEPS).filter(|step| {
            matches!(
                self.direction(trajectory_angle_deg, turn(*step)),
                JetDirection::Blocked { .. }
            )
        });
        blocked.count() as f64 / STEPS as f64
    }
}

/// Turn of the pipe at a shift of `turns` of its wheels, from upright, degrees in −180 to 180.
pub fn roll_deg(turns: f64) -> f64 {
    let part = turns - turns.round();
    360.0 * part
}

/// Share of the turn in which a sprinkler that stays upright under its pipe is blocked, by hand:
/// the jets that pass the pipe's axis nearer than its radius lie within ±asin(…) of the pipe.
#[cfg(test)]
fn blocked_under_the_pipe(attitude: &Attitude, trajectory_angle_deg: f64) -> f64 {
    let arm_m = 0.5 * attitude.pipe_diameter_m + attitude.riser_m;
    // |y| / √(y² + z²) < R / r with y = cos ε sin φ, z = sin ε.
    let ratio = 0.5 * attitude.pipe_diameter_m / arm_m;
    let rise = trajectory_angle_deg.to_radians();
    let bound = ratio / (1.0 - ratio * ratio).sqrt() * rise.tan();
    4.0 * asin(bound.min(1.0)) / (2.0 * PI)
}

/// The angle between two directions, degrees (for tests of the geometry).
#[cfg(test)]
fn between_deg(a: [f64; 3], b: [f64; 3]) -> f64 {
    let dot: f64 = a.iter().zip(b).map(|(a, b)| a * b).sum();
    dot.clamp(-1.0, 1.0).acos().to_degrees()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn attitude(roll_deg: f64, leveler_range_deg: f64) -> Attitude {
        Attitude { roll_deg, leveler_range_deg, pipe_diameter_m: 0.1016, riser_m: 0.2032 }
    }

    #[test]
    fn closed_within_the_levelers_range_the_sprinkler_is_upright_and_free() {
        for roll_deg in [0.0, 10.0, -15.0] {
            let stood = attitude(roll_deg, 15.0);
            assert_eq!(stood.tilt_deg().abs(), 0.0);
            assert_eq!(stood.blocked_share(25.0), 0.0);
            let JetDirection::Free { azimuth_rad, elevation_rad } = stood.direction(25.0, 1.0)
            else {
                panic!()
            };
            assert!((azimuth_rad - 1.0).abs() < 1e-12);
            assert!((elevation_rad.to_degrees() - 25.0).abs() < 1e-12);
        }
    }

    #[test]
    fn closed_elevation_swings_by_the_tilt_across_the_pipe() {
        let stood = attitude(50.0, 15.0);
        assert_eq!(stood.tilt_deg(), 35.0);
        let elevation = |turn_deg: f64| match stood.direction(25.0, turn_deg.to_radians()) {
            JetDirection::Free { elevation_rad, .. } => elevation_rad.to_degrees(),
            JetDirection::Blocked { .. } => f64::NAN,
        };
        // Leaning over in the direction of travel: low ahead (φ = 90°), high behind.
        assert!((elevation(90.0) + 10.0).abs() < 1e-9, "{}", elevation(90.0));
        assert!((elevation(270.0) - 60.0).abs() < 1e-9, "{}", elevation(270.0));
    }

    #[test]
    fn invariant_every_jet_keeps_its_angle_to_the_sprinklers_axis() {
        for roll_deg in [-120.0, 20.0, 75.0, 180.0] {
            let stood = attitude(roll_deg, 15.0);
            let tilt = stood.tilt_deg().to_radians();
            for step in 0..12 {
                let direction = stood.direction(25.0, f64::from(step) * 0.5);
                let JetDirection::Free { azimuth_rad, elevation_rad } = direction else { continue };
                let level = cos(elevation_rad);
                let jet = [level * cos(azimuth_rad), level * sin(azimuth_rad), sin(elevation_rad)];
                let angle = between_deg(jet, [0.0, sin(tilt), cos(tilt)]);
                assert!((angle - 65.0).abs() < 1e-9, "{roll_deg} {angle}");
            }
        }
    }

    #[test]
    fn closed_hanging_upright_under_the_pipe_blocks_a_sector_worked_by_hand() {
        // A leveler that swings all the way: upright, but under the pipe.
        let hanging = attitude(180.0, 180.0);
        assert!((hanging.drop_m() - 2.0 * 0.254).abs() < 1e-12);
        let by_hand = blocked_under_the_pipe(&hanging, 25.0);
        assert!((0.055..0.070).contains(&by_hand), "{by_hand}");
        assert!((hanging.blocked_share(25.0) - by_hand).abs() < 1e-3);
        // Along the pipe the jet meets it where it has risen from the nozzle to the pipe's underside.
        let JetDirection::Blocked { along_m } = hanging.direction(25.0, 0.0) else { panic!() };
        assert!((along_m - 0.2032 / 25.0_f64.to_radians().tan()).abs() < 1e-9);
    }

    #[test]
    fn closed_hanging_with_common_levelers_throws_into_the_ground() {
        let hanging = attitude(180.0, 15.0);
        assert_eq!(hanging.tilt_deg(), 165.0);
        for step in 0..36 {
            if let JetDirection::Free { elevation_rad, .. } =
                hanging.direction(25.0, f64::from(step) * 0.1745)
            {
                assert!(elevation_rad < 0.0, "{elevation_rad}");
            }
        }
    }

    #[test]
    fn closed_roll_of_parts_of_a_turn() {
        assert_eq!([roll_deg(1.0), roll_deg(1.5), roll_deg(-0.25)], [0.0, -180.0, -90.0]);
        assert!((roll_deg(1.1) - 36.0).abs() < 1e-9);
        assert!(Attitude { roll_deg: 181.0, ..attitude(0.0, 15.0) }.check().is_err());
        assert!(attitude(f64::NAN, 15.0).check().is_err());
    }
}
