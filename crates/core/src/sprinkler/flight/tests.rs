//! What judges single flights.

#![expect(clippy::float_cmp, reason = "these values are exact by construction")]

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
