//! Logs of the demo: what they say, and everything that can be wrong with one.

use super::*;
use crate::{demo, resolve};
use evenfall_core::schedule::replan::{MissedRule, Standing};
use evenfall_core::season;
use serde_json::{Value, json};

fn scenario() -> Scenario {
    let no_files = |name: &str| Err(format!("no file {name} in this test"));
    resolve(demo(), &no_files).unwrap().scenario
}

fn log_with(events: &Value) -> Value {
    json!({
        "evenfall_log": 1,
        "scenario": "Demo: three rotations of a wheel line",
        "alternative": "Two stops",
        "now": "2027-05-13T06:00",
        "missed": "leave until the next pass",
        "events": events,
    })
}

fn read(log: &Value) -> Result<Log, Problems> {
    read_log(&serde_json::to_string_pretty(log).unwrap(), &scenario())
}

fn refused(log: &Value) -> String {
    read(log).unwrap_err().to_string()
}

#[test]
fn closed_a_log_is_read_and_the_rest_planned() {
    let log = read(&log_with(&json!([
        { "what": "done", "pass": 1, "outlet": 1, "from": "2027-05-10T07:00", "to": "2027-05-10T17:30" },
        { "what": "missed", "pass": 1, "outlet": 2, "note": "nobody came" },
        { "what": "wrong stop", "pass": 1, "outlet": 3, "stood": "-1 turn" },
        { "what": "breakdown", "from": "2027-05-11T17:45", "to": "2027-05-13T05:00" },
    ])))
    .unwrap();
    assert_eq!((log.alternative, log.record.missed), (1, MissedRule::Leave));
    assert!((log.record.now_h - 78.0).abs() < 1e-9);
    let pass = &log.replanned.plan.passes[0];
    let place_ft = |index: usize| pass.sets[index].place_across_m / 0.3048;
    // Outlet 1 at 30 ft, outlet 3 at 150 ft less one turn of 20 ft; outlet 2 was missed.
    assert!((place_ft(0) - 30.0).abs() < 1e-9 && (place_ft(1) - 130.0).abs() < 1e-9);
    assert_eq!(log.replanned.standing[0][..2], [Standing::Recorded, Standing::Recorded]);
    assert!(
        log.warnings.iter().any(|words| words.contains("pass 1 outlet 2")),
        "{:?}",
        log.warnings
    );
}

#[test]
fn closed_a_blank_log_changes_nothing() {
    let scenario = scenario();
    let plan = season::plans(&scenario).unwrap().remove(1);
    let text = blank_log(&scenario, &scenario.alternatives[1], &plan);
    let log = read_log(&text, &scenario).unwrap();
    assert_eq!(log.replanned.plan, plan);
    assert!(log.warnings.is_empty());
}

#[test]
fn closed_a_log_of_another_scenario_is_refused() {
    let mut log = log_with(&json!([]));
    log["scenario"] = "Another field".into();
    log["alternative"] = "Two stop".into();
    let said = refused(&log);
    assert!(said.contains("belongs to another scenario"), "{said}");
    assert!(said.contains("Did you mean \"Two stops\"?"), "{said}");
}

#[test]
fn closed_all_problems_of_a_log_are_told_at_once() {
    let said = refused(&log_with(&json!([
        { "what": "done", "pass": 1, "outlet": 40 },
        { "what": "done", "pass": 99, "outlet": 1 },
        { "what": "done", "pass": 1, "outlet": 1, "from": "2027-05-10T17:30", "to": "2027-05-10T06:00" },
        { "what": "done", "pass": 1, "outlet": 2, "from": "2027-05-10T18:00" },
        { "what": "breakdown", "pass": 1, "from": "2027-05-10T20:00", "to": "2027-05-10T21:00" },
        { "what": "wrong stop", "pass": 1, "outlet": 3 },
        { "what": "wrong stop", "pass": 1, "outlet": 4, "stood": "60 ft" },
        { "what": "exploded" },
        { "what": "done", "pass": 1, "outlet": 5, "from": "2027-05-12T06:00", "to": "2027-05-12T17:00" },
        { "what": "done", "pass": 1, "outlet": 6, "from": "2027-05-12T12:00", "to": "2027-05-12T20:00" },
        { "what": "missed", "pass": 2, "outlet": 1, "extra": true },
    ])));
    for words in [
        "there is no outlet 40",
        "there is no pass 99",
        "the times run backwards",
        "one end of the time is missing",
        "the key `pass` has no meaning",
        "the key `stood` is missing",
        "farther from its outlet than the hose",
        "Kind of event is \"exploded\"",
        "overlaps event 9",
        "has no extra set",
    ] {
        assert!(said.contains(words), "no `{words}` in:\n{said}");
    }
}

#[test]
fn reference_a_log_that_reads_well_fits_the_schema() {
    let schema: Value = serde_json::from_str(&log_schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let good = log_with(&json!([{ "what": "missed", "pass": 1, "outlet": 2 }]));
    assert!(read(&good).is_ok() && validator.is_valid(&good));
    let bad = log_with(&json!([{ "what": "exploded" }]));
    assert!(!validator.is_valid(&bad));
}

#[test]
fn closed_texts_that_are_no_log_are_refused() {
    for text in ["", "[]", "{", "{\"events\": 3}"] {
        assert!(!read_log(text, &scenario()).unwrap_err().issues().is_empty(), "{text}");
    }
}
