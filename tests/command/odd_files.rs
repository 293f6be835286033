//! Files that are none: pipes, devices, folders. Each is told at once, by name, wherever it is given.
#![cfg(unix)]

use crate::runs::{Ran, command};
use crate::scenarios::{demo_with, put, small};
use serde_json::json;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A refusal within seconds: a pipe that nobody writes would be waited for forever.
#[track_caller]
fn refused(folder: &Path, words: &[&str], code: i32, told: &[&str]) {
    let mut command = command(folder, words);
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let begun = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if begun.elapsed() > Duration::from_secs(30) {
            child.kill().unwrap();
            panic!("{words:?} hangs");
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    Ran::of(&child.wait_with_output().unwrap()).refused(code, told);
}

#[test]
fn pipes_devices_and_folders_are_told_and_never_waited_for() {
    let home = TempDir::new().unwrap();
    let folder = home.path();
    assert!(Command::new("mkfifo").arg(folder.join("pipe")).status().unwrap().success());
    fs::create_dir(folder.join("folder")).unwrap();
    put(folder, &small());
    for (name, what) in [("pipe", "a pipe"), ("/dev/zero", "a device"), ("folder", "a folder")] {
        for first in ["check", "season", "worth", "stops", "explore", "give"] {
            let into = if first == "give" { &["--into", "x.html"][..] } else { &[] };
            refused(folder, &[&[first, name], into].concat(), 4, &["cannot read", what]);
        }
        let log = ["sheet", "scenario.json", "--alternative", "Fixed", "--log", name];
        refused(folder, &log, 4, &["cannot read", what]);
        if what != "a folder" {
            refused(folder, &["catch", name], 4, &["cannot read", what]);
        }
        let wind = demo_with(|demo| {
            demo["wind"] = json!({ "record": { "file": name, "layout": "csv" } });
        });
        fs::write(folder.join("wind.json"), wind).unwrap();
        refused(folder, &["check", "wind.json"], 3, &["cannot be read", what]);
    }
}
