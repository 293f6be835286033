//! Times without water and hours without hands.

use super::helpers::{bad, demo_with, good, only_problem};
use evenfall_core::season::plans;
use jiff::civil::{DateTime, date};
use serde_json::{Value, json};

/// The demo on a field of six outlets, whose season has these keys too.
fn demo(season: &Value) -> String {
    demo_with(|demo| {
        demo["field"]["width_across"] = json!("360 ft");
        for (key, value) in season.as_object().unwrap() {
            demo["season"][key] = value.clone();
        }
    })
}

fn cuttings() -> Value {
    json!([{ "reason": "cutting", "from": "2027-06-07T06:00", "lasts": "8 days", "every": "35 days", "times": 3 }])
}

#[test]
fn invariant_no_set_runs_in_a_cutting_and_every_pass_is_whole() {
    let resolved = good(&demo(&json!({ "closed": cuttings() })));
    let closures = &resolved.scenario.calendar.openings.closures;
    let starts: Vec<DateTime> = closures.iter().map(|closure| closure.from).collect();
    let days = [date(2027, 6, 7), date(2027, 7, 12), date(2027, 8, 16)];
    assert_eq!(starts, days.map(|day| day.at(6, 0, 0, 0)));
    for plan in plans(&resolved.scenario).unwrap() {
        assert_eq!(plan.passes.len(), 12);
        for set in plan.passes.iter().flat_map(|pass| &pass.sets) {
            let (on, off) = (plan.date_time(set.start_h), plan.date_time(set.end_h));
            assert!(closures.iter().all(|c| off <= c.from || c.to <= on), "{on} to {off}");
        }
        let outlets = |pass: usize| plan.passes[pass].sets.iter().map(|set| set.outlet);
        assert!((0..12).all(|pass| outlets(pass).eq(0..6)));
    }
}

#[test]
fn closed_days_off_and_hours_with_hands_move_the_starts() {
    let hands = json!({
        "days_off": ["Sunday"], "labor_from": "6 h", "labor_until": "18 h", "sets_per_day": 2
    });
    let resolved = good(&demo(&hands));
    let plan = &plans(&resolved.scenario).unwrap()[0];
    for set in plan.passes.iter().flat_map(|pass| &pass.sets) {
        let on = plan.date_time(set.start_h);
        assert!(on.weekday() != jiff::civil::Weekday::Sunday, "{on}");
        assert!((6..=18).contains(&on.hour()), "{on}");
    }
}

#[test]
fn closed_bad_times_without_water_are_told_all_at_once() {
    let problems = bad(&demo(&json!({
        "closed": [
            { "reason": "cutting", "from": "2027-06-07T06:00", "lasts": "8 days", "every": "5 days" },
            { "reason": "early cut", "from": "2026-06-07T06:00", "lasts": "8 days" },
            { "reason": "spraying", "from": "2027-06-20T06:00", "lasts": "1 day", "times": 3 }
        ],
        "labor_from": "19 h", "labor_until": "6 h"
    })));
    let said = problems.to_string();
    for part in [
        "\"cutting\" comes again before it is over",
        "\"early cut\" is over before the season starts",
        "\"spraying\" is to come 3 times",
        "nobody is ever there: from 19 h until 6 h",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn closed_hours_that_hold_no_start_and_closures_that_leave_no_season_are_refused() {
    let (pointer, said) =
        only_problem(&demo(&json!({ "labor_from": "8 h", "labor_until": "17 h" })));
    assert_eq!(pointer, "/season/labor_from");
    assert!(said.contains("no set can ever start"), "{said}");
    let mut text: Value = serde_json::from_str(&demo(&json!({
        "until": "2027-07-01T06:00",
        "closed": [{ "reason": "canal turn", "from": "2027-05-10T06:00", "lasts": "60 days" }]
    })))
    .unwrap();
    text["season"].as_object_mut().unwrap().remove("passes");
    let said = bad(&text.to_string()).to_string();
    assert!(said.contains("the season holds no whole pass"), "{said}");
}
