//! What judges the landing maps.

use super::*;
use crate::sprinkler::flight::fly_finely;
use crate::sprinkler::launch::DragForm;
use crate::weather::profile::Surface;
use std::f64::consts::PI;

const LAUNCH: Launch =
    Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };

fn winds(fastest_m_s: f64) -> Winds {
    Winds { profile: LogProfile::new(Surface::SHORT_GRASS, 2.0).unwrap(), fastest_m_s }
}

#[test]
fn invariant_displacement_is_nothing_in_still_air_and_reaches_downwind() {
    let settings = LandingSettings { classes: 8, azimuths: 5, ..LandingSettings::default() };
    let map = LandingMap::new(14.0, &LAUNCH, &DragCorrection::NONE, &winds(3.5), settings).unwrap();
    let at = |speed_m_s: f64| {
        let mut found = Vec::new();
        map.extend_at(speed_m_s, &mut found);
        found
    };
    assert_eq!(map.fastest_m_s(), 4.0);
    assert!(at(0.0).iter().all(|d| d.along_m == 0.0 && d.cross_m == 0.0 && d.flight_s > 0.0));
    assert!(at(0.5).iter().all(|d| d.along_m > 0.0));
    assert_eq!(map.speeds_m_s, [0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0]);
    let (three, quarter, four) = (at(3.0), at(3.25), at(4.0));
    for ((low, between), high) in three.iter().zip(&quarter).zip(&four) {
        assert!(high.along_m > low.along_m);
        assert!((between.along_m - 0.75 * low.along_m - 0.25 * high.along_m).abs() < 1e-12);
    }
    assert!(map.farthest_m(3.25) >= map.farthest_m(1.0));
}

#[test]
fn closed_upright_each_class_lands_at_its_distance_and_thrown_flat_the_farthest_lands_nearer() {
    let settings = LandingSettings { classes: 8, azimuths: 5, ..LandingSettings::default() };
    let drag = DragCorrection::NONE;
    let map = LandingMap::new(14.0, &LAUNCH, &drag, &winds(1.0), settings).unwrap();
    let equal: Vec<f64> = (0..8).map(|class| 14.0 * f64::from(class) / 7.0).collect();
    assert_eq!(map.still_m(), equal);
    let classes = DropClasses::of(14.0, &LAUNCH, &DragCorrection::NONE, 8).unwrap();
    let flat = Throw { elevation_rad: 0.0, nozzle_height_m: 1.0 };
    let flat = LandingMap::thrown(&classes, flat, &drag, &winds(1.0), settings).unwrap();
    // Large drops lose most: their range goes with the time they are up.
    let range_m = |elevation_rad: f64| {
        let (d_mm, calm) = (classes.diameters_mm[7], |_: f64| 0.0);
        fly_at(d_mm, (0.0, elevation_rad), &LAUNCH, &drag, &calm).unwrap().along_m
    };
    let nearer = range_m(0.0) / range_m(25.0_f64.to_radians());
    assert!(nearer < 0.8 && (flat.still_m()[7] - 14.0 * nearer).abs() < 1e-9, "{nearer}");
}

#[test]
fn invariant_threads_do_not_change_a_bit() {
    let settings = LandingSettings { classes: 10, azimuths: 7, ..LandingSettings::default() };
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        let drag = DragCorrection {
            form: DragForm::AirAndWind,
            k1: 0.5,
            k2: 0.2,
            turbulence: 0.1,
            ..DragCorrection::NONE
        };
        pool.install(|| LandingMap::new(14.0, &LAUNCH, &drag, &winds(5.0), settings).unwrap())
    };
    assert_eq!(on(1), on(2));
}

#[test]
fn invariant_bad_input_is_an_error() {
    let new = |radius_m, fastest_m_s, settings| {
        LandingMap::new(radius_m, &LAUNCH, &DragCorrection::NONE, &winds(fastest_m_s), settings)
    };
    let one = LandingSettings { azimuths: 1, ..LandingSettings::default() };
    assert!(new(f64::NAN, 1.0, LandingSettings::default()).is_err());
    assert!(new(10.0, 1e9, LandingSettings::default()).is_err());
    assert!(new(10.0, 1.0, one).is_err());
}

/// What scenarios start from, and the other form with its ramp.
const DRAGS: [DragCorrection; 2] = [
    DragCorrection {
        form: DragForm::AirAndGround,
        k1: 0.3,
        k2: 0.3,
        turbulence: 0.05,
        jet_length_m: 1.5,
        flattens: true,
    },
    DragCorrection {
        form: DragForm::AirAndWind,
        k1: 0.5,
        k2: 0.2,
        turbulence: 0.0,
        jet_length_m: 0.0,
        flattens: false,
    },
];

/// A place between nodes, as the maker finds it: linear in speed, distance and azimuth.
fn between(map: &LandingMap, distance_m: f64, azimuth_rad: f64, speed_m_s: f64) -> Displacement {
    let LandingSettings { classes, azimuths, .. } = map.settings();
    let split = |place: f64, nodes: usize| {
        let node = (place as usize).min(nodes - 2);
        (node, place - node as f64)
    };
    let mut all = Vec::new();
    map.extend_at(speed_m_s, &mut all);
    let (class, far) = split(distance_m / map.radius_m() * (classes - 1) as f64, classes);
    let (azimuth, on) = split(azimuth_rad / PI * (azimuths - 1) as f64, azimuths);
    let row = |class: usize| {
        let at = class * azimuths + azimuth;
        all[at].to(&all[at + 1], on)
    };
    row(class).to(&row(class + 1), far)
}

/// Greatest and root mean square distance (m) of landings by the map from single flights.
fn missed_m(map: &LandingMap, drag: &DragCorrection, flights: u32) -> (f64, f64) {
    let (mut greatest_m, mut sum) = (0.0_f64, 0.0);
    let (profile, elevation_rad) = (winds(1.0).profile, LAUNCH.trajectory_angle_deg.to_radians());
    for k in 0..flights {
        // Steps by ratios that fill the ranges evenly: by area, by angle and by speed.
        let part = |ratio: f64| (f64::from(k) + 0.5) * ratio % 1.0;
        let distance_m = map.radius_m() * (0.02 + 0.97 * part(0.754_877_666).sqrt());
        let (azimuth_rad, speed_m_s) = (PI * part(0.569_840_291), 0.1 + 9.8 * part(0.381_966));
        let d_mm = DropClasses::of(distance_m, &LAUNCH, drag, 2).unwrap().diameters_mm[1];
        let wind_at = |height_m: f64| profile.speed_m_s(height_m, speed_m_s);
        let direction = (azimuth_rad, elevation_rad);
        let windy = fly_finely(d_mm, direction, &LAUNCH, drag, &wind_at);
        let calm = fly_finely(d_mm, direction, &LAUNCH, &drag.in_still_air(), &|_| 0.0);
        let found = between(map, distance_m, azimuth_rad, speed_m_s);
        let along_m = windy.along_m - calm.along_m - found.along_m;
        let cross_m = windy.cross_m - calm.cross_m - found.cross_m;
        greatest_m = greatest_m.max(along_m.hypot(cross_m));
        sum += along_m * along_m + cross_m * cross_m;
    }
    (greatest_m, (sum / f64::from(flights)).sqrt())
}

#[test]
fn reference_places_between_nodes_are_those_of_single_flights() {
    // Flown one by one in each of the 37 azimuths, maps miss as much: 0.312 m at worst and 0.0126 in
    // the root mean square of the first drag, 0.092 and 0.0081 of the second. The worst lie where water
    // begins to come from the smallest drop, between two classes.
    for (drag, most_m, most_rms_m) in [(&DRAGS[0], 0.32, 0.0135), (&DRAGS[1], 0.1, 0.0081)] {
        let fine = LandingSettings::default();
        let map = LandingMap::new(14.0, &LAUNCH, drag, &winds(10.0), fine).unwrap();
        let (greatest_m, rms_m) = missed_m(&map, drag, 3000);
        assert!(greatest_m < most_m && rms_m <= most_rms_m, "{greatest_m} {rms_m}");
    }
}
