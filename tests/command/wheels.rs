//! Wheels by the trade's name: one, three side by side, and a diameter that is a name.

use crate::runs::{evenfall, evenfall_in};
use crate::scenarios::{demo, demo_with, put, small};
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

const PLACE: [&str; 4] = ["--outlet-spacing", "60 ft", "--reach", "30 ft"];

fn stops(wheels: &[&str]) -> String {
    evenfall(&[&["stops"], wheels, &PLACE].concat()).said()
}

/// The words of the line that begins with `name`, spaces made one.
fn line(table: &str, name: &str) -> String {
    let found = table.lines().find(|line| line.starts_with(name));
    found
        .unwrap_or_else(|| panic!("no {name}: {table}"))
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn closed_a_wheel_by_name_stands_where_the_trade_says() {
    let table = stops(&["--wheel", "7-foot"]);
    assert!(table.starts_with("The 7-foot wheels roll 20.00 ft a turn."), "{table}");
    assert!(table.contains("common practice, no source"), "{table}");
    let at = |shift: &str| {
        let found = table.lines().find(|line| line.split_whitespace().nth(1) == Some(shift));
        found.unwrap_or_else(|| panic!("no {shift}: {table}"))
    };
    assert!(at("20.0").contains("yes") && at("−20.0").contains("yes"));
    assert!(at("30.0").contains("no: half a turn"));
    // The same as measured, but for what is said of its source.
    let measured = stops(&["--travel-per-turn", "20 ft"]);
    assert!(
        table.ends_with(measured.split_once("\n\n").unwrap().1) && !measured.contains("practice")
    );
}

#[test]
fn closed_the_three_trade_sizes_side_by_side_are_one_command() {
    let table = stops(&["--wheel-sizes"]);
    let same_drift = "0.00 ft 0.00 ft 0.0°";
    assert_eq!(
        line(&table, "5-foot"),
        format!("5-foot 15.00 ft 4 {same_drift} −30.0, −15.0, 0.0, 15.0, 30.0 ft")
    );
    assert_eq!(
        line(&table, "7-foot"),
        format!("7-foot 20.00 ft 3 {same_drift} −20.0, 0.0, 20.0 ft")
    );
    assert_eq!(
        line(&table, "9-foot"),
        format!("9-foot 30.00 ft 2 {same_drift} −30.0, 0.0, 30.0 ft")
    );
    // On one field: its own outlets and hose, 25 ft.
    let folder = TempDir::new().unwrap();
    put(folder.path(), demo());
    let wheels = ["stops", "scenario.json", "--wheel-sizes", "--travel-per-turn", "19.7 ft"];
    let table = evenfall_in(folder.path(), &wheels).said();
    assert!(line(&table, "9-foot").ends_with("0.0° 0.0 ft"), "{table}");
    // Three turns of 19.7 ft end 0.9 ft short, 21 moves 18.9 ft.
    assert!(line(&table, "19.7 ft measured").contains("19.70 ft 3 −0.90 ft −18.90 ft"), "{table}");
}

#[test]
fn stops_tells_how_to_measure_the_roll() {
    for table in
        [stops(&["--wheel", "5-foot"]), stops(&["--wheel-sizes"]), evenfall(&["stops"]).said()]
    {
        for words in
            ["mark the pipe", "ten whole turns along a tape", "divide by ten", "travel_per_turn"]
        {
            assert!(table.contains(words), "no `{words}` in {table}");
        }
    }
}

#[test]
fn a_travel_that_is_a_diameter_is_questioned_in_check_and_stops() {
    let question = "Do you mean wheels 76 in across? They roll 20 ft (6.096 m) a turn.";
    let table = stops(&["--travel-per-turn", "76 in"]);
    assert!(table.contains(question) && table.contains("--outside-diameter"), "{table}");
    assert!(!stops(&["--travel-per-turn", "20 ft"]).contains("Do you mean"));
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["wheel"] = json!({ "travel_per_turn": "76 in" });
    scenario["alternatives"] = json!([{ "name": "Fixed", "rotation": ["0 ft"] }]);
    put(folder.path(), &scenario.to_string());
    let table = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    assert_eq!(table.matches(question).count(), 1, "{table}");
}

#[test]
fn a_diameter_that_is_a_name_is_questioned_in_check_stops_and_report() {
    let question =
        "Do you mean the 7-foot wheel, 76 in across, 20 ft a turn, or did you measure 84 in?";
    let table = stops(&["--outside-diameter", "7 ft"]);
    assert!(table.contains(question) && table.contains("--wheel 7-foot"), "{table}");
    assert!(!stops(&["--outside-diameter", "84 in"]).contains("Do you mean"));
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["wheel"] = json!({ "outside_diameter": "7 ft" });
    scenario["alternatives"][1]["rotation"] = json!(["0 ft", "1 turn"]);
    put(folder.path(), &scenario.to_string());
    let said = |words: &[&str]| evenfall_in(folder.path(), words).said();
    for command in ["check", "stops"] {
        let table = said(&[command, "scenario.json"]);
        assert_eq!(table.matches(question).count(), 1, "{table}");
    }
    assert!(said(&["season", "scenario.json", "--into", "s"]).contains(question));
    let page = fs::read_to_string(folder.path().join("s/report.html")).unwrap();
    assert!(page.contains("or did you measure 84 in?"));
}

#[test]
fn wrong_wheels_are_refused_by_name() {
    let wrong =
        |words: &[&str], told: &[&str]| evenfall(&[&["stops"], words].concat()).refused(2, told);
    let unknown = [&["--wheel", "8-foot"], &PLACE[..]].concat();
    wrong(&unknown, &["--wheel", "Wheel size is \"8-foot\"", "\"5-foot\", \"7-foot\", \"9-foot\""]);
    wrong(&[&["--wheel", "7 ft"], &PLACE[..]].concat(), &["--wheel", "\"7-foot\""]);
    wrong(&["--wheel", "7-foot"], &["--outlet-spacing", "--reach", "scenario"]);
    wrong(&[&["--wheel", "7-foot", "--wheel-sizes"], &PLACE[..]].concat(), &["--wheel-sizes"]);
    let folder = TempDir::new().unwrap();
    put(folder.path(), demo());
    let both = [&["stops", "scenario.json", "--wheel", "7-foot"], &PLACE[..]].concat();
    evenfall_in(folder.path(), &both).refused(2, &["--outlet-spacing", "scenario alone"]);
    put(
        folder.path(),
        &demo_with(|demo| {
            demo["wheel"] = json!({ "size": "7-foot", "outside_diameter": "76 in" });
        }),
    );
    let words = ["/wheel/outside_diameter", "only one of", "may stand together"];
    evenfall_in(folder.path(), &["check", "scenario.json"]).refused(3, &words);
    put(
        folder.path(),
        &demo_with(|demo| {
            demo["lateral"]["machine"] = json!("hand move");
            demo.as_object_mut().unwrap().remove("wheel");
        }),
    );
    for command in ["stops", "search"] {
        let words = [command, "scenario.json", "--wheel-sizes"];
        evenfall_in(folder.path(), &words).refused(2, &["by hand"]);
    }
}

#[test]
fn a_search_compares_the_trade_sizes_and_writes_them_by_name() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let words = [
        "search",
        "scenario.json",
        "--aim",
        "dulq",
        "--seasons",
        "2",
        "--longest-cycle",
        "2",
        "--best",
        "11",
        "--wheel-sizes",
        "--outside-diameter",
        "5 ft",
        "--into",
        "r",
    ];
    let said = evenfall_in(folder.path(), &words).said();
    for words in
        ["5-foot wheels, 15.0 ft per turn", "7-foot wheels, 20.0 ft per turn", "9-foot wheels"]
    {
        assert!(said.contains(words), "no `{words}` in {said}");
    }
    assert!(said.contains("Do you mean the 5-foot wheel, 57 in across"), "{said}");
    let page = fs::read_to_string(folder.path().join("r/report.html")).unwrap();
    assert!(page.contains("did you measure 60 in?") && page.contains("--wheel-sizes"));
    let summary = fs::read(folder.path().join("r/summary.json")).unwrap();
    let summary: Value = serde_json::from_slice(&summary).unwrap();
    let combos = summary["wheels_and_spacings"].as_array().unwrap().iter();
    let rolls: Vec<f64> =
        combos.map(|one| one["travel_per_turn_m"].as_f64().unwrap() / 0.3048).collect();
    let expected = [15.0, 20.0, 30.0, 5.0 * std::f64::consts::PI];
    assert!(rolls.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{rolls:?}");
    let best = fs::read_to_string(folder.path().join("r/best.json")).unwrap();
    let best: Value = serde_json::from_str(&best).unwrap();
    let wheels = best["alternatives"].as_array().unwrap().iter().map(|one| &one["wheel"]["size"]);
    assert!(wheels.clone().any(|size| size == "5-foot"), "{best}");
    assert_eq!(best["wheel"]["size"], "7-foot");
    evenfall_in(folder.path(), &["check", "r/best.json"]).said();
}
