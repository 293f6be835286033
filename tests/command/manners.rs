//! Quiet runs, closed pipes, colors.

use crate::runs::{Ran, command, evenfall, evenfall_in, names};
use crate::scenarios::{put, small};
use std::io::Read as _;
use std::process::Stdio;
use tempfile::TempDir;

#[test]
fn a_quiet_season_says_nothing_and_still_writes() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let ran = evenfall_in(folder.path(), &["--quiet", "season", "scenario.json", "--into", "r"]);
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (Some(0), "", ""));
    assert_eq!(names(folder.path()), ["r", "scenario.json"]);
}

#[test]
fn quiet_keeps_errors_and_tables_that_were_asked_for() {
    evenfall(&["--quiet", "season", "nowhere.json"]).refused(4, &["nowhere.json"]);
    assert_eq!(evenfall(&["stops", "--quiet"]).said(), evenfall(&["stops"]).said());
}

#[test]
fn a_reader_that_goes_away_is_a_quiet_end() {
    for words in [&["schema"][..], &["demo"], &["clock"], &["completions", "bash"]] {
        let folder = TempDir::new().unwrap();
        let mut child = command(folder.path(), words)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // Closed before or while the text is written, like `| head -1`.
        let mut first = [0];
        child.stdout.take().unwrap().read_exact(&mut first).unwrap();
        let ran = Ran::of(&child.wait_with_output().unwrap());
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{words:?}");
    }
}

/// [`Ran::of`] finds no color codes in any run of these tests; here in the ones most likely.
#[test]
fn nothing_is_colored_where_nobody_watches() {
    evenfall(&["--help"]).said();
    evenfall(&["wobble"]).refused(2, &["wobble"]);
    let folder = TempDir::new().unwrap();
    put(folder.path(), "{ \"field\": 3 }");
    evenfall_in(folder.path(), &["check", "scenario.json"]).refused(3, &["/field"]);
}
