//! A survey of the sprinklers, leaks and flow control, from the file to the report.

use crate::edges::summary;
use crate::runs::evenfall_in;
use crate::scenarios::{put, small};
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

/// The small demo's 8 sprinklers surveyed as in `table`, in calm air.
fn surveyed(table: &str, change: impl FnOnce(&mut Value)) -> TempDir {
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["wind"] = json!({ "still": true });
    scenario["lateral"]["survey"] = json!({ "file": "survey.csv", "nominal_bore": "10/64 in" });
    change(&mut scenario);
    put(folder.path(), &scenario.to_string());
    fs::write(folder.path().join("survey.csv"), table).unwrap();
    folder
}

const TABLE: &str =
    "sprinkler,pressure_psi,bore_64ths,note\n1,50,11,\n2,,,plugged\n5,50,10,leaning\n8,40,10,\n";

fn gross_m3(found: &Value) -> Vec<f64> {
    let all = found["alternatives"].as_array().unwrap();
    all.iter().map(|own| own.pointer("/water/gross_m3").unwrap().as_f64().unwrap()).collect()
}

#[test]
fn a_survey_is_told_in_words_counts_in_the_water_and_is_kept_with_the_report() {
    let folder = surveyed(TABLE, |scenario| scenario["lateral"]["leaks"] = "20 %".into());
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "4 of 8 surveyed: pressure 40 to 50 psi, 1 nozzle worn by more than 5 % of discharge, 1 \
         plugged, 1 leaning; flow 9 % below the nozzles’ nominal.",
        "Replace the worn nozzle, and clear the plugged sprinkler.",
        "20 % of the flow into the line leaks before it reaches a nozzle",
        "/lateral/survey/others = 4 not surveyed",
    ] {
        assert!(flat.contains(words), "{words}\n{said}");
    }
    let run = ["season", "scenario.json", "--into", "report", "--quiet"];
    evenfall_in(folder.path(), &run).said();
    let report = folder.path().join("report");
    let found = summary(&report);
    for own in found["alternatives"].as_array().unwrap() {
        let part = |name: &str| own["water"][name].as_f64().unwrap();
        let [gross, on, off, lost, leaked] = ["gross", "on_field", "off_field", "losses", "leaked"]
            .map(|name| part(&format!("{name}_m3")));
        // The nozzles' balance holds by itself; a fifth of the inflow is a quarter of it, beside it.
        assert!(((gross - on - off - lost) / gross).abs() < 1e-9);
        assert!((leaked / gross - 0.25).abs() < 1e-9);
    }
    let page = fs::read_to_string(report.join("report.html")).unwrap();
    for words in ["4 of 8 surveyed", "Leaked before the nozzles", "survey.csv"] {
        assert!(page.contains(words), "{words}");
    }
    // The report's folder holds the table: it runs again where it lies.
    assert_eq!(fs::read_to_string(report.join("survey.csv")).unwrap(), TABLE);
    evenfall_in(&report, &["check", "scenario.json"]).said();
    // By hand: bores (11/10)² and 1, the rest their mean 1.07; √(P/50) at 50 psi up to the fifth, then
    // 46.7, 43.3 and 40 psi; one plugged.
    let mean = (1.21 + 1.0 + 1.0) / 3.0;
    let at = |psi: f64| (psi / 50.0_f64).sqrt();
    let by_hand =
        1.21 + 2.0 * mean + 1.0 + mean * (at(50.0 - 10.0 / 3.0) + at(50.0 - 20.0 / 3.0)) + at(40.0);
    let mut plain: Value = serde_json::from_str(&small()).unwrap();
    plain["wind"] = json!({ "still": true });
    put(folder.path(), &plain.to_string());
    evenfall_in(folder.path(), &["season", "scenario.json", "--into", "plain", "--quiet"]).said();
    let stated = gross_m3(&summary(&folder.path().join("plain")));
    for (found, stated) in gross_m3(&found).iter().zip(&stated) {
        assert!(
            (found / stated - by_hand / 8.0).abs() < 1e-3,
            "{} {}",
            found / stated,
            by_hand / 8.0
        );
    }
}

#[test]
fn all_that_is_wrong_with_a_survey_is_told_at_once() {
    let table =
        "sprinkler,pressure_psi,bore_64ths\n9,50,10\n1,5000,10\n1,50,10\nx,50,10\n2,50,90\n";
    let folder = surveyed(table, |_| {});
    evenfall_in(folder.path(), &["check", "scenario.json"]).refused(
        3,
        &[
            "/lateral/survey/file",
            "survey.csv: line 2: there is no sprinkler 9 on a lateral of 8",
            "line 3: a pressure of 5000 is out of range",
            "sprinkler 1 stands on line 3 and on line 4",
            "line 5: `x` is no sprinkler's number",
            "line 6: a bore of 90 is out of range",
        ],
    );
    let bare = surveyed(TABLE, |scenario| {
        scenario["lateral"]["survey"] = json!({ "file": "survey.csv" });
    });
    let words = ["/lateral/survey/file", "nominal_bore"];
    evenfall_in(bare.path(), &["check", "scenario.json"]).refused(3, &words);
    let empty = surveyed("sprinkler,pressure_psi\n", |_| {});
    evenfall_in(empty.path(), &["check", "scenario.json"]).refused(3, &["holds no sprinklers"]);
    let gone =
        surveyed(TABLE, |scenario| scenario["lateral"]["survey"]["file"] = "gone.csv".into());
    evenfall_in(gone.path(), &["check", "scenario.json"])
        .refused(3, &["gone.csv", "cannot be read"]);
}

#[test]
fn readings_beside_a_pipe_and_flow_control_are_told_by_the_pressure_command() {
    let table = "sprinkler,pressure_psi\n1,66\n4,66\n8,66\n";
    let folder = surveyed(table, |scenario| {
        scenario["lateral"]["pipe"] = json!({
            "inside_diameter": "3 in", "inlet": { "pressure": "60 psi" }, "riser": "0 ft"
        });
        scenario["lateral"]["leaks"] = "10 %".into();
        scenario["sprinkler"]["flow_control"] = json!({ "from": "40 psi", "to": "80 psi" });
    });
    let said = evenfall_in(folder.path(), &["pressure", "scenario.json"]).said();
    let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "Flow-control nozzles hold the stated discharge at 8 of 8 sprinklers.",
        "leaks at couplers",
        "Discharge differs by 0.0 %",
    ] {
        assert!(flat.contains(words), "{words}\n{said}");
    }
    let checked = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    let flat = checked.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in ["the pitot readings and the pressures calculated", "first read (sprinkler 1) +6"]
    {
        assert!(flat.contains(words), "{words}\n{checked}");
    }
}
