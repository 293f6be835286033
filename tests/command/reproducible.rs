//! Same input, same bytes.

use crate::runs::{assert_same_files, demo_report, evenfall_in, project};
use crate::scenarios::{put, small};
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

fn read(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).unwrap()
}

#[test]
fn one_thread_writes_the_same_bytes_as_two() {
    let folder = TempDir::new().unwrap();
    evenfall_in(folder.path(), &["--threads", "1"]).said();
    assert_same_files(&folder.path().join("evenfall-report"), &demo_report().0);
}

#[test]
fn a_second_run_writes_the_same_bytes_under_the_next_free_name() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    for _ in 0..2 {
        evenfall_in(folder.path(), &["season", "scenario.json"]).said();
    }
    let [one, other] =
        ["evenfall-report", "evenfall-report-2"].map(|name| folder.path().join(name));
    assert_same_files(&one, &other);
}

#[test]
fn another_seed_is_another_season_and_its_own_seed_is_the_same_one() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let season = |name: &str, seed: &[&str]| {
        let words = [&["season", "scenario.json", "--into", name], seed].concat();
        evenfall_in(folder.path(), &words).said();
        folder.path().join(name)
    };
    let (plain, same, other) = (
        season("plain", &[]),
        season("same", &["--seed", "20270510"]),
        season("other", &["--seed", "7"]),
    );
    assert_eq!(read(&plain, "passes.csv"), read(&same, "passes.csv"));
    assert_ne!(read(&plain, "passes.csv"), read(&other, "passes.csv"));
    let summary: Value = serde_json::from_str(&read(&other, "summary.json")).unwrap();
    assert_eq!(summary["seed"], 7);
    assert!(summary["command"].as_str().unwrap().ends_with("--seed 7"), "{summary}");
    // The seed is in the folder's scenario and in its digest.
    let kept: Value = serde_json::from_str(&read(&other, "scenario.json")).unwrap();
    assert_eq!(kept["seed"], 7);
    let plain: Value = serde_json::from_str(&read(&plain, "summary.json")).unwrap();
    assert_ne!(plain["scenario_sha256"], summary["scenario_sha256"]);
}

#[test]
fn the_scenario_kept_in_a_report_gives_that_report_again() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    evenfall_in(folder.path(), &["season", "scenario.json", "--into", "one"]).said();
    evenfall_in(folder.path(), &["season", "one/scenario.json", "--into", "two"]).said();
    let [one, two] = ["one", "two"].map(|name| folder.path().join(name));
    for name in ["passes.csv", "scenario.json", "grids/season-depth-mm-2.npy"] {
        assert!(fs::read(one.join(name)).unwrap() == fs::read(two.join(name)).unwrap(), "{name}");
    }
}

#[test]
fn the_scenario_on_a_real_wind_record_runs_and_names_its_data() {
    let folder = TempDir::new().unwrap();
    let scenario = project("data/greensboro/scenario.json");
    let words = ["season", scenario.to_str().unwrap(), "--into", "report"];
    let said = evenfall_in(folder.path(), &words).said();
    let report = folder.path().join("report");
    let summary: Value = serde_json::from_str(&read(&report, "summary.json")).unwrap();
    let alternatives = summary["alternatives"].as_array().unwrap();
    assert_eq!(alternatives.len(), 4);
    for alternative in alternatives {
        assert!(said.contains(alternative["name"].as_str().unwrap()), "{said}");
        let cu = alternative["season"]["interior"]["cu_percent"].as_f64().unwrap();
        assert!((50.0..100.0).contains(&cu), "{cu}");
    }
    assert!(read(&report, "report.html").contains("723170TYA.CSV"));
}
