//! Orders of sets, lines that stand where whole turns bring them, and times without water: nothing on the
//! sheet that cannot be done in a field.

use crate::runs::evenfall_in;
use crate::scenarios::{put, small};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// A small field of outlets 50 ft apart under wheels that roll 15.7 ft a turn, watered in this order.
fn client(order: &str, closed: Value) -> Value {
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["wheel"] = json!({ "travel_per_turn": "15.7 ft" });
    scenario["outlets"] = json!({ "spacing": "50 ft", "reach": "25 ft" });
    scenario["field"]["width_across"] = json!("650 ft");
    scenario["season"]["set_order"] = json!(order);
    scenario["season"]["passes"] = json!(4);
    scenario["season"]["return_time"] = json!("1 h");
    if !closed.is_null() {
        scenario["season"]["closed"] = closed;
    }
    scenario["alternatives"] = json!([
        { "name": "Fixed", "rotation": ["0 ft"] },
        { "name": "Two stops", "rotation": ["0 ft", "1 turn"] }
    ]);
    scenario
}

/// Rows of the sheet of an alternative, cell by cell.
fn rows(folder: &Path, alternative: &str) -> Vec<csv::StringRecord> {
    let into = alternative.replace(' ', "-");
    evenfall_in(folder, &["sheet", "scenario.json", "--alternative", alternative, "--into", &into])
        .said();
    let text = fs::read_to_string(folder.join(into).join("sheet.csv")).unwrap();
    csv::Reader::from_reader(text.as_bytes()).records().map(Result::unwrap).collect()
}

fn number(row: &csv::StringRecord, column: usize) -> f64 {
    row[column].parse().unwrap()
}

#[test]
fn a_sheet_asks_for_whole_turns_only_and_waters_every_outlet_once_a_pass() {
    for order in ["dry return", "both ways", "every second outlet"] {
        let folder = TempDir::new().unwrap();
        put(folder.path(), &client(order, Value::Null).to_string());
        for alternative in ["Fixed", "Two stops"] {
            let rows = rows(folder.path(), alternative);
            assert_eq!(rows.len(), 4 * 13);
            // Wherever the season's turns have brought it from the first stop.
            let mut stands_ft = 25.0;
            for (at, row) in rows.iter().enumerate() {
                if at > 0 {
                    assert!(number(row, 10).abs() < 1e-6, "left over: {row:?}");
                    stands_ft += number(row, 9) * 15.7;
                }
                let mark_ft = 25.0 + 50.0 * (number(row, 5) - 1.0);
                let offset_ft = number(row, 6) / 0.3048;
                assert!((mark_ft + offset_ft - stands_ft).abs() < 1e-2, "{order}: {row:?}");
                assert!(offset_ft.abs() <= 25.0 + 1e-6, "beyond the hose: {row:?}");
            }
            for pass in rows.chunks(13) {
                let outlets: BTreeSet<&str> = pass.iter().map(|row| &row[5]).collect();
                assert_eq!(outlets.len(), 13, "{order}");
            }
        }
    }
}

#[test]
fn a_sheet_says_why_sets_wait_and_no_set_runs_in_a_cutting() {
    let folder = TempDir::new().unwrap();
    let cutting = json!([{ "reason": "cutting", "from": "2027-05-14T06:00", "lasts": "6 days" }]);
    put(folder.path(), &client("both ways", cutting).to_string());
    for row in &rows(folder.path(), "Fixed") {
        assert!(&row[4] <= "2027-05-14T06:00" || &row[3] >= "2027-05-20T06:00", "{row:?}");
    }
    let page = fs::read_to_string(folder.path().join("Fixed/sheet.html")).unwrap();
    assert!(page.contains("No water: cutting"), "no reason on the page");
    assert!(page.contains("down the field in one pass, back in the next"));
    let said = evenfall_in(folder.path(), &["clock", "scenario.json", "--sets"]).said();
    assert_eq!(said.matches("no water: cutting").count(), 2, "{said}");
    assert!(said.contains("2.9 ft before its mark"), "{said}");
}

#[test]
fn a_search_tries_orders_of_sets_beside_shifts() {
    let folder = TempDir::new().unwrap();
    let mut scenario = client("dry return", Value::Null);
    scenario["search"] =
        json!({ "schedules": ["as given"], "edges": ["shift"], "seasons": 2, "longest_cycle": 2 });
    put(folder.path(), &scenario.to_string());
    let search =
        ["search", "scenario.json", "--aim", "dulq", "--every-set-order", "--into", "found"];
    evenfall_in(folder.path(), &search).said();
    let table = fs::read_to_string(folder.path().join("found/search.csv")).unwrap();
    for order in ["back in the next", "the others on the way back"] {
        assert!(table.contains(order), "{order}: {table}");
    }
    // The best go into a scenario that worth can run.
    evenfall_in(folder.path(), &["check", "found/best.json"]).said();
}

#[test]
fn a_verdict_says_first_where_one_gets_more_irrigations_than_the_other() {
    let folder = TempDir::new().unwrap();
    let mut scenario = client("dry return", Value::Null);
    scenario["alternatives"][1]["season"] = json!({ "passes": 3 });
    scenario["worth"]["seasons"] = json!(2);
    put(folder.path(), &scenario.to_string());
    let said = evenfall_in(folder.path(), &["worth", "scenario.json", "--into", "worth"]).said();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("“Two stops” (3 irrigations a season against 4)"), "{said}");
}

#[test]
fn stops_shows_where_whole_turns_leave_the_line_at_each_outlet() {
    let wheel =
        ["stops", "--travel-per-turn", "15.7 ft", "--outlet-spacing", "50 ft", "--reach", "25 ft"];
    let said = evenfall_in(TempDir::new().unwrap().path(), &wheel).said();
    // Three turns fall 2.9 ft short a move; the tenth outlet needs a turn more: −26.1 + 15.7.
    assert!(
        said.contains("outlet   1 on   0.0  −2.9  −5.8  −8.7 −11.6 −14.5 −17.4 −20.3"),
        "{said}"
    );
    assert!(said.contains("outlet   9 on −23.2 −10.4 −13.3"), "{said}");
}
