//! A missed set that was made up after the planned end of the season.

use crate::runs::evenfall_in;
use crate::scenarios::{put, small};
use serde_json::json;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Three passes of six sets end on 19 May; outlet 3 of pass 1 was missed, and runs a week later.
fn put_log(folder: &Path) {
    let log = json!({
        "evenfall_log": 1,
        "scenario": "Demo: three rotations of a wheel line",
        "alternative": "Two stops",
        "now": "2027-05-27T12:00",
        "events": [
            { "what": "done", "pass": 1, "outlet": 3,
              "from": "2027-05-26T06:00", "to": "2027-05-26T17:30" },
        ],
    });
    fs::write(folder.join("log.json"), log.to_string()).unwrap();
}

#[test]
fn the_sheet_shows_a_set_made_up_after_the_planned_end() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    put_log(folder.path());
    let words = ["sheet", "scenario.json", "--log", "log.json", "--into", "sheet"];
    evenfall_in(folder.path(), &words).said();
    let table = fs::read_to_string(folder.path().join("sheet/sheet.csv")).unwrap();
    assert!(table.contains("2027-05-26T06:00"), "{table}");
    assert_eq!(table.lines().count(), 1 + 18, "{table}");
}

#[test]
fn the_season_as_it_happened_holds_a_set_made_up_after_the_planned_end() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    put_log(folder.path());
    let words = ["season", "scenario.json", "--log", "log.json", "--into", "report"];
    let said = evenfall_in(folder.path(), &words).said();
    assert!(said.contains("Two stops (as it happened)"), "{said}");
    let summary = fs::read_to_string(folder.path().join("report/summary.json")).unwrap();
    assert!(summary.contains("Two stops (as it happened)"), "{summary}");
}
