//! A run that is stopped half way: exit code 130 soon after, and nothing left behind.

use crate::runs::{Ran, command, evenfall_in, names};
use crate::scenarios::{demo_with, long, put, small};
use std::fs;
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

/// Ends well within a second, with room for a machine that has other work.
const SOON: Duration = Duration::from_secs(3);

fn send(signal: &str, child: &Child) {
    let kill = format!("kill {signal} {}", child.id());
    assert!(Command::new("sh").args(["-c", &kill]).status().unwrap().success());
}

#[test]
fn ctrl_c_a_request_to_end_or_a_closed_terminal_leaves_nothing_behind() {
    for signal in ["-INT", "-TERM", "-HUP"] {
        let folder = TempDir::new().unwrap();
        let child = under_way(folder.path());
        let begun = Instant::now();
        send(signal, &child);
        let ran = Ran::of(&child.wait_with_output().unwrap());
        ran.refused(130, &["stopped", "Nothing was written"]);
        assert!(begun.elapsed() < SOON, "{signal} took {:?}", begun.elapsed());
        assert_eq!(names(folder.path()), ["scenario.json"], "{signal}");
    }
}

#[test]
fn a_run_in_the_middle_of_a_long_pass_stops_as_soon() {
    // Cells so small that one pass takes many seconds.
    let fine = demo_with(|demo| demo["field"]["cell"] = "0.8 ft".into());
    for signals in [&["-INT"][..], &["-INT", "-INT"]] {
        let folder = TempDir::new().unwrap();
        put(folder.path(), &fine);
        let mut season = command(folder.path(), &["season", "scenario.json", "--into", "report"]);
        let child = season.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        sleep(Duration::from_secs(2));
        let begun = Instant::now();
        for signal in signals {
            send(signal, &child);
        }
        let ran = Ran::of(&child.wait_with_output().unwrap());
        assert!(begun.elapsed() < SOON, "{signals:?} took {:?}: {}", begun.elapsed(), ran.err);
        ran.refused(130, &["stopped"]);
        assert_eq!(names(folder.path()), ["scenario.json"], "{signals:?}");
    }
}

/// A worth of many seasons that is stopped after so long: what it said, and its folder.
fn worth_stopped_after(wait: Duration) -> (Ran, TempDir) {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let words = ["worth", "scenario.json", "--seasons", "3000", "--into", "report"];
    let mut worth = command(folder.path(), &words);
    let child = worth.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    sleep(wait);
    send("-INT", &child);
    (Ran::of(&child.wait_with_output().unwrap()), folder)
}

#[test]
fn a_worth_that_is_stopped_keeps_its_seasons_and_says_how_many() {
    // A machine too busy for two seasons in that time says so, writes nothing, and is given longer.
    for seconds in [2, 4, 8, 16, 32] {
        let (ran, folder) = worth_stopped_after(Duration::from_secs(seconds));
        let keeps = ran.err.contains("what is finished is kept");
        if ran.code == Some(130) {
            // Seasons of the climate are counted while it is read, before any is simulated.
            let too_early = ["before two seasons were done", "after 0 of 3000 seasons"];
            assert!(too_early.iter().any(|words| ran.err.contains(words)), "{}", ran.err);
            ran.refused(130, &["Nothing was written"]);
            assert_eq!(names(folder.path()), ["scenario.json"]);
            continue;
        }
        assert!(keeps, "{}", ran.err);
        let said = ran.said();
        assert!(said.contains("of 3000 seasons"), "{said}");
        let told = fs::read_to_string(folder.path().join("report/summary.json")).unwrap();
        let told: serde_json::Value = serde_json::from_str(&told).unwrap();
        let command = told["command"].as_str().unwrap_or_default();
        assert!(command.contains("worth --seasons ") && !command.contains("3000"), "{command}");
        return;
    }
    panic!("never came to two seasons");
}

/// Whether the draft of a report holds files already: it is being written.
fn is_being_written(folder: &Path) -> bool {
    let drafts = names(folder).into_iter().filter(|name| name.starts_with(".report.partial-"));
    drafts.into_iter().any(|draft| {
        // The draft may get its name meanwhile.
        let files = fs::read_dir(folder.join(draft)).into_iter().flatten().flatten();
        files.filter(|file| !file.file_name().to_string_lossy().starts_with('.')).count() > 2
    })
}

#[test]
fn a_worth_that_is_stopped_while_it_writes_its_report_writes_it_to_the_end() {
    let mut has_met = false;
    for _ in 0..5 {
        let folder = TempDir::new().unwrap();
        put(folder.path(), &small());
        let words = ["worth", "scenario.json", "--seasons", "2", "--into", "report"];
        let mut worth = command(folder.path(), &words);
        let mut child = worth.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        while !is_being_written(folder.path()) && child.try_wait().unwrap().is_none() {
            sleep(Duration::from_millis(2));
        }
        if child.try_wait().unwrap().is_none() {
            send("-INT", &child);
        }
        let ran = Ran::of(&child.wait_with_output().unwrap());
        has_met |= ran.err.contains("what is finished is kept");
        ran.said();
        assert!(folder.path().join("report/summary.json").is_file());
        assert_eq!(names(folder.path()), ["report", "scenario.json"]);
        if has_met {
            return;
        }
    }
    panic!("never met while it wrote");
}

/// What a run that was killed leaves is removed by the next, whatever its number was; what somebody else
/// is writing is not.
#[test]
fn the_leftover_of_a_killed_run_blocks_nothing_and_goes() {
    let folder = TempDir::new().unwrap();
    let mut child = under_way(folder.path());
    child.kill().unwrap();
    child.wait().unwrap();
    assert_eq!(names(folder.path()).len(), 2, "a draft is left");
    put(folder.path(), &small());
    let living = under_way_beside(folder.path());
    let words = ["sheet", "scenario.json", "--alternative", "Fixed", "--into", "report"];
    evenfall_in(folder.path(), &words).said();
    assert!(names(folder.path()).iter().any(|name| name.starts_with(".report.partial-")));
    send("-INT", &living);
    Ran::of(&living.wait_with_output().unwrap()).refused(130, &["stopped"]);
    assert_eq!(names(folder.path()), ["long.json", "report", "scenario.json"]);
}

/// A long season into the same name, under way beside others.
fn under_way_beside(folder: &Path) -> Child {
    fs::write(folder.join("long.json"), long()).unwrap();
    let before = names(folder).len();
    let mut season = command(folder, &["season", "long.json", "--into", "report"]);
    let child = season.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    // It removes the leftover of the killed one and has a draft of its own.
    let begun = Instant::now();
    sleep(Duration::from_secs(2));
    while names(folder).len() < before {
        assert!(begun.elapsed() < Duration::from_mins(1), "never began");
        sleep(Duration::from_millis(20));
    }
    child
}
