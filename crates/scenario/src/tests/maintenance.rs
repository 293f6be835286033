//! The machine's maintenance: what is assumed, and what is refused.

use super::helpers::{bad, demo_at, demo_with, good, only_problem};
use crate::Resolved;
use evenfall_core::money::Price;
use evenfall_core::units::M_PER_IN;

fn assumed<'a>(demo: &'a Resolved, what: &str) -> Option<&'a str> {
    demo.assumptions.iter().find(|a| a.what == what).map(|a| a.value.as_str())
}

#[test]
fn closed_the_demo_knows_its_drive_and_its_crop() {
    let demo = good(crate::demo());
    assert!((demo.maintenance.pipe_diameter_m - 5.0 * M_PER_IN).abs() < 1e-12);
    let drive = demo.maintenance.drive.unwrap();
    assert!((drive.move_time_h((75.0 - 32.0) / 1.8) - 22.0 / 60.0).abs() < 1e-9);
    assert_eq!(
        assumed(&good(crate::demo()), "/maintenance/oil/viscosity_at_100_c"),
        Some("5.4 cSt")
    );
    // FAO-56 Table 12: alfalfa 0.7 m.
    assert_eq!(demo.maintenance.stand.unwrap().greatest_m, 0.7);
    let taller = good(&demo_at("/maintenance/crop_height", "\"1 m\""));
    assert_eq!(taller.maintenance.stand.unwrap().greatest_m, 1.0);
}

#[test]
fn closed_without_the_section_nothing_is_assumed_of_it() {
    let demo = good(&demo_with(|demo| {
        demo.as_object_mut().unwrap().remove("maintenance");
    }));
    assert!(demo.maintenance.drive.is_none() && demo.maintenance.stand.is_some());
    assert!(!demo.assumptions.iter().any(|a| a.what.starts_with("/maintenance")));
}

#[test]
fn closed_labor_of_a_move_follows_from_timed_moves_where_no_price_says_it() {
    let demo = good(&demo_with(|demo| {
        demo["worth"]["prices"].as_object_mut().unwrap().remove("labor_per_move");
    }));
    let labor = demo.worth.as_ref().unwrap().1.prices.of(Price::LaborPerMove).unwrap();
    // The demo's air is 75 °F, where a move was timed at 22 min.
    assert!((labor.value - 22.0 / 60.0).abs() < 1e-9 && !labor.is_placeholder);
    assert_eq!(assumed(&demo, "/worth/prices/labor_per_move"), Some("22 min"));
    // A price of the scenario's own stays.
    let own = good(crate::demo()).worth.unwrap().1.prices.of(Price::LaborPerMove).unwrap();
    assert!((own.value - 0.5).abs() < 1e-12);
}

#[test]
fn closed_what_makes_no_sense_is_refused() {
    let one = "[{ \"temperature\": \"75 F\", \"time\": \"22 min\" }]";
    let (at, said) = only_problem(&demo_at("/maintenance/timed_moves", one));
    assert_eq!(at, "/maintenance/timed_moves");
    assert!(said.contains("two timed moves are needed"), "{said}");
    let (_, said) = only_problem(&demo_at("/maintenance/timed_moves/1/time", "\"10 min\""));
    assert!(said.contains("faster in cold"), "{said}");
    let (_, said) = only_problem(&demo_at("/maintenance/oil/viscosity_at_40_c", "\"46 cSt\""));
    assert!(said.contains("28.8 to 35.2 cSt"), "{said}");
    let (_, said) = only_problem(&demo_at("/maintenance/oil/viscosity_at_100_c", "\"45 cSt\""));
    assert!(said.contains("thinner with heat"), "{said}");
    let (_, said) = only_problem(&demo_at("/maintenance/oil/viscosity_at_100_c", "\"5.4 mm\""));
    assert!(said.contains("which is a length. Expected a viscosity"), "{said}");
}

#[test]
fn closed_all_problems_of_the_section_are_told_at_once() {
    let text = demo_with(|demo| {
        demo["maintenance"].as_object_mut().unwrap().remove("oil");
        demo["maintenance"]["pipe_diameter"] = "15.7 in".into();
        demo["maintenance"]["axle_height"] = "0.199 m".into();
        demo["maintenance"]["crop_height"] = "20 ft".into();
    });
    let said = bad(&text).to_string();
    for words in ["Axle height is 0.199 m. Expected 0.2 to 2 m.", "Crop height is 20 ft."] {
        assert!(said.contains(words), "no `{words}` in {said}");
    }
    // What only makes no sense together is told once each value is sound by itself.
    let ground = demo_with(|demo| {
        demo["maintenance"].as_object_mut().unwrap().remove("oil");
        demo["maintenance"]["pipe_diameter"] = "40 cm".into();
        demo["maintenance"]["axle_height"] = "0.2 m".into();
    });
    let said = bad(&ground).to_string();
    for words in ["timed moves need the key `oil`", "the pipe would lie on the ground"] {
        assert!(said.contains(words), "no `{words}` in {said}");
    }
}
