//! An alternative's own keys laid over the common sections.

use super::helpers::{demo_with, good, only_problem};
use evenfall_core::lateral::Machine;
use evenfall_core::units::M_PER_FT;
use serde_json::json;
use std::f64::consts::PI;

fn travel_ft(machine: &Machine) -> f64 {
    match machine {
        Machine::WheelLine(wheel) => wheel.travel_per_turn_m / M_PER_FT,
        Machine::HandMove => f64::NAN,
    }
}

#[test]
fn closed_a_way_with_a_wheel_of_its_own_by_diameter_or_by_travel() {
    let demo = good(&demo_with(|demo| {
        demo["wheel"] = json!({ "outside_diameter": "76 in", "slip_and_sinkage": "2 %" });
        for way in [1, 2] {
            demo["alternatives"][way]["rotation"] = json!(["0 ft", "1 turn"]);
        }
        demo["alternatives"][1]["wheel"] = json!({ "outside_diameter": "64 in" });
        // A measured travel holds the sinkage already: the common allowance goes with its diameter.
        demo["alternatives"][2]["wheel"] = json!({ "travel_per_turn": "16 ft" });
    }));
    let travels: Vec<f64> =
        demo.scenario.alternatives.iter().map(|way| travel_ft(&way.lateral.machine)).collect();
    let rolls = |diameter_in: f64| PI * diameter_in / 12.0 * 0.98;
    for (travel, expected) in travels.iter().zip([rolls(76.0), rolls(64.0), 16.0]) {
        assert!((travel - expected).abs() < 1e-9, "{travels:?}");
    }
}

#[test]
fn closed_an_allowance_of_its_own_beside_a_measured_travel_is_still_refused() {
    let (pointer, said) = only_problem(&demo_with(|demo| {
        demo["wheel"] = json!({ "outside_diameter": "76 in" });
        for way in [1, 2] {
            demo["alternatives"][way]["rotation"] = json!(["0 ft"]);
        }
        demo["alternatives"][1]["wheel"] =
            json!({ "travel_per_turn": "16 ft", "slip_and_sinkage": "2 %" });
    }));
    assert_eq!(pointer, "/alternatives/1/wheel/slip_and_sinkage");
    assert!(said.contains("already includes"), "{said}");
}

#[test]
fn closed_a_way_says_by_itself_when_its_next_pass_begins() {
    let demo = good(&demo_with(|demo| {
        demo["season"]["idle_between_passes"] = json!("24 h");
        demo["alternatives"][1]["season"] = json!({ "pass_interval": "14 days" });
    }));
    let own = demo.scenario.alternatives[1].calendar.as_ref().unwrap();
    assert_eq!((own.pass_every_h, own.idle_h), (Some(14.0 * 24.0), 0.0));
    assert_eq!(demo.scenario.calendar.idle_h, 24.0);

    let demo = good(&demo_with(|demo| {
        demo["season"].as_object_mut().unwrap().remove("idle_between_passes");
        demo["season"]["pass_interval"] = json!("14 days");
        demo["alternatives"][1]["season"] = json!({ "idle_between_passes": "12 h" });
    }));
    let own = demo.scenario.alternatives[1].calendar.as_ref().unwrap();
    assert_eq!((own.pass_every_h, own.idle_h), (None, 12.0));
}
