//! What a search tries: defaults, own keys, refusals.

use super::helpers::{bad, demo_at, demo_with, good, only_problem};
use evenfall_core::lateral::EdgeTreatment;
use evenfall_core::search::{Aim, ClockChange};
use evenfall_core::units::M_PER_FT as FT;

#[test]
fn closed_without_a_section_the_usual_is_searched() {
    let options = good(crate::demo()).search;
    assert_eq!((options.aim, options.seasons, options.first_seasons), (Aim::NetReturn, 50, 8));
    assert_eq!(
        (options.space.rotations.longest, options.space.edges.len(), options.space.clocks.len()),
        (3, 3, 3)
    );
    assert_eq!(
        (options.worthwhile.du_lq, options.worthwhile.worst_tenth, options.worthwhile.net_per_ha),
        (0.005, 0.005, None)
    );
    // The equipment of the demo's first shifted alternative: 2 joints, a minute more a move.
    assert_eq!((options.equipment.joints, options.equipment.joints_per_outlet), (2, 0));
    assert!((options.equipment.extra_labor_per_move_h - 1.0 / 60.0).abs() < 1e-12);
    let unpriced = demo_with(|demo| {
        demo["worth"]["prices"].as_object_mut().unwrap().shift_remove("crop");
    });
    assert_eq!(good(&unpriced).search.aim, Aim::WorstTenth);
}

/// The keys of starting values that are noted of a search, with their values.
fn noted(text: &str) -> Vec<(String, String)> {
    let of_search = good(text).search_assumptions.into_iter();
    of_search.map(|a| (a.what.replace("/search/", ""), a.value)).collect()
}

#[test]
fn closed_starting_values_are_noted_with_the_search_alone() {
    let demo = good(crate::demo());
    assert!(demo.assumptions.iter().all(|a| !a.what.starts_with("/search")));
    assert!(demo.search_assumptions.iter().all(|a| !a.why.is_empty()));
    let usual = [
        ("seasons", "50"),
        ("confidence_level", "90 %"),
        ("longest_cycle", "3"),
        ("worthwhile_gain_du_lq", "0.5 %"),
        ("worthwhile_gain_worst_tenth", "0.5 %"),
        ("screening_seasons", "8"),
    ]
    .map(|(key, value)| (key.to_owned(), value.to_owned()));
    let all = noted(crate::demo());
    assert_eq!(all.len(), usual.len(), "{all:?}");
    for one in &usual {
        assert!(all.contains(one), "{one:?} in {all:?}");
    }
    let own = r#"{ "seasons": 5, "confidence_level": "95 %", "longest_cycle": 2,
        "worthwhile_gain_du_lq": "1 %", "worthwhile_gain_worst_tenth": "1 %" }"#;
    // No more seasons before the first look than there are in all.
    let screening = ("screening_seasons".to_owned(), "5".to_owned());
    assert_eq!(noted(&demo_at("/search", own)), [screening]);
}

#[test]
fn closed_own_keys_are_taken() {
    let section = r#"{ "aim": "DUlq", "longest_cycle": 2, "repeat_stops": false, "stop_orders": "every",
        "edges": ["extra set"], "schedules": ["as given", "half a day idle"],
        "first_outlet_shifts": ["1 turn", "-20 ft"], "outlet_counts": [21], "travels_per_turn": ["15 ft"],
        "outlet_spacings": ["50 ft", "60 ft"], "seasons": 12, "screening_seasons": 4,
        "joints_per_outlet": 1, "worthwhile_gain_du_lq": "1 %", "worthwhile_gain_worst_tenth": "0 %" }"#;
    let options = good(&demo_at("/search", section)).search;
    let space = &options.space;
    assert_eq!((options.worthwhile.du_lq, options.worthwhile.worst_tenth), (0.01, 0.0));
    assert_eq!((options.aim, options.seasons, options.first_seasons), (Aim::DuLqInterior, 12, 4));
    assert!(!space.rotations.repeats && space.rotations.every_order);
    assert_eq!(space.edges, [EdgeTreatment::ExtraSet]);
    assert_eq!(space.clocks, [ClockChange::AsGiven, ClockChange::IdleHalfDay]);
    let feet: Vec<f64> = space.insets_m.iter().map(|inset| (inset / FT).round()).collect();
    assert_eq!((feet, space.outlet_counts.clone()), (vec![20.0, -20.0], vec![21]));
    assert_eq!((space.travels_m.len(), space.spacings_m.len()), (1, 2));
    // Joints for each outlet take the place of those for the lateral.
    assert_eq!((options.equipment.joints, options.equipment.joints_per_outlet), (0, 1));
}

#[test]
fn closed_what_makes_no_sense_is_refused_all_at_once() {
    let section = r#"{ "longest_cycle": 12, "first_outlet_shifts": ["7 ft", "-3 turns"], "outlet_counts": [40],
        "seasons": 4, "screening_seasons": 9 }"#;
    let problems = bad(&demo_at("/search", section));
    let at: Vec<&str> = problems.issues().iter().map(|issue| issue.pointer.as_str()).collect();
    for pointer in [
        "/search/first_outlet_shifts/0",
        "/search/first_outlet_shifts/1",
        "/search/outlet_counts/0",
        "/search/screening_seasons",
    ] {
        assert!(at.contains(&pointer), "{pointer} in {at:?}");
    }
    let short = demo_with(|demo| {
        demo["season"]["passes"] = 2.into();
        demo["search"] = serde_json::json!({ "longest_cycle": 3 });
    });
    assert_eq!(only_problem(&short).0, "/search/longest_cycle");
    let dry = demo_with(|demo| {
        let root = demo.as_object_mut().unwrap();
        for key in ["crop", "soil", "climate", "worth"] {
            root.shift_remove(key);
        }
        demo["search"] = serde_json::json!({ "aim": "net return" });
    });
    assert!(only_problem(&dry).1.contains("need `crop`, `soil` and `climate`"));
}
