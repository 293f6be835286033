//! Paths that are not UTF-8, where the system has them: read and written like any other, and no
//! word of the command line that is no text ends in a panic.
#![cfg(unix)]

use crate::runs::{Ran, command, evenfall_in, project};
use crate::scenarios::{put, small};
use serde_json::{Value, json};
use std::ffi::{OsStr, OsString};
use std::fs;
use std::os::unix::ffi::OsStrExt as _;
use std::path::Path;
use tempfile::TempDir;

/// A name that is no UTF-8.
fn odd(end: &str) -> OsString {
    let mut name = OsStr::from_bytes(b"f\xff\xfeld").to_owned();
    name.push(end);
    name
}

/// Runs the command with words that need not be text.
#[track_caller]
fn ran(folder: &Path, words: &[&OsStr]) -> Ran {
    Ran::of(&command(folder, &[]).args(words).output().unwrap())
}

fn word(text: &str) -> &OsStr {
    OsStr::new(text)
}

#[test]
fn regress_catch_files_may_lie_anywhere() {
    let home = TempDir::new().unwrap();
    let cans = fs::read(project("data/catch/between-laterals.csv")).unwrap();
    let (file, folder, into) = (odd(".csv"), odd(""), odd("-report"));
    fs::create_dir(home.path().join(&folder)).unwrap();
    fs::write(home.path().join(&folder).join(&file), cans).unwrap();
    for path in [Path::new(&folder), &Path::new(&folder).join(&file)] {
        assert!(ran(home.path(), &[word("catch"), path.as_os_str()]).said().contains("CU"));
    }
    let words = [word("catch"), &folder, word("--into"), &into];
    ran(home.path(), &words).said();
    let page = fs::read_to_string(home.path().join(&into).join("report.html")).unwrap();
    assert!(page.contains("evenfall catch f"), "the page tells how it was made");
    ran(home.path(), &words).refused(4, &["exists already"]);
}

#[test]
fn what_was_added_under_an_odd_name_stays_in_a_report_that_is_replaced() {
    let home = TempDir::new().unwrap();
    put(home.path(), &small());
    let words = ["season", "scenario.json", "--into", "report"];
    evenfall_in(home.path(), &words).said();
    let own = home.path().join("report").join(odd(".txt"));
    fs::write(&own, "mine").unwrap();
    let replaced = [&words[..], &["--replace"]].concat();
    evenfall_in(home.path(), &replaced)
        .refused(4, &["f\u{fffd}\u{fffd}ld.txt", "what was added stays"]);
    evenfall_in(home.path(), &[&replaced[..], &["--discard-edits"]].concat()).said();
    assert_eq!(fs::read_to_string(own).unwrap(), "mine");
}

#[test]
fn regress_scenarios_logs_and_reports_may_lie_anywhere() {
    let home = TempDir::new().unwrap();
    let folder = odd("");
    let inside = home.path().join(&folder);
    fs::create_dir(&inside).unwrap();
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    let edge = r#"{ "type": "Polygon",
        "coordinates": [[[0, 0], [320, 0], [320, 360], [60, 360], [0, 200], [0, 0]]] }"#;
    fs::write(inside.join("field.geojson"), edge).unwrap();
    scenario["field"]["boundary"] = json!({ "file": "field.geojson", "coordinates": "ft" });
    put(&inside, &scenario.to_string());
    let path = Path::new(&folder).join("scenario.json");
    for name in ["check", "stops", "clock", "maintenance"] {
        ran(home.path(), &[word(name), path.as_os_str()]).said();
    }
    let into = odd("-sheet");
    let sheet = ["sheet", "--alternative", "Fixed", "--into"].map(word);
    ran(home.path(), &[&sheet[..], &[&into, path.as_os_str()]].concat()).said();
    let log = Path::new(&into).join("log.json");
    let (into, path) = (odd("-season"), path.as_os_str());
    let words = [word("season"), path, word("--log"), log.as_os_str(), word("--into"), &into];
    ran(home.path(), &words).said();
    assert!(home.path().join(&into).join("report.html").is_file());
    // The best rotations go with the files that they name.
    let (into, seasons) = (odd("-search"), ["--aim", "dulq", "--seasons", "2", "--into"].map(word));
    ran(home.path(), &[&[word("search"), path], &seasons[..], &[&into]].concat()).said();
    let best = Path::new(&into).join("best.json");
    ran(home.path(), &[word("check"), best.as_os_str()]).said();
    // From inside, where the working folder's own name is no text.
    evenfall_in(&inside, &["season", "scenario.json", "--into", "r"]).said();
}

#[test]
fn what_is_not_there_or_no_path_is_refused_plainly() {
    let home = TempDir::new().unwrap();
    let odd = odd(".json");
    for name in ["season", "check", "catch", "worth", "search", "explore"] {
        ran(home.path(), &[word(name), &odd]).refused(4, &["cannot read"]);
    }
    // Where a value is asked for, the word that is no text is named, harmless to a terminal.
    let mut evil = odd.clone();
    evil.push("\u{1b}[2J");
    for (command, option) in
        [("stops", "--travel-per-turn"), ("sheet", "--alternative"), ("worth", "--seasons")]
    {
        let told = ["f\u{fffd}\u{fffd}ld.json", "not text in UTF-8", "names of files and folders"];
        ran(home.path(), &[word(command), word(option), &odd]).refused(2, &told);
        ran(home.path(), &[word(command), word(option), &evil]).refused(2, &told);
    }
    ran(home.path(), &[word("completions"), &odd]).refused(2, &["'<SHELL>'"]);
    ran(home.path(), &[&odd]).refused(2, &["unrecognized subcommand"]);
}
