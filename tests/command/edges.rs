//! `evenfall edges`: treatments of the field's edges against each other.

use crate::runs::{evenfall_in, files, names};
use crate::scenarios::{demo_with, put, small};
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// The summary of a page in `folder`.
pub(crate) fn summary(folder: &Path) -> Value {
    serde_json::from_str(&fs::read_to_string(folder.join("summary.json")).unwrap()).unwrap()
}

#[test]
fn every_treatment_is_tried_and_its_sets_and_water_are_counted() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let words = ["edges", "scenario.json", "--seasons", "2", "--first-outlet", "25 ft"];
    let said = evenfall_in(folder.path(), &words).said();
    assert_eq!(names(folder.path()), ["evenfall-edges", "scenario.json"]);
    let found = summary(&folder.path().join("evenfall-edges"));
    let options = found["options"].as_array().unwrap();
    let named: Vec<&str> = options.iter().map(|option| option["name"].as_str().unwrap()).collect();
    assert_eq!(named[0], "Every stop shifted");
    assert!(named[1].starts_with("First and last stop held"), "{named:?}");
    assert!(named[2].starts_with("Extra set on the opened side"), "{named:?}");
    // 30 ft less the mean shift of 10 ft, and the place that was asked for.
    let plain = |name: &str| name.replace('\u{a0}', " ");
    assert_eq!(plain(named[3]), "First outlet at 20.0 ft from the edge");
    assert_eq!(plain(named[4]), "First outlet at 25.0 ft from the edge");
    // Three passes of six sets; only the second is shifted and gets a set more.
    let sets: Vec<f64> = options.iter().map(|option| option["sets"].as_f64().unwrap()).collect();
    assert_eq!(sets, [18.0, 18.0, 19.0, 18.0, 18.0]);
    let gross = |option: usize| options[option]["gross_mm"].as_f64().unwrap();
    assert!((gross(2) / gross(0) - 19.0 / 18.0).abs() < 1e-9);
    for name in &named {
        assert!(said.contains(&plain(name)), "{said}");
    }
    for word in ["At the edges", "Over the whole field", "is favored", "Report: "] {
        assert!(said.contains(word), "no `{word}` in {said}");
    }
}

#[test]
fn the_page_stands_by_itself_with_its_pictures() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let words = ["edges", "scenario.json", "--seasons", "1", "--into", "page", "--quiet"];
    assert_eq!(evenfall_in(folder.path(), &words).said(), "");
    let page = folder.path().join("page");
    let pictures = ["edge-passes", "edge-season"];
    let mut wanted = vec!["edges.html".to_owned()];
    for name in pictures {
        wanted.extend(["png", "svg"].map(|kind| format!("pictures/{name}.{kind}")));
    }
    wanted.push("summary.json".to_owned());
    wanted.insert(0, ".evenfall-files".to_owned());
    assert_eq!(files(&page), wanted);
    let html = fs::read_to_string(page.join("edges.html")).unwrap();
    for foreign in ["http:", "https:", "<script", "<link rel=\"stylesheet\""] {
        assert!(!html.contains(foreign), "{foreign}");
    }
    assert!(html.contains("Invented scenario") && html.contains("evenfall edges scenario.json"));
}

#[test]
fn alternatives_that_are_not_there_or_never_shift_are_refused() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let run = |words: &[&str]| {
        let all = [&["edges", "scenario.json"], words].concat();
        evenfall_in(folder.path(), &all)
    };
    run(&["--alternative", "Nobody"]).refused(2, &["Nobody", "\"Fixed\", \"Two stops\""]);
    run(&["--first-outlet", "20 psi"]).refused(2, &["--first-outlet", "a length"]);
    run(&["--first-outlet", "2000 ft"]).refused(2, &["off the field"]);
    let fixed = demo_with(|demo| {
        demo["alternatives"].as_array_mut().unwrap().truncate(1);
    });
    put(folder.path(), &fixed);
    run(&[]).refused(2, &["nothing to compare"]);
    assert_eq!(names(folder.path()), ["scenario.json"]);
}

#[test]
fn an_extra_set_is_not_counted_twice() {
    let folder = TempDir::new().unwrap();
    let twice = |equipment_sets: u32| {
        demo_with(|demo| {
            demo["alternatives"][1]["edges"] = "extra set".into();
            demo["alternatives"][1]["equipment"]["extra_sets_per_pass"] = equipment_sets.into();
        })
    };
    put(folder.path(), &twice(1));
    let words = ["/alternatives/1/equipment/extra_sets_per_pass", "counted twice"];
    evenfall_in(folder.path(), &["check", "scenario.json"]).refused(3, &words);
    put(folder.path(), &twice(0));
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    // Twelve passes, every other one shifted.
    assert!(said.contains("extra sets of \"Two stops\" in the season = 6"), "{said}");
}
