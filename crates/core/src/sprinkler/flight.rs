//! The flight of one drop from the nozzle to the ground.
//!
//! Each drop leaves with the jet's speed, 0.97 √(2P/ρ) (Torricelli with a velocity coefficient of
//! common practice, no source), and flies alone from there: sphere drag of [`drag`], weight less
//! buoyancy, wind level and along +x. Real jets hold together for some meters and throw farther;
//! the landing map makes up for that by choosing the drop that lands where the leg says.
//!
//! In wind the drag coefficient is C′ = C (1 + K1 sin β − K2 cos α) as in the published ballistic
//! models (Tarjuelo, Carrión et al. 2001; Playán et al. 2006; from memory). Which angles these are
//! could not be settled without the papers, so both readings are here ([`DragForm`]) and are judged
//! by what has been published on uniformity in wind ([`crate::wind_evidence`]):
//!
//! * air and ground: β between the drop's velocities through the air and over the ground, α between
//!   its velocity through the air and the wind. β is 0 in still air, so K1 needs no ramp.
//! * air and wind: β between the drop's velocity through the air and the wind, α between its
//!   velocities through the air and over the ground. As written, both terms jump at zero wind; so
//!   K1 is scaled by W/√(W² + 3²) (W the wind at the drop, m/s). **That scale is ours.**
//!
//! In both, K2 is scaled by min(1, W / speed over the ground), ours too: without it the pattern
//! jumps as soon as there is a wind. K1 and K2 are fitted numbers.
//!
//! Over the jet length drag grows in proportion to the distance from the nozzle: the jet holds
//! together there and drops fly in air that it has set in motion (Murzabaev & Yarin 1985 say that
//! lone drops fall far too short). The straight line is ours.
//!
//! Numerics: Dormand–Prince, tolerance 1e-4, first step 0.01 s, landing by dense output.
//! Neglected: break-up and collision of drops, evaporation in flight, upward and gusty air.

use super::dormand_prince::{Control, System, follow_to_zero};
use super::drag;
use super::launch::{DragCorrection, DragForm, Launch};
use super::problem::SprinklerProblem;
use crate::range::within;
use libm::{cos, sin};

/// Speed of the jet over that of frictionless outflow.
const VELOCITY_COEFFICIENT: f64 = 0.97;
/// Wind at which the K1 term has reached 1/√2 of itself, m/s.
const K1_RAMP_M_S: f64 = 3.0;
const CONTROL: Control =
    Control { tolerance: 1e-4, first_step_s: 0.01, most_steps: 2000, longest_s: 120.0 };

/// Where and how a drop came down; x along the wind, y to the left of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Landing {
    /// Distance from the nozzle along the wind, m.
    pub(super) along_m: f64,
    /// Distance across it, m.
    pub(super) cross_m: f64,
    /// Time in the air, s.
    pub(super) flight_s: f64,
    /// Speed on landing, m/s.
    pub(super) impact_m_s: f64,
}

impl Launch {
    /// Speed at which water leaves the nozzle, m/s.
    pub(super) fn speed_m_s(&self) -> f64 {
        let pressure_pa = self.pressure_kpa * 1000.0;
        VELOCITY_COEFFICIENT * (2.0 * pressure_pa / drag::WATER_DENSITY_KG_M3).sqrt()
    }
}

impl DragCorrection {
    /// C′/C for velocities through the air and over the ground, wind `wind_m_s` along +x.
    fn factor(&self, through_air: [f64; 3], over_ground: [f64; 3], wind_m_s: f64) -> f64 {
        if wind_m_s <= 0.0 || (self.k1 == 0.0 && self.k2 == 0.0) {
            return 1.0;
        }
        let air_m_s = norm(through_air).max(1e-9);
        let ground_m_s = norm(over_ground).max(1e-9);
        let [x, y, z] = through_air;
        let dot = x * over_ground[0] + y * over_ground[1] + z * over_ground[2];
        // The two velocities differ by the wind along x, so their cross product is short.
        let sin_to_ground = wind_m_s * (y * y + z * z).sqrt() / (air_m_s * ground_m_s);
        let cos_to_ground = dot / (air_m_s * ground_m_s);
        let (sin_to_wind, cos_to_wind) = ((y * y + z * z).sqrt() / air_m_s, x / air_m_s);
        let k2 = self.k2 * (wind_m_s / ground_m_s).min(1.0);
        match self.form {
            DragForm::AirAndGround => 1.0 + self.k1 * sin_to_ground - k2 * cos_to_wind,
            DragForm::AirAndWind => {
                let ramp = wind_m_s / (wind_m_s * wind_m_s + K1_RAMP_M_S * K1_RAMP_M_S).sqrt();
                1.0 + self.k1 * ramp * sin_to_wind - k2 * cos_to_ground
            }
        }
    }
}

/// A drop in the air; state = place x, y, z (m) and velocity (m/s).
struct Drop<'a, W> {
    diameter_m: f64,
    /// Drag over that of a sphere.
    flattening: f64,
    nozzle_height_m: f64,
    correction: &'a DragCorrection,
    wind_at: &'a W,
}

impl<W: Fn(f64) -> f64> Drop<'_, W> {
    /// Share of its drag that a drop meets at a place, while the jet holds together.
    fn parted(&self, x_m: f64, y_m: f64, z_m: f64) -> f64 {
        let whole_m = self.correction.jet_length_m;
        if whole_m <= 0.0 {
            return 1.0;
        }
        (norm([x_m, y_m, z_m - self.nozzle_height_m]) / whole_m).min(1.0)
    }
}

impl<W: Fn(f64) -> f64> System<6> for Drop<'_, W> {
    fn slope(&self, &[x, y, z, vx, vy, vz]: &[f64; 6]) -> [f64; 6] {
        let wind_m_s = (self.wind_at)(z);
        let through_air = [vx - wind_m_s, vy, vz];
        let factor = self.correction.factor(through_air, [vx, vy, vz], wind_m_s)
            * self.flattening
            * self.parted(x, y, z);
        let rate = factor * drag::rate_per_s(self.diameter_m, norm(through_air));
        let [ax, ay, az] = through_air.map(|speed| -rate * speed);
        [vx, vy, vz, ax, ay, az - drag::net_gravity_m_s2()]
    }
}

fn norm([x, y, z]: [f64; 3]) -> f64 {
    (x * x + y * y + z * z).sqrt()
}

/// Follow a drop of `diameter_mm` to the ground.
///
/// `azimuth_rad` is the direction of the jet, counter-clockwise from where the wind blows to;
/// `wind_at` gives the wind (m/s, ≥ 0) at a height above ground (m).
///
/// # Errors
/// A diameter outside 0.05–10 mm, a launch or correction that is not sound, or a drop that is still
/// in the air after 120 s or 2000 steps.
pub(super) fn fly(
    diameter_mm: f64,
    azimuth_rad: f64,
    launch: &Launch,
    correction: &DragCorrection,
    wind_at: &impl Fn(f64) -> f64,
) -> Result<Landing, SprinklerProblem> {
    launch.check()?;
    correction.check()?;
    let elevation_rad = launch.trajectory_angle_deg.to_radians();
    fly_at(diameter_mm, (azimuth_rad, elevation_rad), launch, correction, wind_at)
}

/// The same for a jet that leaves in any direction (azimuth, and elevation above the horizontal),
/// whatever the launch's trajectory; launch and correction are taken as checked.
///
/// # Errors
/// A diameter or direction out of range, or a drop that is still in the air after 120 s.
pub(super) fn fly_at(
    diameter_mm: f64,
    (azimuth_rad, elevation_rad): (f64, f64),
    launch: &Launch,
    correction: &DragCorrection,
    wind_at: &impl Fn(f64) -> f64,
) -> Result<Landing, SprinklerProblem> {
    within("diameter_mm", diameter_mm, 0.05, 10.0)?;
    within("azimuth_rad", azimuth_rad, -100.0, 100.0)?;
    within("elevation_rad", elevation_rad, -1.6, 1.6)?;
    let level_m_s = launch.speed_m_s() * cos(elevation_rad);
    let start = [
        0.0,
        0.0,
        launch.nozzle_height_m,
        level_m_s * cos(azimuth_rad),
        level_m_s * sin(azimuth_rad),
        launch.speed_m_s() * sin(elevation_rad),
    ];
    let diameter_m = diameter_mm * 1e-3;
    let flattening = if correction.flattens { drag::flattening(diameter_m) } else { 1.0 };
    let nozzle_height_m = launch.nozzle_height_m;
    let drop = Drop { diameter_m, flattening, nozzle_height_m, correction, wind_at };
    let (flight_s, [along_m, cross_m, _, vx, vy, vz]) =
        follow_to_zero(&drop, start, 2, &CONTROL)
            .ok_or(SprinklerProblem::NeverLands { diameter_mm, limit: "120 s or 2000 steps" })?;
    Ok(Landing { along_m, cross_m, flight_s, impact_m_s: norm([vx, vy, vz]) })
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    const LAUNCH: Launch =
        Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.5 };

    fn uniform(diameter_mm: f64, azimuth_rad: f64, wind_m_s: f64) -> Landing {
        fly(diameter_mm, azimuth_rad, &LAUNCH, &DragCorrection::NONE, &|_| wind_m_s).unwrap()
    }

    /// RK4 at 0.2 ms with the same forces, launched down the wind at 345 kPa, 25°, 1.5 m:
    /// mm; landing m, flight s, impact m/s in calm; landing in 4 m/s behind and against it.
    /// (Computed apart with g = 9.81 m/s², which moves a landing by 2 mm.)
    const ORACLE: [[f64; 6]; 6] = [
        [0.5, 2.042, 1.511, 1.882, 8.019, -3.704],
        [1.0, 4.854, 1.374, 3.681, 10.055, -0.119],
        [2.0, 9.337, 1.489, 5.735, 14.703, 4.217],
        [3.0, 12.590, 1.578, 7.141, 18.056, 7.349],
        [4.0, 15.081, 1.656, 8.054, 20.599, 9.750],
        [5.0, 17.206, 1.720, 8.797, 22.719, 11.841],
    ];

    #[test]
    fn closed_launch_speed() {
        assert!((LAUNCH.speed_m_s() - 25.503).abs() <= 0.0005);
    }

    #[test]
    fn reference_trajectories_in_calm_and_along_the_wind() {
        for [diameter_mm, calm_m, flight_s, impact_m_s, behind_m, against_m] in ORACLE {
            let calm = uniform(diameter_mm, 0.0, 0.0);
            let places = [
                calm.along_m - calm_m,
                uniform(diameter_mm, 0.0, 4.0).along_m - behind_m,
                uniform(diameter_mm, PI, 4.0).along_m + against_m,
            ];
            for apart_m in places {
                assert!(apart_m.abs() < 0.012, "{diameter_mm} mm: {places:?}");
            }
            assert!((calm.flight_s - flight_s).abs() < 0.002, "{diameter_mm}: {calm:?}");
            assert!((calm.impact_m_s - impact_m_s).abs() < 0.005, "{diameter_mm}: {calm:?}");
        }
    }

    #[test]
    fn invariant_flights_are_mirror_images() {
        let correction = DragCorrection {
            form: DragForm::AirAndWind,
            k1: 0.5,
            k2: 0.3,
            turbulence: 0.0,
            ..DragCorrection::NONE
        };
        for azimuth_rad in [0.3, 1.2, 2.9] {
            let wind = |z: f64| 2.0 + z;
            let left = fly(1.5, azimuth_rad, &LAUNCH, &correction, &wind).unwrap();
            let right = fly(1.5, -azimuth_rad, &LAUNCH, &correction, &wind).unwrap();
            assert!((left.along_m - right.along_m).abs() < 1e-12);
            assert!((left.cross_m + right.cross_m).abs() < 1e-12);
        }
    }

    #[test]
    fn invariant_correction_vanishes_smoothly_with_the_wind() {
        for form in [DragForm::AirAndGround, DragForm::AirAndWind] {
            let correction = DragCorrection { form, k1: 1.0, k2: 0.5, ..DragCorrection::NONE };
            let landing = |correction: &DragCorrection, wind_m_s: f64| {
                fly(2.0, 1.0, &LAUNCH, correction, &|_| wind_m_s).unwrap().cross_m
            };
            let plain = landing(&DragCorrection::NONE, 0.0);
            assert_eq!(landing(&correction, 0.0), plain);
            let change = [0.01, 0.1].map(|wind_m_s| plain - landing(&correction, wind_m_s));
            // In proportion to the wind, within what the integrator's steps add: no jump at zero.
            let ratio = 10.0 * change[0] / change[1];
            assert!(change[1] > 0.01 && (ratio - 1.0).abs() < 0.1, "{form:?}: {change:?}");
        }
    }

    #[test]
    fn closed_a_jet_that_holds_together_throws_farther_and_a_flattened_drop_less_far() {
        let calm = |drag: DragCorrection| fly(3.0, 0.0, &LAUNCH, &drag, &|_| 0.0).unwrap().along_m;
        let alone = calm(DragCorrection::NONE);
        let held = calm(DragCorrection { jet_length_m: 2.0, ..DragCorrection::NONE });
        let flat = calm(DragCorrection { flattens: true, ..DragCorrection::NONE });
        // Over 2 m half of the drag is gone: about a meter.
        assert!((0.5..2.0).contains(&(held - alone)), "{held} {alone}");
        assert!((0.1..2.0).contains(&(alone - flat)), "{flat} {alone}");
    }

    #[test]
    fn closed_k1_shortens_the_throw_across_the_wind() {
        let correction = DragCorrection {
            form: DragForm::AirAndWind,
            k1: 0.5,
            k2: 0.0,
            turbulence: 0.0,
            ..DragCorrection::NONE
        };
        let across = fly(3.0, PI / 2.0, &LAUNCH, &correction, &|_| 4.0).unwrap();
        assert!(across.cross_m < 0.9 * uniform(3.0, PI / 2.0, 4.0).cross_m);
    }

    #[test]
    fn invariant_bad_input_is_an_error() {
        let fly = |d, launch: &Launch| fly(d, 0.0, launch, &DragCorrection::NONE, &|_| 0.0);
        assert!(fly(0.0, &LAUNCH).is_err());
        assert!(fly(f64::NAN, &LAUNCH).is_err());
        assert!(fly(1.0, &Launch { trajectory_angle_deg: 95.0, ..LAUNCH }).is_err());
        assert!(fly(1.0, &Launch { nozzle_height_m: 0.0, ..LAUNCH }).is_err());
        let lost = super::fly(1.0, 0.0, &LAUNCH, &DragCorrection::NONE, &|_| f64::NAN);
        assert!(matches!(lost, Err(SprinklerProblem::NeverLands { .. })));
    }
}
