//! What judges the landing maps.

use super::*;
use crate::weather::profile::Surface;

const LAUNCH: Launch =
    Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };

fn map(radius_m: f64, fastest_m_s: f64, settings: LandingSettings) -> LandingMap {
    let profile = LogProfile::new(Surface::SHORT_GRASS, 2.0).unwrap();
    let correction = DragCorrection { k1: 0.5, k2: 0.2, turbulence: 0.1 };
    LandingMap::new(radius_m, &LAUNCH, &correction, &profile, fastest_m_s, settings).unwrap()
}

#[test]
fn closed_each_class_lands_at_its_distance_in_still_air() {
    let map = map(14.0, 0.0, LandingSettings::default());
    assert_eq!(map.diameters_mm().len(), 40);
    for (class, &d_mm) in map.diameters_mm().iter().enumerate() {
        let found = fly(d_mm, 0.0, &LAUNCH, &DragCorrection::NONE, &|_| 0.0).unwrap();
        if d_mm > SMALLEST_DROP_MM {
            let distance_m = 14.0 * class as f64 / 39.0;
            assert!((found.along_m - distance_m).abs() < 1e-3, "{class}: {found:?}");
        }
    }
    assert!(map.diameters_mm().is_sorted());
}

#[test]
fn closed_clamped_classes_are_counted() {
    let near = map(14.0, 0.0, LandingSettings::default());
    let smallest = near.diameters_mm().iter().filter(|&&d| d == SMALLEST_DROP_MM).count();
    assert_eq!(near.clamped_small(), smallest);
    assert!((1..=5).contains(&smallest) && near.clamped_large() == 0, "{smallest}");
    // No drop of 8 mm flies 40 m at this pressure.
    let far = map(40.0, 0.0, LandingSettings::default());
    let largest = far.diameters_mm().iter().filter(|&&d| d == LARGEST_DROP_MM).count();
    assert_eq!(far.clamped_large(), largest);
    assert!(largest > 10);
}

#[test]
fn invariant_displacement_is_nothing_in_still_air_and_reaches_downwind() {
    let settings = LandingSettings { classes: 8, azimuths: 5, ..LandingSettings::default() };
    let profile = LogProfile::new(Surface::SHORT_GRASS, 2.0).unwrap();
    let none = DragCorrection::NONE;
    let map = LandingMap::new(14.0, &LAUNCH, &none, &profile, 3.5, settings).unwrap();
    assert_eq!(map.fastest_m_s(), 4.0);
    let (still, one, share) = map.nodes(0.0);
    assert_eq!(share, 0.0);
    assert!(still.iter().all(|d| d.along_m == 0.0 && d.cross_m == 0.0 && d.flight_s > 0.0));
    assert!(one.iter().all(|d| d.along_m > 0.0));
    assert_eq!(map.speeds_m_s, [0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0]);
    let (three, four, share) = map.nodes(3.25);
    assert!((share - 0.25).abs() < 1e-12);
    assert!(three.iter().zip(four).all(|(a, b)| b.along_m > a.along_m));
    assert!(map.farthest_m(3.25) >= map.farthest_m(1.0));
}

#[test]
fn invariant_threads_do_not_change_a_bit() {
    let settings = LandingSettings { classes: 10, azimuths: 7, ..LandingSettings::default() };
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| map(14.0, 5.0, settings))
    };
    assert_eq!(on(1), on(2));
}

#[test]
fn invariant_bad_input_is_an_error() {
    let profile = LogProfile::new(Surface::SHORT_GRASS, 2.0).unwrap();
    let new = |radius_m, fastest_m_s, settings| {
        let none = DragCorrection::NONE;
        LandingMap::new(radius_m, &LAUNCH, &none, &profile, fastest_m_s, settings)
    };
    let one = LandingSettings { azimuths: 1, ..LandingSettings::default() };
    assert!(new(f64::NAN, 1.0, LandingSettings::default()).is_err());
    assert!(new(10.0, 1e9, LandingSettings::default()).is_err());
    assert!(new(10.0, 1.0, one).is_err());
}
