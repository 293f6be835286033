//! Scenario files that cannot be read: exit code 4, the file named, nothing left behind.

use crate::runs::{evenfall, evenfall_in, names};
use crate::scenarios::{demo_at, demo_with, put};
use std::fs;
use tempfile::TempDir;

#[test]
fn a_scenario_that_is_not_there_is_named_with_what_to_do() {
    for command in ["season", "check", "clock", "stops"] {
        evenfall(&[command, "nowhere.json"]).refused(4, &["nowhere.json", "evenfall demo"]);
    }
}

#[test]
fn a_folder_is_no_scenario() {
    evenfall(&["season", "."]).refused(4, &["`.`"]);
}

#[test]
fn bytes_that_are_no_text_are_no_scenario() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("noise.json"), [0xff, 0xfe, b'{', 0x80]).unwrap();
    evenfall_in(folder.path(), &["season", "noise.json"]).refused(4, &["noise.json", "UTF-8"]);
    assert_eq!(names(folder.path()), ["noise.json"]);
}

#[test]
fn the_mark_that_some_editors_put_before_a_text_is_read_over() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &format!("\u{feff}{}", demo_at("/title", "\"Marked\"")));
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    assert!(said.contains("No problems in the file: Marked"), "{said}");
}

#[test]
fn the_strongest_winds_that_may_be_told_can_be_run() {
    let folder = TempDir::new().unwrap();
    let windy = demo_with(|demo| {
        let wind = &mut demo["wind"]["generated"];
        (wind["day_mean"], wind["night_mean"]) = ("20 m/s".into(), "20 m/s".into());
        wind["weibull_shape"] = 1.into();
        demo["field"]["cell"] = "20 ft".into();
        demo["season"]["passes"] = 1.into();
    });
    put(folder.path(), &windy);
    evenfall_in(folder.path(), &["season", "scenario.json", "--into", "report"]).said();
}
