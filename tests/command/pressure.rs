//! `evenfall pressure`, and pressure in the season's report.

use crate::runs::{evenfall_in, names, project};
use crate::scenarios::{demo_at, put, small};
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

/// The small demo with a narrow pipe, uphill.
fn piped() -> String {
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["lateral"]["pipe"] = json!({ "inside_diameter": "2 in", "slope": "1 %" });
    serde_json::to_string_pretty(&scenario).unwrap()
}

/// The rows of the list of sprinklers, as numbers.
fn list(text: &str) -> Vec<Vec<f64>> {
    let row = |line: &str| {
        let cells = line.split_whitespace().filter(|cell| *cell != "%");
        cells.map(|cell| cell.replace('−', "-").parse().ok()).collect::<Option<Vec<f64>>>()
    };
    text.lines().filter_map(row).filter(|row| row.len() == 7).collect()
}

#[test]
fn every_sprinkler_is_listed_and_the_pressures_are_judged() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &demo_at("/lateral/pipe", r#"{ "inside_diameter": "3.9 in" }"#));
    let said = evenfall_in(folder.path(), &["pressure", "scenario.json"]).said();
    for words in ["Fixed; Two stops; Three stops", "within the 20 %", "Christiansen’s F = 0.35"] {
        assert!(said.contains(words), "{said}");
    }
    let rows = list(&said);
    assert_eq!(rows.len(), 33, "{said}");
    assert!(rows.windows(2).all(|pair| pair[1][4] <= pair[0][4]), "pressure falls:\n{said}");
    let mean = rows.iter().map(|row| row[4]).sum::<f64>() / 33.0;
    assert!((mean - 50.0).abs() < 0.05, "{mean}");
    // 33 sprinklers of 4.98 gpm at 50 psi.
    let flow = rows.iter().map(|row| row[6]).sum::<f64>();
    assert!((flow - 164.3).abs() < 0.5, "{flow}");
}

#[test]
fn without_a_pipe_the_command_says_how_to_describe_one() {
    let folder = TempDir::new().unwrap();
    let said = evenfall_in(folder.path(), &["pressure"]).said();
    assert!(said.contains("no pipe is described") && said.contains("inside_diameter"), "{said}");
    evenfall_in(folder.path(), &["pressure", "--picture", "p.svg"]).refused(2, &["no alternative"]);
    assert!(names(folder.path()).is_empty());
}

#[test]
fn the_picture_is_drawn_into_a_new_file_only() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &piped());
    let words = ["pressure", "scenario.json", "--picture", "p.svg"];
    evenfall_in(folder.path(), &words).said();
    let svg = fs::read_to_string(folder.path().join("p.svg")).unwrap();
    for text in ["Pressure (psi)", "Discharge (gpm)", "Ground (ft)", "what the 20 % rule allows"] {
        assert!(svg.contains(text), "{text}");
    }
    evenfall_in(folder.path(), &words).refused(4, &["p.svg"]);
    evenfall_in(folder.path(), &["pressure", "scenario.json", "--picture", "p.txt"])
        .refused(2, &[".svg or .png"]);
    assert_eq!(fs::read_to_string(folder.path().join("p.svg")).unwrap(), svg);
}

#[test]
fn a_season_with_a_pipe_reports_pressures_and_what_they_cost() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &piped());
    evenfall_in(folder.path(), &["season", "scenario.json", "--into", "r"]).said();
    let read = |name: &str| fs::read_to_string(folder.path().join("r").join(name)).unwrap();
    let page = read("report.html");
    for words in ["Pressure along the pipe", "20\u{a0}% rule", "What the pressures cost"] {
        assert!(page.contains(words), "{words}");
    }
    assert_eq!(read("pressures.csv").lines().count(), 1 + 2 * 8);
    assert!(!read("pictures/pressure.svg").is_empty());
    let summary: Value = serde_json::from_str(&read("summary.json")).unwrap();
    let first = &summary["alternatives"][0];
    // The first sprinkler has more than the last, and the water adds up.
    let sprinklers = first["pressure"]["sprinklers"].as_array().unwrap();
    let kpa = |index: usize| sprinklers[index]["nozzle_kpa"].as_f64().unwrap();
    assert!(kpa(0) > kpa(7));
    let flow: f64 = sprinklers.iter().map(|s| s["discharge_l_s"].as_f64().unwrap()).sum();
    // Three passes of six sets of 11.5 h.
    let gross_m3 = first["water"]["gross_m3"].as_f64().unwrap();
    assert!((gross_m3 / (flow * 3.6 * 11.5 * 18.0) - 1.0).abs() < 1e-9);
    let rules = first["rules_of_thumb"].as_array().unwrap();
    let of_pressure = |rule: &&Value| rule["rule"].as_str().unwrap().starts_with("pressure");
    assert_eq!(rules.iter().filter(of_pressure).count(), 2);
}

#[test]
fn a_dry_lateral_names_its_sprinkler_and_leaves_nothing() {
    let folder = TempDir::new().unwrap();
    let dry = r#"{ "inside_diameter": "1.5 in", "inlet": { "pressure": "50 psi" } }"#;
    put(folder.path(), &demo_at("/lateral/pipe", dry));
    for command in ["pressure", "season", "check"] {
        evenfall_in(folder.path(), &[command, "scenario.json"])
            .refused(3, &["runs dry", "sprinkler 33 of 33", "wider pipe", "/lateral/pipe/inlet"]);
    }
    assert_eq!(names(folder.path()), ["scenario.json"]);
}

#[test]
fn the_example_with_three_pipes_is_judged_pipe_by_pipe() {
    let scenario = project("data/pipes/scenario.json");
    let folder = TempDir::new().unwrap();
    let said = evenfall_in(folder.path(), &["pressure", scenario.to_str().unwrap()]).said();
    assert_eq!(list(&said).len(), 3 * 33, "{said}");
    assert!(said.contains("4-in pipe, fixed; 4-in pipe, two stops"), "{said}");
}
