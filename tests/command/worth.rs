//! `evenfall worth`: verdict, files, refusals.

use crate::runs::{evenfall_in, names};
use crate::scenarios::{demo_at, put, small};
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

#[test]
fn a_verdict_is_told_and_written_with_its_maps() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let words = ["worth", "scenario.json", "--seasons", "3", "--into", "r"];
    let said = evenfall_in(folder.path(), &words).said();
    assert!(said.contains("against “Fixed”") && said.contains("Placeholders"), "{said}");
    let report = folder.path().join("r");
    let worth: Value =
        serde_json::from_slice(&fs::read(report.join("worth.json")).unwrap()).unwrap();
    assert!(worth.is_object());
    assert_eq!(names(&report.join("grids")).len(), 6, "depth, yield and percolation of two");
    let page = fs::read_to_string(report.join("report.html")).unwrap();
    assert!(page.contains("What it is worth") && page.contains("worth --seasons 3"));
    assert!(!page.contains("http:") && !page.contains("https:"));
}

#[test]
fn the_verdict_does_not_depend_on_threads() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    for (threads, into) in [("1", "one"), ("2", "two")] {
        let words =
            ["worth", "scenario.json", "--seasons", "3", "--threads", threads, "--into", into];
        evenfall_in(folder.path(), &words).said();
    }
    for file in ["worth.json", "report.html", "grids/mean-yield-fraction-2.npy"] {
        let read = |into: &str| fs::read(folder.path().join(into).join(file)).unwrap();
        assert!(read("one") == read("two"), "{file}");
    }
}

#[test]
fn senseless_prices_soils_and_seasons_are_refused_and_nothing_is_left() {
    for (pointer, value, words) in [
        ("/worth/prices/crop", "\"-5 per t\"", &["/worth/prices/crop"][..]),
        ("/worth/prices/potential_yield", "\"0 t/ha\"", &["/worth/prices/potential_yield"]),
        ("/worth/seasons", "1", &["/worth/seasons"]),
        ("/soil", "{\"field_capacity\": 0.1, \"wilting_point\": 0.2}", &["/soil", "wilting point"]),
    ] {
        let folder = TempDir::new().unwrap();
        put(folder.path(), &demo_at(pointer, value));
        evenfall_in(folder.path(), &["worth", "scenario.json"]).refused(3, words);
        assert_eq!(names(folder.path()), ["scenario.json"]);
    }
}
