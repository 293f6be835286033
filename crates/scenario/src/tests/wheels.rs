//! Wheels by the trade's name, as measured, and by a diameter that may be a name.

use super::bad_input::refused;
use super::helpers::{demo_at, demo_with, good, only_problem};
use crate::Resolved;
use crate::notes::length;
use crate::options::wheel_question;
use evenfall_core::lateral::{Machine, WheelSize};
use evenfall_core::units::M_PER_FT;
use serde_json::{Value, json};
use std::f64::consts::PI;

fn travels_ft(text: &str) -> Vec<f64> {
    let of = |machine: &Machine| match machine {
        Machine::WheelLine(wheel) => wheel.travel_per_turn_m / M_PER_FT,
        Machine::HandMove => f64::NAN,
    };
    good(text).scenario.alternatives.iter().map(|one| of(&one.lateral.machine)).collect()
}

/// The demo fixed at its outlets on another wheel.
fn on(wheel: Value) -> String {
    demo_with(|demo| {
        demo["wheel"] = wheel;
        demo["alternatives"] = json!([{ "name": "Fixed", "rotation": ["0 ft"] }]);
    })
}

/// The demo with a hose of 30 ft, one wheel and one stop beside the outlet.
fn beside(size: &str, shift: &str) -> String {
    demo_with(|demo| {
        demo["wheel"] = json!({ "size": size });
        demo["outlets"]["reach"] = json!("30 ft");
        demo["alternatives"] = json!([{ "name": "Two", "rotation": ["0 ft", shift] }]);
    })
}

#[test]
fn closed_trade_sizes_stand_where_the_trade_says() {
    // Common practice, no source: 20 ft to either side of an outlet and not 30; 30 ft with the others.
    for shift in ["20 ft", "-20 ft"] {
        good(&beside("7-foot", shift));
    }
    let at = "/alternatives/0/rotation/1";
    refused(&beside("7-foot", "30 ft"), at, &["half a turn", "-20 ft", "20 ft"]);
    for size in ["5-foot", "9-foot"] {
        for shift in ["30 ft", "-30 ft"] {
            good(&beside(size, shift));
        }
    }
    refused(&beside("9-foot", "20 ft"), at, &["tilted"]);
}

#[test]
fn closed_what_a_size_rolls_is_told_as_a_starting_value() {
    let resolved = good(&on(json!({ "size": "9-foot" })));
    let told = resolved.assumptions.iter().find(|a| a.what == "/wheel/travel_per_turn").unwrap();
    assert_eq!(told.value, "30 ft (9.144 m)");
    for words in ["trade’s name", "9-foot", "common practice, no source", "measure it"] {
        assert!(told.why.contains(words), "{}", told.why);
    }
    assert!(resolved.warnings.is_empty(), "{:?}", resolved.warnings);
    assert_eq!(travels_ft(&on(json!({ "size": "9-foot" }))), [30.0]);
}

/// What is asked about wheels, beside what is told of whole turns that miss the outlets.
fn questions(resolved: &Resolved) -> Vec<String> {
    let told = resolved.warnings.iter().filter(|told| !told.contains("The wheels roll"));
    told.cloned().collect()
}

#[test]
fn closed_editors_and_page_tell_what_each_size_rolls() {
    let schema: Value = serde_json::from_str(&crate::schema()).unwrap();
    let size = &schema["$defs"]["wheel"]["properties"]["size"];
    let rolls = |size: WheelSize| format!("{} a turn", length(size.travel_per_turn_m()));
    assert_eq!(size["enum"], json!(WheelSize::ALL.map(WheelSize::name)));
    assert_eq!(size["enumDescriptions"], json!(WheelSize::ALL.map(rolls)));
}

#[test]
fn closed_a_measured_travel_goes_before_the_name() {
    let measured = on(json!({ "size": "7-foot", "travel_per_turn": "19.7 ft" }));
    assert!((travels_ft(&measured)[0] - 19.7).abs() < 1e-12);
    let resolved = good(&measured);
    assert!(questions(&resolved).is_empty(), "{:?}", resolved.warnings);
    let told = resolved.assumptions.iter().find(|a| a.what == "/wheel/size").unwrap();
    assert_eq!(told.why, "measured; a 7-foot wheel rolls 20 ft (6.096 m) by its name");
    assert!(!resolved.assumptions.iter().any(|a| a.what == "/wheel/travel_per_turn"));
    // Another size's roll is probably a slip.
    let other = questions(&good(&on(json!({ "size": "7-foot", "travel_per_turn": "15 ft" }))));
    assert!(other.len() == 1 && other[0].contains("called 7-foot"), "{other:?}");
}

#[test]
fn closed_a_size_stands_beside_no_diameter_and_no_slip() {
    let both = on(json!({ "size": "7-foot", "outside_diameter": "76 in" }));
    let words = ["only one of", "`size`", "`outside_diameter`", "Remove all of them but one"];
    refused(&both, "/wheel/outside_diameter", &words);
    let words = ["`size` and `travel_per_turn` may stand together"];
    refused(&both, "/wheel/outside_diameter", &words);
    let slip = on(json!({ "size": "7-foot", "slip_and_sinkage": "2 %" }));
    refused(&slip, "/wheel/slip_and_sinkage", &["only with a diameter", "Remove"]);
    refused(&on(json!({ "leveler_range": "9 deg" })), "/wheel", &["one of `size`", "missing"]);
}

#[test]
fn closed_an_unknown_size_is_refused_with_the_sizes_there_are() {
    let at = "/wheel/size";
    let words = ["\"5-foot\", \"7-foot\", \"9-foot\"", "Did you mean \"7-foot\"?"];
    refused(&demo_at(at, "\"7 foot\""), at, &words);
    refused(&demo_at(at, "\"6-foot\""), at, &["Wheel size is \"6-foot\"", "\"9-foot\""]);
    refused(&demo_at(at, "7"), at, &["\"5-foot\""]);
    refused(&demo_at(at, "\"\""), at, &["\"5-foot\""]);
}

#[test]
fn closed_a_diameter_that_is_a_name_is_questioned_and_a_measured_one_is_not() {
    let warnings = |diameter: &str| questions(&good(&on(json!({ "outside_diameter": diameter }))));
    let told = warnings("7 ft");
    assert_eq!(told.len(), 1, "{told:?}");
    for words in [
        "outside diameter is given as 7 ft. Do you mean the 7-foot wheel, 76 in across, 20 ft a turn, \
         or did you measure 84 in?",
        "Taken as measured, 21.991 ft",
        "\"size\": \"7-foot\"",
        "inches",
        "`travel_per_turn`",
    ] {
        assert!(told[0].contains(words), "no `{words}` in {}", told[0]);
    }
    assert!(warnings("84 in").is_empty(), "{:?}", warnings("84 in"));
    // Once, however many alternatives stand on it.
    let common = demo_with(|demo| {
        demo["wheel"] = json!({ "outside_diameter": "7 ft" });
        for one in demo["alternatives"].as_array_mut().unwrap() {
            one["rotation"] = json!(["0 ft", "1 turn"]);
            one["wheel"] = json!({ "leveler_range": "20 deg" });
        }
    });
    let told = questions(&good(&common));
    assert_eq!(told.iter().filter(|told| told.contains("7-foot")).count(), 1, "{told:?}");
}

#[test]
fn closed_feet_and_meters_are_questioned_and_inches_and_millimeters_are_not() {
    for (name, size) in [
        ("5 ft", "the 5-foot wheel, 57 in across, 15 ft a turn"),
        ("9 feet", "the 9-foot wheel, 115 in across, 30 ft a turn"),
        ("2.1 m", "the 7-foot wheel"),
    ] {
        let asked = wheel_question(name, 6.0).unwrap();
        assert!(asked.contains(size) && asked.contains("--wheel "), "{asked}");
    }
    for measured in
        ["84 in", "7.5 ft", "2134 mm", "213 cm", "76 in", "6.4 ft", "1.93 m", "7", "wide"]
    {
        assert_eq!(wheel_question(measured, 6.0), None, "{measured}");
    }
}

#[test]
fn closed_an_alternatives_own_wheel_goes_before_the_common_one_however_each_is_given() {
    let by_name = json!({ "size": "9-foot" });
    let by_travel = json!({ "travel_per_turn": "16 ft" });
    let by_diameter = json!({ "outside_diameter": "64 in", "slip_and_sinkage": "2 %" });
    let both = json!({ "size": "7-foot", "travel_per_turn": "19.8 ft" });
    let all = [by_name, by_travel, by_diameter, both];
    // 30 ft; 16 ft; 64 in around, less 2 %; the measured travel.
    let own_ft = [30.0, 16.0, PI * 64.0 / 12.0 * 0.98, 19.8];
    for (common, common_ft) in all.iter().zip(own_ft) {
        let text = demo_with(|demo| {
            demo["wheel"] = common.clone();
            let own = |wheel| json!({ "name": format!("on {wheel}"), "rotation": ["0 ft"], "wheel": wheel });
            let fixed = json!({ "name": "Common", "rotation": ["0 ft"] });
            demo["alternatives"] = std::iter::once(fixed).chain(all.iter().map(own)).collect();
        });
        for (travel, expected) in travels_ft(&text).iter().zip([&[common_ft], &own_ft[..]].concat())
        {
            assert!((travel - expected).abs() < 1e-9, "{travel} and not {expected} over {common}");
        }
    }
    let (at, said) = only_problem(&demo_with(|demo| {
        demo["alternatives"][1]["wheel"] = json!({ "size": "5-foot", "outside_diameter": "57 in" });
        demo["alternatives"][1]["rotation"] = json!(["0 ft"]);
    }));
    assert!(
        at == "/alternatives/1/wheel/outside_diameter" && said.contains("only one of"),
        "{said}"
    );
}

#[test]
fn closed_a_search_compares_wheels_by_name_and_by_travel() {
    let section = r#"{ "wheel_sizes": ["5-foot", "9-foot"], "travels_per_turn": ["20 ft"] }"#;
    let space = good(&demo_at("/search", section)).search.space;
    assert_eq!(space.sizes, [WheelSize::Five, WheelSize::Nine]);
    assert_eq!(space.travels_m, [20.0 * M_PER_FT]);
    let unknown = demo_at("/search", r#"{ "wheel_sizes": ["5-foot", "8-foot"] }"#);
    refused(&unknown, "/search/wheel_sizes/1", &["\"5-foot\", \"7-foot\", \"9-foot\""]);
    let by_hand = demo_with(|demo| {
        demo["lateral"]["machine"] = json!("hand move");
        demo.as_object_mut().unwrap().shift_remove("wheel");
        demo["search"] = json!({ "wheel_sizes": ["5-foot"] });
    });
    refused(&by_hand, "/search/wheel_sizes", &["no wheels to compare", "Remove `wheel_sizes`"]);
}

#[test]
fn closed_levelers_that_swing_far_enough_allow_part_of_a_turn_and_no_others_do() {
    let beside = |range: &str| {
        demo_with(|demo| {
            let part_turns = "on levelers";
            demo["wheel"] =
                json!({ "size": "7-foot", "part_turns": part_turns, "leveler_range": range });
            demo["outlets"]["reach"] = json!("30 ft");
            demo["alternatives"] = json!([{ "name": "Half", "rotation": ["0 ft", "30 ft"] }]);
        })
    };
    let found = good(&beside("180 deg"));
    let shifts = found.scenario.alternatives[0].rotation.shifts();
    assert!((shifts[1].across_m / M_PER_FT - 30.0).abs() < 1e-9);
    let told = found.warnings.iter().any(|note| {
        note.contains("up to 180° from upright")
            && note.contains("SCS NEH 15-11")
            && note.contains("practitioners")
    });
    assert!(told, "{:?}", found.warnings);
    let assumed = |key: &str| found.assumptions.iter().any(|one| one.what.ends_with(key));
    assert!(assumed("/wheel/riser"));
    // One and a half turns are 180° from upright.
    refused(&beside("90 deg"), "/alternatives/0/rotation/1", &["half a turn", "-20 ft", "20 ft"]);
}

#[test]
fn closed_levelers_of_impossible_swing_are_refused() {
    let on = |range: &str| {
        on(json!({ "size": "7-foot", "part_turns": "on levelers", "leveler_range": range }))
    };
    refused(&on("190 deg"), "/wheel/leveler_range", &["0 to 180"]);
    refused(&on("0 deg"), "/wheel/leveler_range", &["do not swing"]);
    let riser = self::on(json!({ "size": "7-foot", "riser": "8 in" }));
    refused(&riser, "/wheel/riser", &["part_turns"]);
}

#[test]
fn closed_a_travel_that_is_a_diameter_is_asked_about() {
    let told = |travel: &str| questions(&good(&on(json!({ "travel_per_turn": travel }))));
    let across = told("76 in");
    assert_eq!(across.len(), 1, "{across:?}");
    let words =
        "Do you mean wheels 76 in across? They roll 20 ft (6.096 m) a turn. Taken as written";
    assert!(across[0].contains(words) && across[0].contains("`outside_diameter`"), "{across:?}");
    assert!(told("7 ft")[0].contains("the 7-foot wheel? They roll 20 ft"), "{:?}", told("7 ft"));
    // A wheel of no trade size: 80 in across are 251.3 in around.
    assert!(told("80 in")[0].contains("They roll 20.944 ft"), "{:?}", told("80 in"));
    assert!(told("15 ft").is_empty() && told("19.7 ft").is_empty());
}
