//! `evenfall tilt`: a wheel line stopped off the whole turn.

use crate::edges::summary;
use crate::runs::{evenfall, evenfall_in, project};
use crate::scenarios::{put, small};
use serde_json::Value;
use tempfile::TempDir;

#[test]
fn half_a_turn_costs_the_gain_and_more_and_whole_turns_are_the_season() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let said = evenfall_in(folder.path(), &["tilt", "scenario.json"]).said();
    assert!(said.contains("would water less evenly"), "{said}");
    assert!(said.contains("Half an outlet spacing ahead (30.0 ft) is 1.50 turns"), "{said}");
    let found = summary(&folder.path().join("evenfall-tilt"));
    let cases = found["cases"].as_array().unwrap();
    let of = |name: &str, key: &str| {
        let case = cases.iter().find(|case| case["name"].as_str().unwrap().starts_with(name));
        case.unwrap_or_else(|| panic!("no {name}"))[key].as_f64().unwrap()
    };
    let cu = "season_cu_percent";
    assert_eq!(of("15° off", "tilt_deg"), 0.0);
    assert!((of("15° off", cu) - of("Two stops", cu)).abs() < 0.5);
    let pass = "pass_cu_percent";
    assert!(of("30° off", pass) < of("15° off", pass) - 5.0);
    assert!(of("60° off", pass) < of("30° off", pass) - 20.0);
    assert!(of("Half a turn off", cu) < of("Fixed", cu));
    // Worked by hand for the demo's pipe of 5 in: asin of a bound of 0.1143 to either side of both ends
    // of the pipe.
    assert!((of("Half a turn off, levelers", "blocked_percent") - 7.29).abs() < 0.1);
    let words = ["season", "scenario.json", "--into", "report", "--quiet"];
    evenfall_in(folder.path(), &words).said();
    let season: Value = summary(&folder.path().join("report"));
    let interior = &season["alternatives"][1]["season"]["interior"]["cu_percent"];
    // Coarser footprints: within 0.05 points.
    assert!((of("Two stops", cu) - interior.as_f64().unwrap()).abs() < 0.05);
}

#[test]
fn what_does_not_roll_or_makes_no_sense_is_refused() {
    let example = project("data/hand-move/scenario.json");
    evenfall(&["tilt", example.to_str().unwrap()]).refused(2, &["moved by hand"]);
    evenfall(&["tilt", "--pipe-diameter", "4 psi"]).refused(2, &["--pipe-diameter", "a length"]);
    evenfall(&["tilt", "--riser-height", "20 ft"])
        .refused(2, &["--riser-height", "Expected 0 to 16.4 ft."]);
    // A nozzle 4 ft above ground hangs 8 ft lower on a riser of 4 ft.
    evenfall(&["tilt", "--riser-height", "1.2 m"]).refused(5, &["sprinkler"]);
}
