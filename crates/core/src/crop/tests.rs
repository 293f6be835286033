use super::table::{CROPS, CropEntry, crop_named};
use super::*;

fn beans(cycles: Vec<StageLengths>) -> Crop {
    Crop {
        kc: CropCoefficients { ini: 0.15, mid: 1.14, end: 0.25 },
        cycles,
        roots: RootDepth { at_planting_m: 0.2, full_m: 0.7 },
        depletion_fraction: 0.45,
        yield_response: 1.15,
    }
}

const EXAMPLE_30: StageLengths =
    StageLengths { initial_days: 25, development_days: 25, mid_days: 30, late_days: 20 };

#[test]
fn published_fao_56_example_30() {
    // Allen et al. 1998, Example 30 (there for Kcb; the interpolation is the same).
    let crop = beans(vec![EXAMPLE_30]);
    for (day, kc) in [(12, 0.15), (37, 0.63), (65, 1.14), (90, 0.70)] {
        let found = crop.kc_on(day).unwrap();
        assert!((found - kc).abs() <= 0.005 + 1e-12, "day {day}: {found}");
    }
    assert!((crop.kc_on(37).unwrap() - 0.6252).abs() < 1e-12);
}

#[test]
fn published_fao_56_example_28() {
    // Allen et al. 1998, Example 28 (from memory, confidence high for Kc and days, medium for its
    // number): dry beans with Kc 0.15, 1.19, 0.35 and the stages of Example 30: Kc 0.15, 0.77, 1.19,
    // 0.56 on days 20, 40, 70, 95.
    let mut crop = beans(vec![EXAMPLE_30]);
    crop.kc = CropCoefficients { ini: 0.15, mid: 1.19, end: 0.35 };
    for (day, kc) in [(20, 0.15), (40, 0.77), (70, 1.19), (95, 0.56)] {
        let found = crop.kc_on(day).unwrap();
        assert!((found - kc).abs() <= 0.005, "day {day}: {found}");
    }
}

#[test]
fn closed_the_season_has_a_first_and_a_last_day() {
    let crop = beans(vec![EXAMPLE_30]);
    assert_eq!(crop.season_days(), 100);
    assert_eq!(crop.kc_on(0), None);
    assert_eq!(crop.kc_on(1), Some(0.15));
    assert!((crop.kc_on(100).unwrap() - 0.25).abs() < 1e-12);
    assert_eq!(crop.kc_on(101), None);
}

#[test]
fn closed_each_cut_starts_the_curve_anew() {
    let crop = beans(vec![EXAMPLE_30, EXAMPLE_30]);
    assert_eq!(crop.season_days(), 200);
    for day in 1..=100 {
        assert_eq!(crop.kc_on(day), crop.kc_on(day + 100), "day {day}");
    }
    // Roots stay deep after the first cut.
    assert_eq!(crop.root_depth_m(120), 0.7);
}

#[test]
fn closed_roots_deepen_to_mid_season() {
    let crop = beans(vec![EXAMPLE_30]);
    assert_eq!(crop.root_depth_m(1), 0.2);
    assert!((crop.root_depth_m(26) - 0.45).abs() < 1e-12);
    assert!(crop.root_depth_m(50) < 0.7);
    assert_eq!(crop.root_depth_m(51), 0.7);
}

#[test]
fn closed_a_stage_may_last_no_day() {
    let stages = StageLengths { initial_days: 0, development_days: 0, mid_days: 5, late_days: 0 };
    let crop = beans(vec![stages]);
    assert_eq!(crop.kc_on(1), Some(1.14));
    assert_eq!(crop.kc_on(5), Some(1.14));
    assert_eq!(crop.root_depth_m(1), 0.7);
}

#[test]
fn invariant_every_crop_of_the_table_can_be_computed_with() {
    for entry in &CROPS {
        let crop = entry.crop();
        assert_eq!(crop.problems(), [], "{}", entry.name);
        assert_eq!(crop_named(entry.name), Some(entry));
        for day in 1..=crop.season_days() {
            let kc = crop.kc_on(day).unwrap();
            assert!(kc >= 0.2 && kc <= entry.kc.mid, "{} day {day}: {kc}", entry.name);
        }
    }
}

#[test]
fn published_fao_56_table_11_season_totals() {
    // Allen et al. 1998, Table 11: totals as printed beside the stages.
    let totals = [
        ("potato", 165),
        ("sugar beet", 180),
        ("maize, grain", 170),
        ("beans, dry", 100),
        ("soybean", 140),
        ("winter wheat", 335),
        ("onion, dry", 150),
        ("spring wheat", 135),
        ("barley", 135),
        ("alfalfa, cut by cut", 75 + 3 * 45),
        ("peas, dry", 110),
        ("oats", 135),
        // From memory, confidence medium.
        ("asparagus", 365),
        ("carrots", 150),
        ("cotton", 195),
        ("sunflower", 130),
        ("maize, sweet", 80),
        ("Bermuda hay, mean over cuts", 135),
    ];
    for (name, days) in totals {
        assert_eq!(crop_named(name).unwrap().crop().season_days(), days, "{name}");
    }
}

#[test]
fn invariant_crops_are_named_once_and_say_what_is_from_memory() {
    for (index, entry) in CROPS.iter().enumerate() {
        let same = |other: &&CropEntry| other.name.eq_ignore_ascii_case(entry.name);
        assert_eq!(CROPS[..index].iter().find(same), None, "{}", entry.name);
    }
    let mint = crop_named("mint").unwrap();
    assert!(mint.note.contains("from memory") && mint.region.contains("assumed"), "{mint:?}");
}

#[test]
fn closed_all_problems_are_told_at_once() {
    let mut crop = beans(Vec::new());
    crop.kc.mid = -1.0;
    crop.depletion_fraction = f64::NAN;
    crop.roots.full_m = 0.1;
    let told = crop.problems();
    assert_eq!(told.len(), 4, "{told:?}");
}
