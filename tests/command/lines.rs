//! Several lines that share a field, and both sides of a mainline: season, sheet, and what is refused.

use crate::edges::summary;
use crate::runs::evenfall_in;
use crate::scenarios::{put, small};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// The small field with these keys of its lateral.
fn with(lateral: &[(&str, Value)]) -> String {
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    for (key, value) in lateral {
        scenario["lateral"][*key] = value.clone();
    }
    scenario.to_string()
}

/// Two lines by turns, one on each side of a mainline in the middle; four sprinklers a side.
fn mirrored() -> String {
    with(&[
        ("sprinklers", json!(4)),
        ("sides", json!("both sides")),
        ("lines", json!(2)),
        ("lines_run", json!("by turns")),
    ])
}

fn season(folder: &Path) -> Value {
    let words = ["season", "scenario.json", "--into", "report", "--quiet", "--replace"];
    evenfall_in(folder, &words).said();
    summary(&folder.join("report"))
}

#[test]
fn both_sides_of_a_mainline_get_the_water_that_one_long_pipe_would_bring() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let gross = |found: &Value| found["alternatives"][0]["water"]["gross_m3"].as_f64().unwrap();
    let long = gross(&season(folder.path()));
    put(folder.path(), &mirrored());
    let both = season(folder.path());
    assert!((gross(&both) / long - 1.0).abs() < 1e-9, "{} {long}", gross(&both));
}

#[test]
fn the_sheet_says_which_line_and_which_side() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &mirrored());
    let words =
        ["sheet", "scenario.json", "--alternative", "Two stops", "--into", "sheet", "--quiet"];
    evenfall_in(folder.path(), &words).said();
    let page = fs::read_to_string(folder.path().join("sheet/sheet.html")).unwrap();
    let page = page.replace('\u{a0}', " ");
    assert!(page.contains("2 of them by turns") && page.contains("direction of travel"), "{page}");
    assert!(page.contains("line 2, left side: at 1"), "{page}");
    let table = fs::read_to_string(folder.path().join("sheet/sheet.csv")).unwrap();
    let mut rows = csv_rows(&table);
    let head = rows.remove(0);
    let column = |name: &str| head.iter().position(|one| one == name).unwrap();
    let of = |row: &[String], name: &str| row[column(name)].clone();
    // By turns: the second line starts when the first stops.
    let first: Vec<String> = ["line", "side", "outlet"].map(|name| of(&rows[0], name)).into();
    let second: Vec<String> = ["line", "side", "outlet"].map(|name| of(&rows[1], name)).into();
    assert_eq!(
        (first, second),
        (vec!["1".into(), "right".into(), "1".into()], vec!["2".into(), "left".into(), "1".into()])
    );
    // Every outlet once a pass on either side.
    let mut pass: Vec<(String, String)> = rows
        .iter()
        .filter(|row| of(row, "pass") == "1")
        .map(|row| (of(row, "side"), of(row, "outlet")))
        .collect();
    pass.sort();
    pass.dedup();
    assert_eq!(pass.len(), 12);
}

fn csv_rows(table: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(table.as_bytes());
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

#[test]
fn what_does_not_go_together_is_told_all_at_once() {
    let folder = TempDir::new().unwrap();
    let refused = |lateral: &[(&str, Value)], words: &[&str]| {
        put(folder.path(), &with(lateral));
        evenfall_in(folder.path(), &["check", "scenario.json"]).refused(3, words);
    };
    refused(&[("lines", json!(7))], &["7 lines cannot share 6 outlets", "1 to 6"]);
    refused(&[("lines_run", json!("by turns"))], &["takes no turns", "Add `lines`"]);
    refused(&[("mainline_at", json!("100 ft"))], &["serves one side", "both sides"]);
    refused(
        &[("sides", json!("both sides")), ("first_sprinkler", json!("20 ft"))],
        &["half a spacing from it", "longer than its side", "at most 4 sprinklers"],
    );
    refused(
        &[("sides", json!("both sides")), ("sprinklers", json!(4)), ("lines", json!(3))],
        &["3 lines cannot share", "an even number up to 12"],
    );
}
