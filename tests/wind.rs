//! Uniformity in wind, with the drag that a scenario starts from, held against what is published.
//!
//! None of the published cases has complete inputs, so signs and sizes are judged, not digits. Where
//! the model disagrees the test says by how much and holds that size, so that it cannot grow unseen.
//! Sources: W1 to W14 are the abstracts and openings named in each test; handbook figures marked
//! "recalled" rest on memory and are compared only.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use evenfall_core::sprinkler::nozzle::{DISCHARGE_COEFFICIENT, Nozzle, NozzlePattern};
use evenfall_core::sprinkler::shape::{IdealPattern, Shape};
use evenfall_core::sprinkler::{DragCorrection, Jet, Launch, Sprinkler};
use evenfall_core::units::{L_S_PER_GPM, M_PER_FT};
use evenfall_core::weather::profile::{LogProfile, Surface};
use evenfall_core::wind_evidence::{EndlessLayout, SteadyWind, in_steady_winds};
use evenfall_scenario::options::starting_drag;
use evenfall_view::known::{CU_IN_WIND, DISAGREEMENTS, SPEEDS_M_S as SPEEDS_OF_TABLE_M_S};
use std::f64::consts::FRAC_PI_4;

/// Winds at 2 m that are tried, m/s; the third is 6 mph.
const SPEEDS_M_S: [f64; 7] = [0.0, 1.0, 2.7, 4.0, 5.6, 6.0, 8.0];

/// CU in percent at each of the speeds: the mean of winds along, across and between.
fn cu_of(
    jets: Vec<Jet>,
    drag: DragCorrection,
    layout: &EndlessLayout,
    speeds_m_s: &[f64],
) -> Vec<f64> {
    let sprinkler = Sprinkler { jets, drag, flow_control: None };
    let profile = LogProfile::new(Surface::SHORT_GRASS, 2.0).unwrap();
    let winds: Vec<SteadyWind> = speeds_m_s
        .iter()
        .flat_map(|&speed_m_s| {
            [0.0, 1.0, 2.0]
                .map(|eighths| SteadyWind { speed_m_s, towards_rad: eighths * FRAC_PI_4 })
        })
        .collect();
    let found = in_steady_winds(&sprinkler, layout, profile, &winds).unwrap();
    found.chunks(3).map(|each| each.iter().map(|u| 100.0 * u.cu).sum::<f64>() / 3.0).collect()
}

/// The same for a fixed pattern at [`SPEEDS_M_S`].
fn cu_percent(jets: Vec<Jet>, drag: DragCorrection, along_m: f64, across_m: f64) -> Vec<f64> {
    let layout = EndlessLayout {
        spacing_along_m: along_m,
        spacing_across_m: across_m,
        shifts_across_m: vec![0.0],
    };
    cu_of(jets, drag, &layout, &SPEEDS_M_S)
}

/// The demo's leg: flat in the middle, as a good impact sprinkler's.
fn demo_jet() -> Jet {
    let no_files = |name: &str| Err(format!("{name} is not here"));
    let demo = evenfall_scenario::resolve(evenfall_scenario::demo(), &no_files).unwrap();
    demo.scenario.alternatives[0].sprinkler.jets[0].clone()
}

/// A leg that falls in a straight line from the sprinkler to its radius, of the demo's size.
fn triangular_jet() -> Jet {
    let launch = Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.2 };
    let pattern =
        IdealPattern::new(Shape::Triangular, 44.0 * M_PER_FT, 4.98 * L_S_PER_GPM).unwrap();
    Jet::new(pattern, launch)
}

/// A nozzle at so many kPa and so high; its radius is judged, no source.
fn nozzle(diameter_mm: f64, radius_m: f64, (pressure_kpa, nozzle_height_m): (f64, f64)) -> Jet {
    let launch = Launch { pressure_kpa, trajectory_angle_deg: 25.0, nozzle_height_m };
    let nozzle = Nozzle { diameter_mm, coefficient: DISCHARGE_COEFFICIENT };
    Jet::new(NozzlePattern::new(nozzle, &launch, radius_m).unwrap(), launch)
}

/// Two nozzles, 4.4 and 2.4 mm, at 300 kPa on a riser so high.
fn two_nozzles_at(height_m: f64) -> Vec<Jet> {
    vec![nozzle(4.4, 15.0, (300.0, height_m)), nozzle(2.4, 11.0, (300.0, height_m))]
}

/// The same at 1.5 m.
fn two_nozzles() -> Vec<Jet> {
    two_nozzles_at(1.5)
}

/// One nozzle of the same bore as those two, 5.0 mm.
fn one_nozzle() -> Vec<Jet> {
    vec![nozzle(4.4_f64.hypot(2.4), 15.0, (300.0, 1.5))]
}

/// Loss of CU between two of the speeds.
fn loss(cu: &[f64], from_m_s: f64, to_m_s: f64) -> f64 {
    let at = |wanted: f64| SPEEDS_M_S.iter().position(|speed| *speed == wanted).unwrap();
    cu[at(from_m_s)] - cu[at(to_m_s)]
}

#[test]
fn published_uniformity_falls_with_wind_and_most_of_it_above_six_miles_an_hour() {
    // Scott & Corry, California Agriculture (opening): winds over 6 mph "decidedly affect"
    // distribution. Yacoubi et al. 2012 (abstract): severely impaired above 4 m/s.
    let feet = M_PER_FT;
    let demo = cu_percent(vec![demo_jet()], starting_drag(), 40.0 * feet, 60.0 * feet);
    let from_1_m_s = &demo[1..];
    assert!(from_1_m_s.is_sorted_by(|a, b| a > b), "{demo:?}");
    assert!(loss(&demo, 4.0, 8.0) >= 3.0, "{demo:?}");
    for (along_m, across_m) in [(18.0, 15.0), (18.0, 18.0), (12.0, 18.0)] {
        let cu = cu_percent(two_nozzles(), starting_drag(), along_m, across_m);
        assert!(cu.is_sorted_by(|a, b| a > b), "{along_m} × {across_m}: {cu:?}");
        assert!(loss(&cu, 0.0, 2.7) < loss(&cu, 2.7, 8.0), "{along_m} × {across_m}: {cu:?}");
    }
    assert!(loss(&demo, 0.0, 2.7) < loss(&demo, 2.7, 8.0), "{demo:?}");
}

#[test]
fn published_wider_spacing_is_worse_and_worse_still_in_wind() {
    // Tarjuelo et al. 1999, part II (abstract): wider spacing worse. Yacoubi et al. 2012 (abstract):
    // 12 × 12 m best.
    let at = |along_m, across_m| cu_percent(two_nozzles(), starting_drag(), along_m, across_m);
    let (near, middle, wide) = (at(12.0, 12.0), at(18.0, 15.0), at(18.0, 18.0));
    for speed in 2..SPEEDS_M_S.len() {
        assert!(near[speed] > middle[speed] && middle[speed] > wide[speed], "{speed}");
    }
    assert!(loss(&wide, 0.0, 6.0) > loss(&near, 0.0, 6.0));
}

#[test]
fn published_the_handbook_range_at_40_by_60_ft_lies_between_two_legs() {
    // Recalled, low: common nozzles give CU 80–86 in light wind and 74–79 at 5.6 m/s (12.5 mph).
    // A flat leg stays above it, a triangular one falls below: compared, not fitted to each.
    let feet = M_PER_FT;
    let flat = cu_percent(vec![demo_jet()], starting_drag(), 40.0 * feet, 60.0 * feet);
    let triangular = cu_percent(vec![triangular_jet()], starting_drag(), 40.0 * feet, 60.0 * feet);
    let windy = (flat[4], triangular[4]);
    assert!((79.0..83.0).contains(&windy.0) && (69.0..74.0).contains(&windy.1), "{windy:?}");
    let mean = 0.5 * (windy.0 + windy.1);
    assert!((74.0..79.0).contains(&mean), "{mean}");
}

/// The layout of a row of the table of uniformity in wind, by its words.
fn layout_of(words: &str) -> (Vec<Jet>, EndlessLayout) {
    let feet = M_PER_FT;
    let (jets, along_m, across_m) = match words {
        "40 × 60 ft, the demo's flat leg" | "40 × 60 ft, the demo's leg, three stops" => {
            (vec![demo_jet()], 40.0 * feet, 60.0 * feet)
        }
        "40 × 60 ft, triangular" => (vec![triangular_jet()], 40.0 * feet, 60.0 * feet),
        "18 × 15 m, nozzles of 4.4 and 2.4 mm" => (two_nozzles(), 18.0, 15.0),
        "18 × 18 m, the same" => (two_nozzles(), 18.0, 18.0),
        other => panic!("{other}"),
    };
    let shifts = if words.ends_with("three stops") { vec![0.0, 20.0, -20.0] } else { vec![0.0] };
    let shifts_across_m = shifts.into_iter().map(|shift: f64| shift * feet).collect();
    let (spacing_along_m, spacing_across_m) = (along_m, across_m);
    (jets, EndlessLayout { spacing_along_m, spacing_across_m, shifts_across_m })
}

#[test]
fn regress_the_table_of_uniformity_in_wind_is_what_the_program_computes() {
    for row in CU_IN_WIND {
        let (jets, layout) = layout_of(row.layout);
        let found = cu_of(jets, starting_drag(), &layout, &SPEEDS_OF_TABLE_M_S);
        let texts = |cu: &[f64]| cu.iter().map(|cu| format!("{cu:.1}")).collect::<Vec<_>>();
        assert_eq!(texts(&found), texts(&row.cu_percent), "{}", row.layout);
    }
}

#[test]
fn published_a_higher_riser_is_better_in_wind_where_sprinklers_stand_wide_apart() {
    // Tarjuelo et al. 1999, part II (abstract): the 2 m riser is better. Against 0.6 m (a height from
    // memory) this holds at 18 × 18 m from 4 m/s on; where it does not, the reference says by how much.
    let at = |height_m| cu_percent(two_nozzles_at(height_m), starting_drag(), 18.0, 18.0);
    let (low, high) = (at(0.6), at(2.0));
    for speed in 3..SPEEDS_M_S.len() {
        assert!(high[speed] > low[speed], "{} m/s: {low:?} {high:?}", SPEEDS_M_S[speed]);
    }
}

#[test]
fn published_one_nozzle_is_better_than_two_in_strong_wind() {
    // Tarjuelo et al. 1999, part II (abstract): two nozzles better in light wind, one in strong wind.
    // The second half holds; the first does not at these spacings, as the reference says.
    for (along_m, across_m) in [(18.0, 15.0), (18.0, 18.0)] {
        let cu = |jets| cu_percent(jets, starting_drag(), along_m, across_m);
        let (one, two) = (cu(one_nozzle()), cu(two_nozzles()));
        for speed in 4..SPEEDS_M_S.len() {
            assert!(one[speed] > two[speed], "{along_m} × {across_m}: {one:?} {two:?}");
        }
    }
}

#[test]
fn regress_disagreements_with_published_signs_are_as_large_as_is_told() {
    let at = |jets, side_m| cu_percent(jets, starting_drag(), side_m, side_m);
    // Riser of 2 m against 0.6 m, better by W2: worse in light wind, and at 12 × 12 m always.
    let gain = |side_m, speed: usize| {
        at(two_nozzles_at(2.0), side_m)[speed] - at(two_nozzles_at(0.6), side_m)[speed]
    };
    let gains = [gain(18.0, 1), gain(12.0, 4)];
    // Two nozzles against one in calm, better by W2.
    let calm = at(two_nozzles(), 18.0)[0] - at(one_nozzle(), 18.0)[0];
    // 250 to 400 kPa at 1 m/s, better by W3; radii as P to the power 0.2.
    let at_kpa = |kpa: f64| {
        let longer = (kpa / 300.0).powf(0.2);
        let jets =
            vec![nozzle(4.4, 15.0 * longer, (kpa, 1.5)), nozzle(2.4, 11.0 * longer, (kpa, 1.5))];
        at(jets, 18.0)[1]
    };
    let pressure = at_kpa(400.0) - at_kpa(250.0);
    // Loss of CU for each m/s from 4 to 6 and from 6 to 8, sharper above 6 by W4.
    let wide = at(two_nozzles(), 18.0);
    let falls = [0.5 * loss(&wide, 4.0, 6.0), 0.5 * loss(&wide, 6.0, 8.0)];
    let text = |points: f64| format!("{points:.1}");
    let told = DISAGREEMENTS;
    assert_eq!(text(gains[0]), text(told.riser_light_wind));
    assert_eq!(text(gains[1]), text(told.riser_close));
    assert_eq!(text(calm), text(told.two_nozzles_in_calm));
    assert_eq!(text(pressure), text(told.pressure_light_wind));
    assert_eq!(falls.map(text), [text(told.fall_to_6_m_s), text(told.fall_to_8_m_s)]);
}
