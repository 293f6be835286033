//! Files that are none: pipes, devices, folders. Each is told at once, by name, wherever it is given.
#![cfg(unix)]

use crate::runs::{Ran, command};
use crate::scenarios::{demo_with, put, small};
use crate::study::{begun, plan, study};
use serde_json::{Value, json};
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

#[test]
fn a_study_tells_them_too_and_waits_for_none() {
    let folder = begun(&plan());
    let folder = folder.path();
    assert!(Command::new("mkfifo").arg(folder.join("pipe")).status().unwrap().success());
    fs::create_dir(folder.join("folder")).unwrap();
    // Nothing but a hole in it, and yet too large.
    fs::File::create(folder.join("huge")).unwrap().set_len(65 << 20).unwrap();
    let names = [("pipe", "a pipe"), ("/dev/zero", "a device"), ("folder", "a folder")];
    for (name, what) in names.into_iter().chain([("huge", "larger than 64 MB")]) {
        refused(folder, &["study", "plan", name], 4, &["cannot read", what]);
        let put = |key: &str, value: Value| {
            let mut plan = plan();
            plan[key] = value;
            fs::write(folder.join("odd.json"), plan.to_string()).unwrap();
        };
        put("base", name.into());
        refused(folder, &["study", "plan", "odd.json"], 4, &["cannot read", what]);
        put("design", json!({ "list": name }));
        refused(folder, &["study", "plan", "odd.json"], 4, &["cannot read the list", what]);
        let wind = demo_with(|demo| {
            demo["wind"] = json!({ "record": { "file": name, "layout": "csv" } });
        });
        fs::write(folder.join("wind.json"), wind).unwrap();
        put("base", "wind.json".into());
        refused(folder, &["study", "plan", "odd.json"], 3, &["cannot be read", what]);
    }
    study(folder, &["run", "plan.json", "--into", "out", "--shard", "1/2"]).said();
    let part = folder.join("out/parts/block-000001.parquet");
    assert!(Command::new("mkfifo").arg(&part).status().unwrap().success());
    let gather = ["study", "gather", "plan.json", "--into", "out"];
    refused(folder, &gather, 4, &["2 of 4 blocks"]);
    fs::remove_file(folder.join("out/study.json")).unwrap();
    fs::create_dir(folder.join("out/study.json")).unwrap();
    refused(folder, &gather, 4, &["cannot read `study.json`", "a folder"]);
}
