//! Scenario files that cannot be read: exit code 4, the file named, nothing left behind.

use crate::runs::{evenfall, evenfall_in, names};
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
