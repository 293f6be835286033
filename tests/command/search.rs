//! `evenfall search`: ranking with ties, files, wheels, refusals.

use crate::runs::{evenfall_in, names};
use crate::scenarios::{demo_at, put, small};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const QUICK: [&str; 8] =
    ["search", "scenario.json", "--aim", "dulq", "--seasons", "3", "--longest-cycle", "2"];

const NET: [&str; 6] = ["search", "scenario.json", "--seasons", "2", "--longest-cycle", "2"];

fn sought(folder: &Path, more: &[&str]) -> String {
    put(folder, &small());
    evenfall_in(folder, &[&QUICK[..], more].concat()).said()
}

fn summary(report: &Path) -> Value {
    serde_json::from_slice(&fs::read(report.join("summary.json")).unwrap()).unwrap()
}

#[test]
fn the_best_rotations_are_told_in_words_and_written_as_a_scenario_to_weigh() {
    let folder = TempDir::new().unwrap();
    let said = sought(folder.path(), &["--into", "r", "--best", "2"]);
    for words in ["Best by DUlq", "one turn", "Tried:", "distinct", "baseline", "evenfall worth"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    let report = folder.path().join("r");
    let found = names(&report);
    for file in ["report.html", "summary.json", "search.csv", "best.json", "pictures"] {
        assert!(found.iter().any(|name| name == file), "{file} in {found:?}");
    }
    let summary = summary(&report);
    let distinct = summary["distinct"].as_u64().unwrap();
    assert!(summary["described"].as_u64().unwrap() > distinct && distinct > 20);
    assert_eq!(summary["candidates"].as_array().unwrap().len() as u64, distinct);
    let page = fs::read_to_string(report.join("report.html")).unwrap();
    assert!(page.contains("What was tried") && !page.contains("http:"));
    // Starting values are listed, but not those whose place an option of the command takes.
    assert!(page.contains("/search/worthwhile_gain_du_lq</code> = 0.5 %"));
    assert!(!page.contains("/search/longest_cycle") && !page.contains("/search/screening_seasons"));
    assert!(page.contains("Power lines"), "a page that plans moves shows the cautions");
    // The next step takes one command.
    let words = ["worth", "r/best.json", "--seasons", "2", "--into", "w"];
    let said = evenfall_in(folder.path(), &words).said();
    assert!(said.contains("against “Fixed”"), "{said}");
}

#[test]
fn the_same_search_gives_the_same_bytes_on_any_number_of_threads() {
    let folder = TempDir::new().unwrap();
    for (threads, into) in [("1", "one"), ("4", "four")] {
        sought(folder.path(), &["--threads", threads, "--into", into]);
        let into = format!("{into}-net");
        let yields = ["--aim", "net", "--threads", threads, "--into", &into];
        let words = [NET.as_slice(), &yields].concat();
        evenfall_in(folder.path(), &words).said();
    }
    let read = |into: &str| fs::read(folder.path().join(into).join("summary.json")).unwrap();
    assert!(read("one-net") == read("four-net"));
    for file in ["summary.json", "search.csv", "best.json", "pictures/search-ranking.svg"] {
        let read = |into: &str| fs::read(folder.path().join(into).join(file)).unwrap();
        assert!(read("one") == read("four"), "{file}");
    }
}

#[test]
fn two_identical_wheels_share_their_rank_and_drift_is_told() {
    let folder = TempDir::new().unwrap();
    let wheels = [
        "--travel-per-turn",
        "20 ft",
        "--travel-per-turn",
        "19.9 ft",
        "--travel-per-turn",
        "20 ft",
        "--into",
        "r",
    ];
    let said = sought(folder.path(), &wheels);
    assert!(said.contains("Drift per move") && said.contains("19.9 ft per turn"), "{said}");
    let summary = summary(&folder.path().join("r"));
    let combos = summary["wheels_and_spacings"].as_array().unwrap();
    assert_eq!(combos.len(), 3);
    assert_eq!((&combos[0]["rank"], &combos[0]["best"]), (&combos[2]["rank"], &combos[2]["best"]));
    assert!((combos[1]["drift_per_move_m"].as_f64().unwrap() + 0.3 * 0.3048).abs() < 1e-9);
}

#[test]
fn the_best_without_another_clock_is_told_and_the_least_difference_can_be_set() {
    let folder = TempDir::new().unwrap();
    let said = sought(folder.path(), &["--worthwhile-gain", "20 %", "--into", "r"]);
    for words in ["within 20.0 points", "too close to matter", "the fixed pattern"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(said.contains("If you keep to") && said.contains("same starting hours"), "{said}");
    let all = summary(&folder.path().join("r"));
    assert_eq!(all["least_difference"], 20.0);
    assert_eq!(all["ranking"][0]["candidate"], 0, "all are ties, and fixed is the simplest");
    let plain = &all["kinds"][0];
    let best = &all["candidates"][plain["best"].as_u64().unwrap() as usize];
    assert_eq!(
        (&best["clock"], &best["edges"]),
        (&"same starting hours".into(), &"every stop shifted".into())
    );
    for (least, words) in [("5 per ac", "Expected a fraction"), ("30 %", "Expected 0 to 20 %")] {
        let words = [words];
        let asked = [&QUICK[..], &["--worthwhile-gain", least]].concat();
        evenfall_in(folder.path(), &asked).refused(2, &words);
    }
}

#[test]
fn the_best_run_where_they_lie_with_the_files_that_they_name() {
    let folder = TempDir::new().unwrap();
    let edge = r#"{ "type": "Polygon",
        "coordinates": [[[0, 0], [320, 0], [320, 360], [60, 360], [0, 200], [0, 0]]] }"#;
    fs::create_dir(folder.path().join("edges")).unwrap();
    fs::write(folder.path().join("edges/field.geojson"), edge).unwrap();
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    let boundary = json!({ "file": "edges/field.geojson", "coordinates": "ft" });
    scenario["field"]["boundary"] = boundary;
    put(folder.path(), &scenario.to_string());
    evenfall_in(folder.path(), &[&QUICK[..], &["--into", "r"]].concat()).said();
    evenfall_in(folder.path(), &["check", "r/best.json"]).said();
    // Scenarios are strict JSON: comments are refused before a search begins.
    put(folder.path(), &format!("// by hand\n{scenario}"));
    evenfall_in(folder.path(), &QUICK).refused(3, &["omment"]);
}

#[test]
fn a_senseless_search_is_refused_with_all_its_problems() {
    let section = r#"{ "longest_cycle": 90, "edges": ["holdd"], "first_outlet_shifts": ["7 ft"], "seasons": 1 }"#;
    let folder = TempDir::new().unwrap();
    put(folder.path(), &demo_at("/search", section));
    let words =
        ["/search/longest_cycle", "/search/edges/0", "/search/seasons", "Did you mean \"hold\"?"];
    evenfall_in(folder.path(), &["search", "scenario.json"]).refused(3, &words);
    let cross = r#"{ "longest_cycle": 12, "first_outlet_shifts": ["7 ft"], "outlet_counts": [40], "seasons": 4, "screening_seasons": 9 }"#;
    put(folder.path(), &demo_at("/search", cross));
    let words = [
        "/search/first_outlet_shifts/0",
        "whole turns",
        "/search/outlet_counts/0",
        "/search/screening_seasons",
    ];
    evenfall_in(folder.path(), &["search", "scenario.json"]).refused(3, &words);
    put(folder.path(), &small());
    let words = ["search", "scenario.json", "--longest-cycle", "12", "--every-order"];
    evenfall_in(folder.path(), &words).refused(5, &["candidates are more than"]);
    assert_eq!(names(folder.path()), ["scenario.json"]);
}
