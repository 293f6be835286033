//! A run that is stopped half way: exit code 130 and nothing left behind.

use crate::runs::{Ran, command, names};
use crate::scenarios::{long, put};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// Starts a long season and waits until it is under way: its hidden draft stands in the folder.
fn under_way(folder: &Path) -> Child {
    put(folder, &long());
    let mut season = command(folder, &["season", "scenario.json", "--into", "report"]);
    let child = season.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let begun = Instant::now();
    while names(folder).len() < 2 {
        assert!(begun.elapsed() < Duration::from_mins(1), "never began");
        sleep(Duration::from_millis(20));
    }
    sleep(Duration::from_millis(300));
    child
}

#[test]
fn ctrl_c_or_a_request_to_end_leaves_nothing_behind() {
    for signal in ["-INT", "-TERM"] {
        let folder = TempDir::new().unwrap();
        let child = under_way(folder.path());
        let kill = format!("kill {signal} {}", child.id());
        assert!(Command::new("sh").args(["-c", &kill]).status().unwrap().success());
        let ran = Ran::of(&child.wait_with_output().unwrap());
        ran.refused(130, &["stopped", "Nothing was written"]);
        assert_eq!(names(folder.path()), ["scenario.json"], "{signal}");
    }
}
