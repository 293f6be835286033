//! The pipe of the lateral: read, defaulted, solved, refused.

use super::bad_input::refused;
use super::helpers::{bad, demo_at, demo_with, good};
use evenfall_core::lateral::hydraulics::{Ground, Inlet};
use evenfall_core::units::{KPA_PER_PSI, M_PER_FT, M_PER_IN};

const AT: &str = "/lateral/pipe";

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * b.abs()
}

#[test]
fn closed_a_bare_pipe_takes_its_defaults_and_tells_them() {
    let resolved = good(&demo_at(AT, r#"{ "inside_diameter": "3.9 in" }"#));
    let feed = resolved.scenario.alternatives[0].feed.clone().unwrap();
    assert!(close(feed.pipe.near.inside_diameter_m, 3.9 * M_PER_IN) && feed.pipe.far.is_none());
    assert!(close(feed.pipe.near.roughness_c, 130.0));
    assert_eq!((feed.inlet_m, &feed.ground), (0.0, &Ground::LEVEL));
    let Inlet::MeanSprinkler(kpa) = feed.inlet else { panic!("{feed:?}") };
    assert!(close(kpa, 50.0 * KPA_PER_PSI));
    // Nozzles 4 ft up on the axle of a wheel that rolls 20 ft.
    let axle_m = 20.0 * M_PER_FT / (2.0 * std::f64::consts::PI);
    assert!(close(feed.riser_m, 4.0 * M_PER_FT - axle_m));
    let told: Vec<&str> = resolved.assumptions.iter().map(|a| a.what.as_str()).collect();
    for key in ["material", "roughness_c", "inlet/mean_sprinkler_pressure", "inlet_at", "riser"] {
        assert!(told.contains(&format!("/lateral/pipe/{key}").as_str()), "{key}: {told:?}");
    }
    assert!(
        told.contains(&"/lateral/pipe/slope") && told.contains(&"/lateral/pipe/radius_exponent")
    );
}

#[test]
fn closed_without_a_pipe_uniform_pressure_is_told() {
    let resolved = good(crate::demo());
    assert!(resolved.scenario.alternatives.iter().all(|a| a.feed.is_none()));
    assert!(resolved.assumptions.iter().any(|a| a.what == "/lateral/pipe"));
}

#[test]
fn closed_an_alternative_has_a_pipe_of_its_own() {
    let text = demo_with(|demo| {
        demo["lateral"]["pipe"] = serde_json::json!({ "inside_diameter": "3.9 in" });
        demo["alternatives"][1]["lateral"] = serde_json::json!({
            "pipe": {
                "inside_diameter": "4.9 in", "inside_diameter_beyond": "3.9 in",
                "change_at": "660 ft", "material": "plastic", "slope": "-0.5 %",
                "inlet": { "pressure": "60 psi" },
            }
        });
        demo["alternatives"][1]["sprinkler"] =
            serde_json::json!({ "flow_control": { "from": "45 psi", "to": "70 psi" } });
    });
    let all = good(&text).scenario.alternatives;
    let own = all[1].feed.clone().unwrap();
    assert!(all[0].feed == all[2].feed && all[0].feed.as_ref() != Some(&own));
    let (change_m, far) = own.pipe.far.unwrap();
    assert!(close(change_m, 660.0 * M_PER_FT) && close(far.inside_diameter_m, 3.9 * M_PER_IN));
    // Plastic: 150 from 4 in on.
    assert!(close(own.pipe.near.roughness_c, 150.0) && own.ground == Ground::Slope(-0.005));
    let control = all[1].sprinkler.flow_control.unwrap();
    assert!(close(control.from_kpa, 45.0 * KPA_PER_PSI) && all[0].sprinkler.flow_control.is_none());
    assert!(close(control.to_kpa.unwrap(), 70.0 * KPA_PER_PSI));
}

#[test]
fn closed_bad_pipes_are_refused_at_their_place() {
    let key = |key: &str| format!("{AT}/{key}");
    let pipe = |more: &str| demo_at(AT, &format!(r#"{{ "inside_diameter": "3.9 in"{more} }}"#));
    let second = r#", "inside_diameter_beyond": "3 in""#;
    refused(&pipe(second), &key("inside_diameter_beyond"), &["change_at"]);
    let change = r#", "change_at": "600 ft""#;
    refused(&pipe(change), &key("change_at"), &["needs a second diameter"]);
    let both = r#", "slope": "1 %", "heights": [{ "place": "0 ft", "height": "1 ft" }]"#;
    refused(&pipe(both), &key("slope"), &["both given"]);
    let back = r#", "heights": [{ "place": "9 ft", "height": "1 ft" },
        { "place": "9 ft", "height": "2 ft" }]"#;
    refused(&pipe(back), &key("heights/1/place"), &["must rise"]);
    let two = r#", "inlet": { "pressure": "60 psi", "flow": "160 gpm" }"#;
    refused(&pipe(two), &key("inlet/flow"), &["only one of"]);
    refused(&pipe(r#", "slope": "3 ft""#), &key("slope"), &["Expected a fraction"]);
    refused(&pipe(r#", "roughness_c": 1300"#), &key("roughness_c"), &["60"]);
    refused(&demo_at(AT, r#"{ "material": "plastic" }"#), AT, &["inside_diameter", "missing"]);
}

#[test]
fn closed_a_lateral_that_runs_dry_is_refused_with_the_remedy() {
    let dry = r#"{ "inside_diameter": "1.5 in", "inlet": { "pressure": "50 psi" } }"#;
    let told = bad(&demo_at(AT, dry)).to_string();
    for words in ["runs dry: sprinkler 33 of 33", "A wider pipe", "psi"] {
        assert!(told.contains(words), "{told}");
    }
    // Of all alternatives, told once.
    assert_eq!(told.matches("runs dry").count(), 1, "{told}");
    let held = demo_with(|demo| {
        demo["lateral"]["pipe"] =
            serde_json::json!({ "inside_diameter": "4.9 in", "inlet": { "flow": "400 gpm" } });
        demo["sprinkler"]["flow_control"] = serde_json::json!({ "from": "50 psi" });
    });
    assert!(bad(&held).to_string().contains("give the inlet's pressure"));
}

#[test]
fn closed_flow_control_belongs_to_the_sprinkler_and_its_range_holds_the_stated_pressure() {
    let control = |json: &str| demo_at("/sprinkler/flow_control", json);
    let resolved = good(&control(r#"{ "from": "40 psi" }"#));
    assert!(resolved.assumptions.iter().any(|a| a.what == "/sprinkler/flow_control/to"));
    let at = "/sprinkler/flow_control";
    refused(
        &control(r#"{ "from": "55 psi" }"#),
        &format!("{at}/from"),
        &["stated pressure of 50 psi", "55 psi to any higher pressure"],
    );
    refused(
        &control(r#"{ "from": "40 psi", "to": "30 psi" }"#),
        &format!("{at}/to"),
        &["ends at 30 psi and begins at 40 psi"],
    );
    let moved = r#"{ "inside_diameter": "4.9 in", "flow_control": "45 psi" }"#;
    refused(&demo_at(AT, moved), &format!("{AT}/flow_control"), &["key of `sprinkler`"]);
}

#[test]
fn closed_fast_water_and_a_broken_rule_are_warned_of() {
    let narrow = r#"{ "inside_diameter": "3 in", "material": "aluminum" }"#;
    let warnings = good(&demo_at(AT, narrow)).warnings.join("\n");
    assert!(warnings.contains("water hammer") && warnings.contains("more than the 20 %"));
    let wide = good(&demo_at(AT, r#"{ "inside_diameter": "4.9 in" }"#)).warnings.join("\n");
    assert!(!wide.contains("water hammer") && !wide.contains("20 %"), "{wide}");
}

#[test]
fn closed_the_example_with_three_pipes_is_sound() {
    let resolved = good(include_str!("../../../../data/pipes/scenario.json"));
    assert!(resolved.invented);
    let lines: Vec<_> = resolved
        .scenario
        .alternatives
        .iter()
        .map(|a| a.pressures().unwrap().unwrap().pressure_variation())
        .collect();
    // The narrower the pipe, the wider the pressures.
    assert!(lines[0] == lines[1] && lines[1] > lines[2] && lines[2] > lines[3], "{lines:?}");
}
