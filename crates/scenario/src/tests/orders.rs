//! Orders of sets, and wheels whose whole turns do not end at the outlets.

use super::helpers::{bad, demo_with, good, only_problem};
use evenfall_core::lateral::SetOrder;
use evenfall_core::season::plans;
use serde_json::{Value, json};

/// The demo on few outlets, with changes to its wheel and its season.
fn demo(wheel: Value, outlets: Value, season: &Value) -> String {
    demo_with(|demo| {
        demo["field"]["width_across"] = json!("360 ft");
        demo["wheel"] = wheel;
        demo["outlets"] = outlets;
        for (key, value) in season.as_object().unwrap() {
            demo["season"][key] = value.clone();
        }
        for alternative in demo["alternatives"].as_array_mut().unwrap() {
            alternative["rotation"] = json!(["0 ft"]);
        }
    })
}

fn usual() -> (Value, Value) {
    (json!({ "travel_per_turn": "20 ft" }), json!({ "spacing": "60 ft", "reach": "25 ft" }))
}

#[test]
fn closed_orders_are_taken_and_an_alternative_may_have_its_own() {
    let (wheel, outlets) = usual();
    let mut text: Value =
        serde_json::from_str(&demo(wheel, outlets, &json!({ "set_order": "every second outlet" })))
            .unwrap();
    text["alternatives"][1]["season"] = json!({ "outlet_order": [6, 5, 4, 3, 2, 1] });
    text["alternatives"][2]["season"] = json!({ "set_order": "both ways" });
    let resolved = good(&text.to_string());
    let outlets = |index: usize, pass: usize| -> Vec<usize> {
        let plans = plans(&resolved.scenario).unwrap();
        plans[index].passes[pass].sets.iter().map(|set| set.outlet + 1).collect()
    };
    assert_eq!(outlets(0, 0), [1, 3, 5, 6, 4, 2]);
    assert_eq!(outlets(1, 3), [6, 5, 4, 3, 2, 1]);
    assert_eq!((outlets(2, 0), outlets(2, 1)), (vec![1, 2, 3, 4, 5, 6], vec![6, 5, 4, 3, 2, 1]));
    let own = resolved.scenario.alternatives[1].calendar.as_ref().unwrap();
    assert_eq!(own.order, SetOrder::Listed(vec![5, 4, 3, 2, 1, 0]));
}

#[test]
fn closed_a_list_that_skips_an_outlet_or_names_one_twice_is_told_whole() {
    let (wheel, outlets) = usual();
    let problems = bad(&demo(wheel, outlets, &json!({ "outlet_order": [1, 2, 2, 9, 4, 5] })));
    let said = problems.to_string();
    for part in ["leaves out 3, 6.", "names 2 more than once", "names 9, which is not there"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert!(said.contains("each outlet from 1 to 6 once"), "{said}");
}

#[test]
fn closed_two_orders_at_once_are_refused() {
    let (wheel, outlets) = usual();
    let both = json!({ "set_order": "both ways", "outlet_order": [1, 2, 3, 4, 5, 6] });
    let (pointer, said) = only_problem(&demo(wheel, outlets, &both));
    assert_eq!(pointer, "/season/outlet_order");
    assert!(said.contains("Remove one of the two"), "{said}");
}

#[test]
fn closed_a_wheel_that_misses_its_outlets_is_told_with_three_ways_out() {
    let resolved = good(&demo(
        json!({ "travel_per_turn": "15.7 ft" }),
        json!({ "spacing": "50 ft", "reach": "25 ft" }),
        &json!({}),
    ));
    let said = resolved.warnings.join("\n");
    for part in [
        "3 turns a move end 2.9 ft (0.88 m) short of each next outlet",
        "17.4 ft (5.3 m) short of the last one",
        "Fixed (up to 17.4 ft (5.3 m) off its marks), Two stops",
        "make a turn more about every 5 moves",
        "place outlets 47.1 ft (14.36 m) or 62.8 ft (19.14 m) apart",
        "66° more each move",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    // Whole turns that end at the outlets need no word.
    let (wheel, outlets) = usual();
    assert!(!good(&demo(wheel, outlets, &json!({}))).warnings.join("\n").contains("turn"));
}

#[test]
fn closed_the_nearest_whole_turn_keeps_the_line_within_half_a_turn() {
    let resolved = good(&demo(
        json!({ "travel_per_turn": "15.7 ft", "added_turn": "nearest" }),
        json!({ "spacing": "50 ft", "reach": "25 ft" }),
        &json!({}),
    ));
    let plans = plans(&resolved.scenario).unwrap();
    let sets = plans[0].passes.iter().flat_map(|pass| &pass.sets);
    let furthest_ft = sets.map(|set| set.drift_m.abs() / 0.3048).fold(0.0, f64::max);
    // −2.9, −5.8, then −8.7 + 15.7 = 7.0.
    assert!((furthest_ft - 7.0).abs() < 1e-9, "{furthest_ft}");
}

#[test]
fn closed_a_hose_too_short_for_any_whole_turn_is_refused_by_outlet() {
    let problems = bad(&demo(
        json!({ "travel_per_turn": "24.3 ft" }),
        json!({ "spacing": "80 ft", "reach": "10 ft" }),
        &json!({}),
    ));
    let said = problems.to_string();
    assert!(said.contains("cannot be connected at outlet 3"), "{said}");
    assert!(said.contains("14.2 ft (4.33 m) before it or 10.1 ft (3.08 m) past it"), "{said}");
    assert!(said.contains("a reach of at least 10.1 ft"), "{said}");
}
