//! What a user wrote (a log, notes, farms, a page) is never overwritten unasked, whatever command runs on
//! the folder that it lies in.

use crate::runs::{command, evenfall_in, files, project};
use crate::scenarios::{put, small};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Every command that writes, with the name that it writes to.
const COMMANDS: [(&[&str], &str); 11] = [
    (&["season", "scenario.json", "--into"], "mine"),
    (&["worth", "scenario.json", "--seasons", "2", "--into"], "mine"),
    (
        &[
            "search",
            "scenario.json",
            "--aim",
            "dulq",
            "--seasons",
            "2",
            "--longest-cycle",
            "2",
            "--into",
        ],
        "mine",
    ),
    (&["edges", "scenario.json", "--into"], "mine"),
    (&["fit", "scenario.json", "--into"], "mine"),
    (&["tilt", "scenario.json", "--into"], "mine"),
    (&["sheet", "scenario.json", "--alternative", "Two stops", "--into"], "mine"),
    (&["catch", "cans.csv", "--into"], "mine"),
    (&["give", "scenario.json", "--into"], "mine.html"),
    (&["reference", "--page"], "mine.html"),
    (&["pressure", "piped.json", "--picture"], "mine.svg"),
];

fn all(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let read = |name: String| (name.clone(), fs::read(folder.join(&name)).unwrap());
    files(folder).into_iter().map(read).collect()
}

/// A folder with what commands read, and with a user's own files under every name that commands write to.
fn home() -> TempDir {
    let home = TempDir::new().unwrap();
    let folder = home.path();
    put(folder, &small());
    fs::copy(project("data/pipes/scenario.json"), folder.join("piped.json")).unwrap();
    fs::copy(project("data/catch/between-laterals.csv"), folder.join("cans.csv")).unwrap();
    fs::create_dir_all(folder.join("mine/photos")).unwrap();
    fs::create_dir_all(folder.join("farms/house")).unwrap();
    for name in [
        "mine/log.json",
        "mine/notes.txt",
        "mine/photos/field.jpg",
        "mine.html",
        "mine.svg",
        "farms/house/scenario.json",
    ] {
        fs::write(folder.join(name), format!("{name}: mine")).unwrap();
    }
    home
}

#[test]
fn no_command_touches_a_folder_or_a_file_that_is_somebodys() {
    let home = home();
    let before = all(home.path());
    for (words, target) in COMMANDS {
        for more in [&[][..], &["--replace"], &["--replace", "--discard-edits"]] {
            let is_folder = !target.contains('.');
            let takes_replace = is_folder || words[0] == "give";
            if !takes_replace && !more.is_empty() || !is_folder && more.len() > 1 {
                continue;
            }
            let words = [words, &[target], more].concat();
            let mut command = command(home.path(), &words);
            let output = command.env("EVENFALL_FARMS", home.path().join("farms")).output().unwrap();
            let err = String::from_utf8_lossy(&output.stderr);
            assert_eq!(output.status.code(), Some(4), "{words:?}: {err}");
            assert!(err.contains(target), "{words:?}: {err}");
            assert!(all(home.path()) == before, "{words:?} changed something");
        }
    }
}

#[test]
fn what_was_added_to_a_report_stays_though_it_is_replaced_and_edits_are_thrown_away() {
    for (words, target) in COMMANDS.iter().filter(|(_, target)| *target == "mine") {
        if ["worth", "search", "fit", "tilt"].contains(&words[0]) {
            // The same folder, and long to compute: one such command is enough.
            continue;
        }
        let home = home();
        let folder = home.path();
        let into = format!("report-{}", words[0]);
        let run =
            |more: &[&str]| evenfall_in(folder, &[words, &[into.as_str()][..], more].concat());
        run(&[]).said();
        let report = folder.join(&into);
        fs::create_dir_all(report.join("photos/old")).unwrap();
        fs::write(report.join("photos/field.jpg"), "a photo").unwrap();
        fs::write(report.join("diary.txt"), "rain at last").unwrap();
        let written = files(&report).into_iter().find(|name| name.contains(".html")).unwrap();
        fs::write(report.join(&written), "edited").unwrap();
        let before = all(&report);
        run(&["--replace"]).refused(4, &["diary.txt", "photos/field.jpg", "Nothing was changed"]);
        assert!(all(&report) == before, "{words:?} {target}");
        run(&["--replace", "--discard-edits"]).said();
        assert_eq!(fs::read_to_string(report.join("photos/field.jpg")).unwrap(), "a photo");
        assert_eq!(fs::read_to_string(report.join("diary.txt")).unwrap(), "rain at last");
        assert!(report.join("photos/old").is_dir(), "an empty folder of theirs");
        assert_ne!(fs::read(report.join(&written)).unwrap(), b"edited");
    }
}
