use super::*;
use crate::crop::Crop;
use crate::crop::table::crop_named;
use crate::root_zone::plain::Watering;
use crate::soil::{Soil, texture_named};
use proptest::prelude::*;

const LOAM: Soil = Soil { field_capacity: 0.25, wilting_point: 0.095 };
/// Of dry beans.
const KY: f64 = 1.15;

fn beans() -> Crop {
    crop_named("beans, dry").unwrap().crop()
}

fn season(crop: &Crop, soil: &Soil, et0_mm: f64, rain_mm: &[f64], start: f64) -> SeasonWater {
    let et0_mm = vec![et0_mm; crop.season_days()];
    let inputs = SeasonInputs { crop, soil, et0_mm: &et0_mm, rain_mm, start_depletion: start };
    SeasonWater::prepare(&inputs).unwrap()
}

/// `depth_mm` on the first cells, on each of `days`.
fn on_days(days: &[usize], depth_mm: &[f64]) -> Vec<Watering> {
    let on = |&day: &usize| Watering { day, first_cell: 0, depth_mm: depth_mm.to_vec() };
    days.iter().map(on).collect()
}

#[test]
fn invariant_water_to_need_gives_full_yield_and_no_percolation() {
    // Every third day what is missing by then: nothing is short, nothing is lost.
    let crop = crop_named("maize, grain").unwrap().crop();
    let soil = texture_named("silt loam").unwrap().soil();
    let season = season(&crop, &soil, 6.0, &vec![0.0; crop.season_days()], 0.0);
    let mut zone = season.at_planting();
    let mut waterings = Vec::new();
    for (i, day) in season.days().iter().enumerate() {
        let depth_mm = if i % 3 == 0 { zone.depletion_mm } else { 0.0 };
        waterings.extend(on_days(&[i + 1], &[depth_mm]));
        zone.step(day, depth_mm);
    }
    let outcome = season.run(1, 1.25, &waterings)[0];
    assert_eq!(outcome.stress_days, 0);
    assert!((outcome.yield_fraction - 1.0).abs() < 1e-12);
    assert!(outcome.percolation_mm < 1e-9);
}

#[test]
fn closed_a_wet_spring_percolates_without_irrigation() {
    let crop = beans();
    let mut rain_mm = vec![0.0; 100];
    rain_mm[0] = 80.0;
    let season = season(&crop, &LOAM, 5.0, &rain_mm, 0.5);
    // TAW on day 1: 155 mm/m over 0.2 m = 31 mm, half of it missing.
    let outcome = season.run(1, KY, &[])[0];
    assert!((outcome.percolation_mm - 64.5).abs() < 1e-9);
    let rooted_mm: f64 = season.days().iter().map(|day| day.rooted_mm).sum();
    assert!((rooted_mm - 155.0 * 0.4).abs() < 1e-9);
}

#[test]
fn closed_all_problems_are_told_at_once() {
    let mut crop = beans();
    crop.yield_response = -1.0;
    let soil = Soil { field_capacity: 0.1, wilting_point: 0.2 };
    let mut rain_mm = vec![0.0; 100];
    rain_mm[3] = -2.0;
    let (et0_mm, start) = (vec![f64::NAN; 1], 1.5);
    let inputs = SeasonInputs {
        crop: &crop,
        soil: &soil,
        et0_mm: &et0_mm,
        rain_mm: &rain_mm,
        start_depletion: start,
    };
    let told = SeasonWater::prepare(&inputs).unwrap_err();
    assert_eq!(told.len(), 6, "{told:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn invariant_water_closes_and_more_never_yields_less(
        et0_mm in prop::collection::vec(0.0..12.0_f64, 100),
        rain_mm in prop::collection::vec(prop_oneof![4 => Just(0.0), 1 => 0.0..60.0_f64], 100),
        depths_mm in prop::collection::vec(0.0..80.0_f64, 24),
        extra_mm in 0.0..30.0_f64,
        start_depletion in 0.0..1.0_f64,
    ) {
        let (crop, soil) = (beans(), LOAM);
        let inputs = SeasonInputs {
            crop: &crop, soil: &soil, et0_mm: &et0_mm, rain_mm: &rain_mm, start_depletion,
        };
        let season = SeasonWater::prepare(&inputs).unwrap();
        let more_mm: Vec<f64> = depths_mm.iter().map(|depth| depth + extra_mm).collect();
        let run = |depths_mm: &[f64]| season.run(24, KY, &on_days(&[20, 37, 54, 71], depths_mm));
        let (some, more) = (run(&depths_mm), run(&more_mm));
        let rain_alone_mm = season.run(1, KY, &[])[0].percolation_mm;
        for outcome in some.iter().chain(&more) {
            prop_assert!(outcome.imbalance_mm.abs() < 1e-10, "{}", outcome.imbalance_mm);
            prop_assert!((0.0..=1.0).contains(&outcome.yield_fraction));
            prop_assert!(outcome.percolation_mm >= rain_alone_mm - 1e-10);
            prop_assert!(outcome.et_mm <= season.etm_mm() + 1e-9);
        }
        for (some, more) in some.iter().zip(&more) {
            prop_assert!(more.yield_fraction >= some.yield_fraction - 1e-12);
            prop_assert!(more.percolation_mm >= some.percolation_mm - 1e-10);
        }
    }

    #[test]
    fn invariant_a_depth_ordered_field_is_ordered_in_yield(
        depths_mm in prop::collection::vec(0.0..60.0_f64, 30),
        et0_mm in 2.0..10.0_f64,
    ) {
        let mut depths_mm = depths_mm;
        depths_mm.sort_by(f64::total_cmp);
        let season = season(&beans(), &LOAM, et0_mm, &[0.0; 100], 0.2);
        let outcome = season.run(30, KY, &on_days(&[15, 30, 45, 60, 75], &depths_mm));
        prop_assert!(outcome.is_sorted_by(|a, b| a.yield_fraction <= b.yield_fraction + 1e-12));
    }
}
