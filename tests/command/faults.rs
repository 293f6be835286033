//! The disk fails, or the program is ended, at each of the steps by which it writes: nothing that was
//! there is lost, nothing half is seen, the message says what could not be written and where, and the
//! next run works by itself.
//!
//! Which steps there are is told by builds for tests alone (`crates/cli/src/disk.rs`).

use crate::runs::{Ran, command, evenfall_in, files, names, project};
use crate::scenarios::{put, small};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// A command that writes, and what it writes.
pub(crate) struct Writes {
    pub(crate) words: &'static [&'static str],
    pub(crate) target: &'static str,
    /// Whether `--replace` may be said.
    pub(crate) replaces: bool,
}

const fn writes(words: &'static [&'static str], target: &'static str, replaces: bool) -> Writes {
    Writes { words, target, replaces }
}

/// Quick ones.
pub(crate) const QUICK: [Writes; 4] = [
    writes(&["sheet", "scenario.json", "--alternative", "Fixed", "--into", "out"], "out", true),
    writes(&["catch", "cans.csv", "--into", "out"], "out", true),
    writes(&["reference", "--page", "out.html"], "out.html", false),
    writes(&["pressure", "piped.json", "--picture", "out.svg"], "out.svg", false),
];

/// Those that compute for a while.
pub(crate) const SLOW: [Writes; 7] = [
    writes(&["season", "scenario.json", "--into", "out"], "out", true),
    writes(&["give", "scenario.json", "--into", "out.html"], "out.html", true),
    writes(&["worth", "scenario.json", "--seasons", "2", "--into", "out"], "out", true),
    writes(
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
            "out",
        ],
        "out",
        true,
    ),
    writes(&["edges", "scenario.json", "--into", "out"], "out", true),
    writes(&["fit", "unfit.json", "--into", "out"], "out", true),
    writes(&["tilt", "scenario.json", "--into", "out"], "out", true),
];

/// A folder with what the commands read, and something of the user's beside it.
pub(crate) fn folder() -> TempDir {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    // Where whole turns end at the outlets there is nothing to compare.
    let unfit = small().replacen("\"60 ft\"", "\"50 ft\"", 1);
    fs::write(folder.path().join("unfit.json"), unfit).unwrap();
    fs::copy(project("data/pipes/scenario.json"), folder.path().join("piped.json")).unwrap();
    let cans = project("data/catch/between-laterals.csv");
    fs::copy(cans, folder.path().join("cans.csv")).unwrap();
    fs::write(folder.path().join("notes.txt"), "mine").unwrap();
    folder
}

fn with_fault(folder: &Path, words: &[&str], fault: &str) -> std::process::Output {
    command(folder, words).env("EVENFALL_FAULT", fault).output().unwrap()
}

/// The names and contents of all files below a folder.
pub(crate) fn all(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let read = |name: String| (name.clone(), fs::read(folder.join(&name)).unwrap());
    files(folder).into_iter().map(read).collect()
}

/// What is there under the name that was asked for, drafts left out.
pub(crate) fn target(folder: &Path, of: &Writes) -> Vec<(String, Vec<u8>)> {
    let is_it = |name: &str| name == of.target || name.starts_with(&format!("{}/", of.target));
    // A program that is ended just after it gave the name leaves its mark for the next run.
    let is_mark = |name: &str| name.ends_with(".evenfall-draft");
    all(folder).into_iter().filter(|(name, _)| is_it(name) && !is_mark(name)).collect()
}

/// How many steps a run takes.
fn steps(folder: &Path, words: &[&str]) -> Option<usize> {
    let ran = Ran::of(&with_fault(folder, words, "count:0"));
    assert_eq!(ran.code, Some(0), "{words:?}: {}", ran.err);
    let told = ran.err.lines().find_map(|line| line.strip_prefix("disk steps: "));
    told.map(|count| count.parse().unwrap())
}

/// Tries steps of `of`, where nothing is there yet and where an earlier one is replaced; how many faults.
fn try_steps(of: &Writes, is_tried: impl Fn(usize, usize) -> bool) -> usize {
    let first = folder();
    let Some(count) = steps(first.path(), of.words) else {
        eprintln!("not tried: this build has no faults");
        return 0;
    };
    let mut tried = 0;
    let mut whole = target(first.path(), of);
    assert!(count >= 4 && !whole.is_empty(), "{:?}: {count} steps", of.words);
    for replaces in [false, true] {
        if replaces && !of.replaces {
            continue;
        }
        let words = if replaces { [of.words, &["--replace"]].concat() } else { of.words.to_vec() };
        let count = if replaces { steps(first.path(), &words).unwrap() } else { count };
        // Some pages tell the command that made them.
        whole = target(first.path(), of);
        for at in (1..=count).filter(|at| is_tried(*at, count)) {
            for fault in ["fail", "stay", "die"] {
                let home = if replaces { None } else { Some(folder()) };
                let place = home.as_ref().map_or(first.path(), TempDir::path);
                let told = format!("{words:?} {fault}:{at} of {count}");
                tried += 1;
                let before = target(place, of);
                let output = with_fault(place, &words, &format!("{fault}:{at}"));
                let after = target(place, of);
                assert!(
                    after == before || after == whole,
                    "{told}: half there: {:?}",
                    names(place)
                );
                let err = String::from_utf8_lossy(&output.stderr);
                if fault != "die" {
                    let ran = Ran::of(&output);
                    let is_told =
                        ran.code == Some(4) && ran.err.contains("a fault that a test asked for");
                    assert!(is_told || (ran.code == Some(0) && after == whole), "{told}: {err}");
                    assert!(
                        ran.code == Some(0) || ran.err.contains(&of.target[..3]),
                        "{told}: {err}"
                    );
                }
                // The next run works, and nothing of the one before is left beside it.
                if !replaces && !after.is_empty() {
                    let there = place.join(of.target);
                    if there.is_dir() { fs::remove_dir_all(there) } else { fs::remove_file(there) }
                        .unwrap();
                }
                evenfall_in(place, &words).said();
                assert!(target(place, of) == whole, "{told}: the next run");
                if fault != "stay" && of.target == "out" {
                    let hidden = names(place).into_iter().find(|name| name.starts_with('.'));
                    assert_eq!(hidden, None, "{told}: left behind");
                }
                assert_eq!(fs::read(place.join("notes.txt")).unwrap(), b"mine");
            }
        }
    }
    tried
}

/// Those that the check has time for: the first, some in between, and all at which names are given.
fn some(at: usize, count: usize) -> bool {
    at < 4 || at.is_multiple_of(6) || at + 9 > count
}

#[test]
fn the_steps_of_a_sheet_may_fail() {
    try_steps(&QUICK[0], some);
}

#[test]
fn every_step_of_a_single_file_may_fail() {
    try_steps(&QUICK[2], |_, _| true);
    try_steps(&QUICK[3], |_, _| true);
}

#[test]
#[ignore = "takes hours: every step of every command, or of those that EVENFALL_COMMANDS names"]
fn every_step_of_every_command_may_fail() {
    let wanted = std::env::var("EVENFALL_COMMANDS").ok();
    let is_wanted = |of: &&Writes| {
        wanted.as_ref().is_none_or(|names| names.split(',').any(|name| name == of.words[0]))
    };
    for of in QUICK.iter().chain(&SLOW).filter(is_wanted) {
        let begun = std::time::Instant::now();
        let tried = try_steps(of, |_, _| true);
        eprintln!("{}: {tried} faults, {} s", of.words[0], begun.elapsed().as_secs());
    }
}
