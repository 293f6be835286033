//! Hand-moved laterals: the kept example, half a joint along the pipe.

use crate::edges::summary;
use crate::runs::{evenfall, evenfall_in, project};
use crate::scenarios::{demo_with, put, small};
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

fn example() -> String {
    project("data/hand-move/scenario.json").to_str().unwrap().to_owned()
}

#[test]
fn stops_and_clock_of_the_example_tell_both_ways() {
    let stops = evenfall(&["stops", &example()]).said();
    let last = stops.split("Across and along").nth(1).unwrap();
    for line in [
        "A         0.0 ft      0.0 ft",
        "B        25.0 ft     20.0 ft",
        "D        25.0 ft      0.0 ft",
    ] {
        assert!(last.contains(line), "{last}");
    }
    let clock = evenfall(&["clock", &example()]).said();
    let last = clock.split("Across and along:").nth(1).unwrap();
    let line = last.lines().nth(2).unwrap();
    assert!(line.contains("stop B at   25.0 ft from the outlet, 20.0 ft along the pipe"), "{line}");
}

#[test]
fn the_example_runs_and_its_report_tells_shifts_along_the_pipe() {
    let folder = TempDir::new().unwrap();
    let said = evenfall_in(folder.path(), &["season", &example(), "--into", "report"]).said();
    assert!(said.contains("Across and along"), "{said}");
    let report = folder.path().join("report");
    let html = fs::read_to_string(report.join("report.html")).unwrap().replace('\u{a0}', " ");
    assert!(html.contains("25 ft ahead, 20 ft along the pipe"));
    assert!(html.contains("Along the pipe means away from the mainline"));
    let passes = fs::read_to_string(report.join("passes.csv")).unwrap();
    assert!(passes.lines().any(|line| line.starts_with("Across and along,2,B,7.62,6.096,")));
    let found = summary(&report);
    let du = |at: usize| found["alternatives"][at]["season"]["interior"]["du_lq_percent"].as_f64();
    assert!(du(3) > du(0), "both ways must beat the fixed pattern");
}

#[test]
fn half_a_joint_is_half_a_sprinkler_spacing() {
    let with = |along: &str| {
        let folder = TempDir::new().unwrap();
        let mut scenario: Value = serde_json::from_str(&small()).unwrap();
        scenario["lateral"]["machine"] = "hand move".into();
        scenario["alternatives"][1]["rotation"] = json!(["0 ft", { "along": along }]);
        put(folder.path(), &scenario.to_string());
        let words = ["season", "scenario.json", "--into", "report", "--quiet"];
        evenfall_in(folder.path(), &words).said();
        summary(&folder.path().join("report"))["alternatives"].clone()
    };
    assert_eq!(with("half joint"), with("20 ft"));
    assert_eq!(with("-half joint"), with("-20 ft"));
    assert_ne!(with("half joint"), with("-20 ft"));
}

#[test]
fn a_wheel_line_takes_no_joint_and_no_shift_goes_past_a_sprinkler_spacing() {
    let folder = TempDir::new().unwrap();
    let rotation = |machine: &str, along: &str| {
        demo_with(|demo| {
            demo["lateral"]["machine"] = machine.into();
            demo["alternatives"][1]["rotation"] = json!(["0 ft", { "along": along }]);
        })
    };
    let at = "/alternatives/1/rotation/1";
    put(folder.path(), &rotation("wheel line", "half joint"));
    let check = ["check", "scenario.json"];
    evenfall_in(folder.path(), &check).refused(
        3,
        &[at, "cannot be moved along its own length", "20 ft (6.096 m) along the pipe"],
    );
    put(folder.path(), &rotation("hand move", "41 ft"));
    evenfall_in(folder.path(), &check).refused(3, &[at, "more than one sprinkler spacing"]);
    put(folder.path(), &rotation("hand move", "a joint"));
    evenfall_in(folder.path(), &check).refused(3, &["half joint"]);
}
