use super::*;
use crate::crop::Crop;
use crate::crop::table::crop_named;
use crate::soil::{Soil, texture_named};
use proptest::prelude::*;

const LOAM: Soil = Soil { field_capacity: 0.25, wilting_point: 0.095 };

fn beans() -> Crop {
    crop_named("beans, dry").unwrap().crop()
}

fn season(crop: &Crop, soil: &Soil, et0_mm: f64, rain_mm: &[f64], start: f64) -> SeasonWater {
    let et0_mm = vec![et0_mm; crop.season_days()];
    let inputs = SeasonInputs { crop, soil, et0_mm: &et0_mm, rain_mm, start_depletion: start };
    SeasonWater::prepare(&inputs).unwrap()
}

#[test]
fn reference_blocks_and_strips_equal_single_cells() {
    // More cells than a block, waterings that start and end inside blocks and overlap on a day.
    let crop = beans();
    let rain_mm: Vec<f64> = (0..100).map(|day| if day % 9 == 4 { 12.0 } else { 0.0 }).collect();
    let season = season(&crop, &LOAM, 7.0, &rain_mm, 0.3);
    let cells = 2 * BLOCK_CELLS + 77;
    let strip = |phase: usize, len: usize| -> Vec<f64> {
        (0..len).map(|i| 20.0 + 15.0 * libm::sin((i + phase) as f64 * 0.1)).collect()
    };
    let strips = [(10, 0, strip(0, 600)), (10, 500, strip(3, 601)), (35, 900, strip(9, 201))];
    let waterings: Vec<Watering<'_>> = strips
        .iter()
        .map(|(day, first_cell, depth_mm)| Watering {
            day: *day,
            first_cell: *first_cell,
            depth_mm,
        })
        .collect();
    let outcome = season.run(cells, &waterings).unwrap();
    for cell in 0..cells {
        let mut zone = season.at_planting();
        let (mut et_mm, mut given_mm) = (0.0, 0.0);
        for (i, day) in season.days().iter().enumerate() {
            let mut depth_mm = 0.0;
            for (_, first, depths) in strips.iter().filter(|strip| strip.0 == i + 1) {
                depth_mm += cell.checked_sub(*first).and_then(|at| depths.get(at)).unwrap_or(&0.0);
            }
            given_mm += depth_mm;
            et_mm += zone.step(day, depth_mm).et_mm;
        }
        assert_eq!(outcome.cells.et_mm[cell].to_bits(), f64::to_bits(et_mm), "cell {cell}");
        assert_eq!(outcome.cells.depletion_mm[cell], zone.depletion_mm);
        assert_eq!(outcome.irrigation_mm[cell], given_mm);
    }
    assert!(outcome.totals.imbalance_mm().abs() < 1e-9);
}

#[test]
fn invariant_water_to_need_gives_full_yield_and_no_percolation() {
    // Every third day what is missing by then: nothing is short, nothing is lost.
    let crop = crop_named("maize, grain").unwrap().crop();
    let soil = texture_named("silt loam").unwrap().soil();
    let season = season(&crop, &soil, 6.0, &vec![0.0; crop.season_days()], 0.0);
    let mut zone = season.at_planting();
    let mut given = Vec::new();
    for (i, day) in season.days().iter().enumerate() {
        let depth_mm = if i % 3 == 0 { zone.depletion_mm } else { 0.0 };
        given.push([depth_mm]);
        zone.step(day, depth_mm);
    }
    let waterings: Vec<Watering<'_>> = given
        .iter()
        .enumerate()
        .map(|(i, depth_mm)| Watering { day: i + 1, first_cell: 0, depth_mm })
        .collect();
    let outcome = season.run(1, &waterings).unwrap();
    assert_eq!(outcome.cells.stress_days, [0.0]);
    assert!((outcome.yield_fraction[0] - 1.0).abs() < 1e-12);
    assert!(outcome.cells.percolation_mm[0] < 1e-9);
}

#[test]
fn closed_a_wet_spring_percolates_without_irrigation() {
    let crop = beans();
    let mut rain_mm = vec![0.0; 100];
    rain_mm[0] = 80.0;
    let season = season(&crop, &LOAM, 5.0, &rain_mm, 0.5);
    // TAW on day 1: 155 mm/m over 0.2 m = 31 mm, half of it missing.
    let outcome = season.run(1, &[]).unwrap();
    assert!((outcome.rain_percolation_mm - 64.5).abs() < 1e-9);
    assert!((outcome.cells.percolation_mm[0] - 64.5).abs() < 1e-9);
    assert!((outcome.totals.rooted_mm - 155.0 * 0.4).abs() < 1e-9);
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

    let season = season(&beans(), &LOAM, 5.0, &[0.0; 100], 0.0);
    let waterings = [
        Watering { day: 0, first_cell: 0, depth_mm: &[1.0] },
        Watering { day: 101, first_cell: 0, depth_mm: &[1.0] },
        Watering { day: 5, first_cell: 3, depth_mm: &[1.0, 1.0] },
        Watering { day: 5, first_cell: 0, depth_mm: &[1.0, f64::NAN] },
        Watering { day: 6, first_cell: 0, depth_mm: &[-1.0] },
    ];
    assert_eq!(season.run(4, &waterings).unwrap_err().len(), 5);
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
        let run = |depths_mm: &[f64]| {
            let on = |day| Watering { day, first_cell: 0, depth_mm: depths_mm };
            season.run(24, &[on(20), on(37), on(54), on(71)]).unwrap()
        };
        let (some, more) = (run(&depths_mm), run(&more_mm));
        for outcome in [&some, &more] {
            prop_assert!(outcome.worst_imbalance_mm < 1e-10, "{}", outcome.worst_imbalance_mm);
            prop_assert!(outcome.totals.imbalance_mm().abs() < 1e-10);
            prop_assert!(outcome.yield_fraction.iter().all(|y| (0.0..=1.0).contains(y)));
            for cell in 0..24 {
                let lost_mm = outcome.cells.percolation_mm[cell];
                prop_assert!(lost_mm >= outcome.rain_percolation_mm - 1e-10);
                prop_assert!(outcome.cells.et_mm[cell] <= season.etm_mm() + 1e-9);
            }
        }
        for cell in 0..24 {
            prop_assert!(more.yield_fraction[cell] >= some.yield_fraction[cell] - 1e-12);
            prop_assert!(more.cells.percolation_mm[cell] >= some.cells.percolation_mm[cell] - 1e-10);
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
        let on = |day| Watering { day, first_cell: 0, depth_mm: &depths_mm };
        let outcome = season.run(30, &[on(15), on(30), on(45), on(60), on(75)]).unwrap();
        prop_assert!(outcome.yield_fraction.is_sorted_by(|a, b| a <= &(b + 1e-12)));
    }
}
