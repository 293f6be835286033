//! A field no wider than two outlet spacings: it has no interior, and everything else is computed.

use crate::runs::evenfall_in;
use crate::scenarios::{put, small};
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const WHY: [&str; 3] = ["120 ft (36.576 m) wide", "outlet spacing is 60 ft", "no interior"];

/// The small scenario on two outlets, one for each 60 ft of a plot of 120 ft.
fn put_plot(folder: &Path) {
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["field"]["width_across"] = "120 ft".into();
    put(folder, &scenario.to_string());
}

/// What a run of `words` on the plot says, after seeing that it names the reason.
fn said(words: &[&str]) -> (TempDir, String) {
    let folder = TempDir::new().unwrap();
    put_plot(folder.path());
    let ran = evenfall_in(folder.path(), words);
    let all = format!("{}{}", ran.out, ran.err);
    ran.said();
    for word in WHY {
        assert!(all.contains(word), "no `{word}` in {all}");
    }
    assert!(!all.contains("NaN"), "{all}");
    (folder, all)
}

fn json(folder: &TempDir, file: &str) -> Value {
    let text = fs::read_to_string(folder.path().join("r").join(file)).unwrap();
    assert!(!text.contains("NaN"));
    serde_json::from_str(&text).unwrap()
}

#[test]
fn check_says_that_there_is_no_interior() {
    said(&["check", "scenario.json"]);
}

#[test]
fn a_season_has_figures_of_the_whole_field_and_none_of_an_interior() {
    let (folder, all) = said(&["season", "scenario.json", "--into", "r"]);
    assert!(all.contains("whole field"), "{all}");
    let passes = fs::read_to_string(folder.path().join("r/passes.csv")).unwrap();
    assert!(passes.contains("whole") && !passes.contains("NaN"), "{passes}");
    json(&folder, "summary.json");
}

#[test]
fn worth_judges_the_whole_field() {
    let words = ["worth", "scenario.json", "--seasons", "3", "--into", "r"];
    let (folder, all) = said(&words);
    assert!(all.contains("against “Fixed”"), "{all}");
    json(&folder, "worth.json");
}

#[test]
fn a_search_ranks_by_the_whole_field() {
    for aim in ["dulq", "net"] {
        let words =
            ["search", "scenario.json", "--aim", aim, "--seasons", "2", "--longest-cycle", "2"];
        let (folder, _) = said(&[&words[..], &["--into", "r"]].concat());
        let found = json(&folder, "summary.json");
        assert!(found["candidates"].as_array().unwrap().len() > 2, "{found}");
    }
}
