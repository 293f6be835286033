//! Sprinklers that do not all deliver the same: read, told, refused.

use super::bad_input::refused;
use super::helpers::{demo_with, good};
use evenfall_core::lateral::Discharges;

#[test]
fn closed_scatter_wear_and_odd_sprinklers_reach_the_core() {
    let text = demo_with(|demo| {
        demo["lateral"]["nozzle_wear"] = "5 %".into();
        demo["lateral"]["odd_sprinklers"] = serde_json::json!([
            { "number": 1, "discharge": "0 %" }, { "number": 33, "discharge": "105 %" }
        ]);
        demo["alternatives"][1]["lateral"] =
            serde_json::json!({ "discharge_variation": "10 %", "nozzle_wear": "0 %" });
    });
    let (plain, worn) = (good(crate::demo()).scenario, good(&text).scenario);
    let ratio = |at: usize| {
        let discharge =
            |of: &evenfall_core::model::Scenario| of.alternatives[at].sprinkler.discharge_l_s();
        discharge(&worn) / discharge(&plain)
    };
    assert!((ratio(0) - 1.05).abs() < 1e-12 && (ratio(1) - 1.0).abs() < 1e-15);
    let [first, second, ..] = &worn.alternatives[..] else { panic!() };
    // Shares are of the stated discharge: 105 % is what every worn nozzle delivers.
    assert_eq!(first.discharges.single, [(0, 0.0), (32, 1.0)]);
    assert_eq!((first.discharges.scatter, second.discharges.scatter), (0.0, 0.1));
    assert!((second.stated_sprinklers() / 33.0 - 1.0).abs() < 0.05);
}

#[test]
fn closed_without_a_word_all_are_alike_and_that_is_told() {
    let resolved = good(crate::demo());
    assert!(resolved.scenario.alternatives.iter().all(|a| a.discharges == Discharges::default()));
    for key in ["discharge_variation", "nozzle_wear"] {
        let what = format!("/lateral/{key}");
        assert!(resolved.assumptions.iter().any(|a| a.what == what), "{key}");
    }
}

#[test]
fn invariant_sprinklers_that_are_not_there_are_refused() {
    let odd = |list: serde_json::Value| {
        demo_with(|demo| demo["lateral"]["odd_sprinklers"] = list.clone())
    };
    let one = |number: u64| serde_json::json!({ "number": number, "discharge": "0 %" });
    refused(
        &odd(serde_json::json!([one(34)])),
        "/lateral/odd_sprinklers/0/number",
        &["there is no sprinkler 34 on a lateral of 33"],
    );
    refused(
        &odd(serde_json::json!([one(3), one(3)])),
        "/lateral/odd_sprinklers/1/number",
        &["sprinkler 3 is named twice"],
    );
    let all: Vec<_> = (1..=33).map(one).collect();
    refused(
        &odd(serde_json::json!(all)),
        "/lateral/odd_sprinklers/0/discharge",
        &["every sprinkler of the lateral is plugged"],
    );
}
