//! `evenfall fit` and stops at part of a turn: where whole turns do not end at the outlets.

use crate::edges::summary;
use crate::runs::{evenfall, evenfall_in, project};
use crate::scenarios::{put, small};
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

/// A small field on such a wheel and outlets, with these shifts.
fn on(wheel: &Value, outlets: &Value, rotation: &Value) -> String {
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["wheel"] = wheel.clone();
    scenario["outlets"] = outlets.clone();
    scenario["alternatives"] = json!([{ "name": "One", "rotation": rotation }]);
    scenario.to_string()
}

#[test]
fn the_ways_out_stand_side_by_side_in_water_and_work() {
    let folder = TempDir::new().unwrap();
    let (wheel, outlets) =
        (json!({ "travel_per_turn": "15.7 ft" }), json!({ "spacing": "50 ft", "reach": "25 ft" }));
    put(folder.path(), &on(&wheel, &outlets, &json!(["0 ft"])));
    let said = evenfall_in(folder.path(), &["fit", "scenario.json"]).said();
    assert!(said.contains("3 turns a move end 2.9 ft"), "{said}");
    assert!(said.contains("“Outlets 47.1 ft apart”") && said.contains("NEH 15-11"), "{said}");
    let found = summary(&folder.path().join("evenfall-fit"));
    let ways = found["ways_out"].as_array().unwrap();
    assert_eq!(ways.len(), 5);
    let of = |way: usize, key: &str| ways[way][key].as_f64().unwrap();
    // Outlets that fit the wheels, and levelers, leave nothing to the hose.
    assert!(of(0, "hose_m") > 0.88 && [2, 3, 4].iter().all(|way| of(*way, "hose_m") < 1e-9));
    assert_eq!(of(0, "sets"), of(4, "sets"));
    assert!(of(3, "outlets") < of(0, "outlets") && of(4, "part_turn_sets") > 0.0);
    assert!([0, 1, 2, 3].iter().all(|way| of(*way, "part_turn_sets") == 0.0));
}

#[test]
fn where_there_is_nothing_to_mend_it_says_so() {
    evenfall(&["fit"]).refused(2, &["3 turns a move end at the next outlet", "nothing to compare"]);
    let example = project("data/hand-move/scenario.json");
    evenfall(&["fit", example.to_str().unwrap()]).refused(2, &["moved by hand"]);
    evenfall(&["fit", "--alternative", "None"]).refused(2, &["--alternative \"None\""]);
}

#[test]
fn a_shift_of_one_and_a_half_turns_is_judged_and_its_sheet_says_so() {
    let folder = TempDir::new().unwrap();
    let wheel =
        json!({ "size": "7-foot", "part_turns": "on levelers", "leveler_range": "180 deg" });
    let outlets = json!({ "spacing": "60 ft", "reach": "30 ft" });
    put(folder.path(), &on(&wheel, &outlets, &json!(["0 ft", "30 ft"])));
    let words = ["season", "scenario.json", "--into", "report", "--quiet"];
    evenfall_in(folder.path(), &words).said();
    let words = ["sheet", "scenario.json", "--into", "sheet", "--quiet"];
    evenfall_in(folder.path(), &words).said();
    let page = fs::read_to_string(folder.path().join("sheet/sheet.html")).unwrap();
    let page = page.replace("\u{a0}", " ");
    assert!(page.contains("every sprinkler must stand level"), "{page}");
    assert!(page.contains("½ turns"), "{page}");
}
