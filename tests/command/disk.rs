//! Folders that cannot be written, that are there already, and disks that fill: exit code 4, and
//! whatever was there is still there.

use crate::runs::{Ran, command, evenfall_in, names};
use crate::scenarios::{demo_at, demo_with, put, small};
use std::fs;
use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

const SEASON: [&str; 4] = ["season", "scenario.json", "--into", "report"];

/// A folder with a small scenario in it.
fn with_small() -> TempDir {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    folder
}

#[test]
fn a_folder_that_cannot_be_written_is_told_before_the_work() {
    let folder = with_small();
    fs::write(folder.path().join("file"), "mine").unwrap();
    for into in ["no/such/report", "file/report", "/proc/report", ".", ".."] {
        let ran = evenfall_in(folder.path(), &["season", "scenario.json", "--into", into]);
        ran.refused(4, &["`"]);
    }
    assert_eq!(names(folder.path()), ["file", "scenario.json"]);
    assert_eq!(fs::read(folder.path().join("file")).unwrap(), b"mine");
}

#[test]
fn an_existing_folder_is_not_replaced() {
    let folder = with_small();
    let report = folder.path().join("report");
    fs::create_dir(&report).unwrap();
    fs::write(report.join("notes.txt"), "mine").unwrap();
    let season = |more: &[&str]| evenfall_in(folder.path(), &[&SEASON[..], more].concat());
    season(&[]).refused(4, &["`report` exists already", "--replace"]);
    // Even when asked, as it is no report.
    season(&["--replace"]).refused(4, &["no report of this program"]);
    assert_eq!(names(&report), ["notes.txt"]);
    assert_eq!(names(folder.path()), ["report", "scenario.json"]);
}

#[test]
fn an_earlier_report_is_replaced_only_when_asked() {
    let folder = with_small();
    let season = |more: &[&str]| evenfall_in(folder.path(), &[&SEASON[..], more].concat());
    season(&[]).said();
    let summary = || fs::read_to_string(folder.path().join("report/summary.json")).unwrap();
    let first = summary();
    season(&["--seed", "7"]).refused(4, &["exists already"]);
    assert_eq!(summary(), first);
    season(&["--seed", "7", "--replace"]).said();
    assert_ne!(summary(), first);
    assert_eq!(names(folder.path()), ["report", "scenario.json"]);
}

#[test]
fn regress_what_was_added_to_a_report_or_edited_in_it_is_not_lost() {
    let folder = with_small();
    evenfall_in(folder.path(), &SEASON).said();
    let report = folder.path().join("report");
    let mine = demo_with(|demo| demo["title"] = "Mine".into());
    fs::write(report.join("scenario.json"), &mine).unwrap();
    fs::write(report.join("notes.txt"), "mine").unwrap();
    let again = [&SEASON[..], &["--replace"]].concat();
    evenfall_in(folder.path(), &again)
        .refused(4, &["notes.txt, scenario.json", "Nothing was changed", "--discard-edits"]);
    assert_eq!(fs::read_to_string(report.join("scenario.json")).unwrap(), mine);
    assert_eq!(fs::read(report.join("notes.txt")).unwrap(), b"mine");
    assert_eq!(names(folder.path()), ["report", "scenario.json"]);
    evenfall_in(folder.path(), &[&again[..], &["--discard-edits"]].concat()).said();
    // What was added is theirs, and stays.
    assert_eq!(fs::read(report.join("notes.txt")).unwrap(), b"mine");
    fs::remove_file(report.join("notes.txt")).unwrap();
    // A scenario that is edited where it lies and run from there is not lost.
    let edited = small().replace("\"Fixed\"", "\"As always\"");
    fs::write(report.join("scenario.json"), &edited).unwrap();
    let here = ["season", "report/scenario.json", "--into", "report", "--replace"];
    evenfall_in(folder.path(), &here).said();
    assert_eq!(fs::read_to_string(report.join("scenario.json")).unwrap(), edited);
    evenfall_in(folder.path(), &["season", "--replace"]).refused(2, &["--into"]);
}

#[test]
fn a_failed_run_leaves_the_earlier_report_as_it_was() {
    let folder = with_small();
    evenfall_in(folder.path(), &SEASON).said();
    let summary = || fs::read(folder.path().join("report/summary.json")).unwrap();
    let first = summary();
    limited(folder.path(), 100, &[&SEASON[..], &["--replace"]].concat()).refused(4, &["report"]);
    assert_eq!(summary(), first);
    assert_eq!(names(folder.path()), ["report", "scenario.json"]);
}

/// Runs the command where no file may grow beyond `blocks` (of 512 or 1024 bytes, by shell): writes
/// fail with EFBIG, as the signal that goes with it is ignored.
#[track_caller]
fn limited(folder: &Path, blocks: u32, words: &[&str]) -> Ran {
    let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" \"$@\"");
    Ran::of(&in_shell(folder, &script, words).output().unwrap())
}

/// A shell with `script`, to which the command and its words are given.
fn in_shell(folder: &Path, script: &str, words: &[&str]) -> Command {
    let evenfall = command(folder, words);
    let mut shell = Command::new("sh");
    shell.args(["-c", script]).arg(evenfall.get_program()).args(words).current_dir(folder);
    shell
}

#[test]
fn more_than_the_addresses_that_may_be_used_is_refused_before_it_begins() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &demo_at("/field/cell", "\"0.3 ft\""));
    for words in [&SEASON[..], &["worth", "scenario.json", "--into", "report"]] {
        let mut shell = in_shell(folder.path(), "ulimit -v 1500000; exec \"$0\" \"$@\"", words);
        Ran::of(&shell.output().unwrap()).refused(5, &["MB of memory", "Set `cell` in `field`"]);
        assert_eq!(names(folder.path()), ["scenario.json"]);
    }
}

#[test]
fn a_file_that_cannot_grow_leaves_nothing_behind() {
    let folder = with_small();
    // The page is the first file and the larger limit lets it pass: fails at first and half way.
    for blocks in [20, 600] {
        limited(folder.path(), blocks, &SEASON).refused(4, &["cannot write `", "Nothing is left"]);
        assert_eq!(names(folder.path()), ["scenario.json"]);
    }
}

/// On a disk of 1 MB in memory; where the machine does not let one be made the test says so.
#[test]
fn a_disk_that_fills_leaves_nothing_behind() {
    let folder = with_small();
    let script = "mkdir disk && mount -t tmpfs -o size=1m none disk || exit 99
        \"$0\" \"$@\"; code=$?; ls -A disk; umount disk; rmdir disk; exit $code";
    let words = ["season", "scenario.json", "--into", "disk/report"];
    let inner = in_shell(folder.path(), script, &words);
    let mut outer = Command::new("unshare");
    outer.args(["--user", "--map-root-user", "--mount"]).arg(inner.get_program());
    let ran = outer.args(inner.get_args()).current_dir(folder.path()).output();
    match ran {
        Ok(output)
            if output.status.code() != Some(99) && !output.stderr.starts_with(b"unshare:") =>
        {
            // `out` would list what is left on the full disk.
            Ran::of(&output).refused(4, &["cannot write `", "No space left", "Nothing is left"]);
            assert_eq!(names(folder.path()), ["scenario.json"]);
        }
        _ => eprintln!("not tried: this machine lets no disk be mounted"),
    }
}

#[test]
fn a_full_standard_output_is_an_error() {
    for words in [&["demo"][..], &["schema"], &["stops"], &["check"]] {
        let full = fs::File::options().write(true).open("/dev/full").unwrap();
        let folder = TempDir::new().unwrap();
        let output = command(folder.path(), words).stdout(full).output().unwrap();
        Ran::of(&output).refused(4, &["cannot print"]);
    }
}
