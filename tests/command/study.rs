//! `evenfall study`: a plan, its blocks, its table; the same bytes whoever runs what and whatever ends it.

use crate::runs::{Ran, assert_same_files, command, evenfall_in, files};
use crate::scenarios::{put, small};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A base scenario that runs fast: small and coarse, nothing drawn but the weather.
pub(crate) fn base() -> String {
    let mut base: Value = serde_json::from_str(&small()).unwrap();
    base["worth"]["doubts"] = "left out".into();
    base["field"]["cell"] = "5 ft".into();
    base["season"]["passes"] = 4.into();
    serde_json::to_string_pretty(&base).unwrap()
}

pub(crate) fn plan() -> Value {
    json!({
        "title": "Spacings and seeds",
        "base": "scenario.json",
        "factors": [
            { "name": "seed", "pointer": "/seed", "levels": [3, 4] },
            { "name": "outlet_spacing", "pointer": "/outlets/spacing", "levels": ["60 ft", "50 ft"] }
        ],
        "replicates": 2,
        "block_points": 1
    })
}

/// A folder with base and plan.
pub(crate) fn begun(plan: &Value) -> TempDir {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &base());
    write_plan(folder.path(), plan);
    folder
}

fn write_plan(folder: &Path, plan: &Value) {
    fs::write(folder.join("plan.json"), plan.to_string()).unwrap();
}

pub(crate) fn study(folder: &Path, words: &[&str]) -> Ran {
    evenfall_in(folder, &[&["study"], words].concat())
}

pub(crate) fn run_all(folder: &Path, into: &str, shards: usize, threads: &str) {
    for shard in (1..=shards).rev() {
        let share = format!("{shard}/{shards}");
        let words = ["--threads", threads, "run", "plan.json", "--into", into, "--shard", &share];
        study(folder, &words).said();
    }
}

fn part(into: &Path, block: usize) -> std::path::PathBuf {
    into.join(format!("parts/block-{block:06}.parquet"))
}

/// The lines of a CSV file by the names of its columns.
pub(crate) fn lines(path: &Path) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_path(path).unwrap();
    reader.deserialize().map(Result::unwrap).collect()
}

#[test]
fn every_part_is_the_same_bytes_for_any_number_of_shards_and_threads() {
    let folder = begun(&plan());
    let at = |name: &str| folder.path().join(name);
    run_all(folder.path(), "one", 1, "2");
    run_all(folder.path(), "three", 3, "1");
    run_all(folder.path(), "forty", 40, "2");
    assert_eq!(files(&at("one")).iter().filter(|name| name.ends_with(".parquet")).count(), 4);
    for into in ["one", "three", "forty"] {
        for block in 0..4 {
            let same = fs::read(part(&at("one"), block)).unwrap()
                == fs::read(part(&at(into), block)).unwrap();
            assert!(same, "{into}, block {block}");
        }
        study(folder.path(), &["gather", "plan.json", "--into", into]).said();
        for table in ["study.parquet", "study.csv", "study.json"] {
            let same =
                fs::read(at("one").join(table)).unwrap() == fs::read(at(into).join(table)).unwrap();
            assert!(same, "{into}, {table}");
        }
    }
}

#[test]
fn every_row_is_what_worth_writes_of_that_scenario_digit_by_digit() {
    let folder = begun(&plan());
    run_all(folder.path(), "out", 1, "2");
    study(folder.path(), &["gather", "plan.json", "--into", "out"]).said();
    let rows = lines(&folder.path().join("out/study.csv"));
    assert_eq!(rows.len(), 4 * 2 * 2);
    for (point, (seed, spacing)) in
        [(3, "60 ft"), (3, "50 ft"), (4, "60 ft"), (4, "50 ft")].into_iter().enumerate()
    {
        let mut scenario: Value = serde_json::from_str(&base()).unwrap();
        scenario["seed"] = seed.into();
        scenario["outlets"]["spacing"] = spacing.into();
        fs::write(folder.path().join("point.json"), scenario.to_string()).unwrap();
        let into = format!("worth-{point}");
        let words = ["worth", "point.json", "--seasons", "2", "--into", &into];
        let ran = evenfall_in(folder.path(), &words);
        let number = (point + 1).to_string();
        let own: Vec<_> = rows.iter().filter(|row| row["point"] == number).collect();
        if ran.code != Some(0) {
            assert!(own.iter().all(|row| !row["reason"].is_empty()), "{}", ran.err);
            continue;
        }
        let expected = lines(&folder.path().join(into).join("seasons.csv"));
        assert_eq!(own.len(), expected.len());
        for (own, expected) in own.iter().zip(&expected) {
            for (column, value) in expected.iter().filter(|(column, _)| *column != "commit") {
                assert_eq!(&own[column], value, "{column} of point {number}");
            }
            assert!(own["reason"].is_empty() && own["factor_outlet_spacing"] == spacing);
            assert_eq!(own["factor_seed"], seed.to_string());
        }
    }
}

#[test]
fn a_lost_and_a_truncated_part_are_run_again_and_the_others_kept() {
    let folder = begun(&plan());
    run_all(folder.path(), "out", 1, "2");
    run_all(folder.path(), "whole", 1, "2");
    let out = folder.path().join("out");
    let kept = fs::metadata(part(&out, 0)).unwrap().modified().unwrap();
    fs::remove_file(part(&out, 1)).unwrap();
    let bytes = fs::read(part(&out, 2)).unwrap();
    fs::write(part(&out, 2), &bytes[..bytes.len() / 2]).unwrap();
    let state = study(folder.path(), &["state", "plan.json", "--into", "out"]).said();
    assert!(state.contains("2 of 4 blocks done, 2 to do, 1 broken"), "{state}");
    study(folder.path(), &["gather", "plan.json", "--into", "out"]).refused(4, &["2 of 4 blocks"]);
    let said = study(folder.path(), &["run", "plan.json", "--into", "out"]).said();
    assert!(said.contains("2 blocks run, 2 there already"), "{said}");
    assert_eq!(fs::metadata(part(&out, 0)).unwrap().modified().unwrap(), kept);
    assert_same_files(&out.join("parts"), &folder.path().join("whole/parts"));
}

/// A plan with many blocks, each of some seasons.
fn long() -> Value {
    let mut long = plan();
    long["factors"][0]["levels"] = (1..=10).collect::<Vec<_>>().into();
    long["replicates"] = 6.into();
    long
}

/// Starts a long study and waits until its first blocks are done.
fn under_way(folder: &Path) -> std::process::Child {
    let mut run = command(folder, &["study", "run", "plan.json", "--into", "out"]);
    let child = run.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let begun = Instant::now();
    while !part(&folder.join("out"), 1).exists() {
        assert!(begun.elapsed() < Duration::from_mins(2), "never began");
        sleep(Duration::from_millis(10));
    }
    child
}

fn parts(folder: &Path) -> usize {
    let all = files(&folder.join("out/parts"));
    all.iter().filter(|name| name.starts_with("block-") && name.ends_with(".parquet")).count()
}

#[test]
fn a_run_that_is_killed_or_asked_to_end_goes_on_where_it_was() {
    for signal in ["-KILL", "-TERM", "-INT"] {
        let folder = begun(&long());
        let child = under_way(folder.path());
        let kill = format!("kill {signal} {}", child.id());
        assert!(Command::new("sh").args(["-c", &kill]).status().unwrap().success());
        let output = child.wait_with_output().unwrap();
        if signal != "-KILL" {
            Ran::of(&output).refused(130, &["stopped", "They are kept"]);
        }
        let done = parts(folder.path());
        assert!((2..20).contains(&done), "{signal}: {done}");
        let state = study(folder.path(), &["state", "plan.json", "--into", "out", "--json"]).said();
        let state: Value = serde_json::from_str(&state).unwrap();
        assert_eq!((&state["done"], &state["broken"]), (&json!(done), &json!([])), "{signal}");
        // The next blocks alone are run, and nothing half written is left.
        let said = study(folder.path(), &["run", "plan.json", "--into", "out"]).said();
        assert!(
            said.contains(&format!("{} blocks run, {done} there already", 20 - done)),
            "{said}"
        );
        assert_eq!(files(&folder.path().join("out/parts")).len(), 20);
    }
}

#[test]
fn what_cannot_be_reached_is_a_row_with_its_reason() {
    let mut plan = plan();
    // The second stop lies 20 ft from the outlet.
    plan["factors"][1] =
        json!({ "name": "reach", "pointer": "/outlets/reach", "levels": ["25 ft", "10 ft"] });
    let folder = begun(&plan);
    let said = study(folder.path(), &["run", "plan.json", "--into", "out"]).said();
    assert!(said.contains("10 rows, 2 of them without figures"), "{said}");
    study(folder.path(), &["gather", "plan.json", "--into", "out"]).said();
    let rows = lines(&folder.path().join("out/study.csv"));
    let (without, with): (Vec<_>, Vec<_>) = rows.iter().partition(|row| !row["reason"].is_empty());
    assert_eq!((without.len(), with.len()), (2, 8));
    for row in without {
        assert!(row["cu_percent"].is_empty() && row["name"].is_empty(), "{row:?}");
        assert!(row["reason"].contains("reach"), "{row:?}");
        assert_eq!(row["factor_reach"], "10 ft");
    }
    assert!(with.iter().all(|row| !row["cu_percent"].is_empty()));
}

#[test]
fn bad_plans_are_refused_with_all_that_is_wrong() {
    let mut plan = plan();
    plan["factors"][0]["pointer"] = "/no/such/key".into();
    plan["factors"][1]["levels"] = json!(["60 ft", "600 ft"]);
    plan["responses"] = json!(["cu_percent", "evenness"]);
    plan["block_seasons"] = 2.into();
    let folder = begun(&plan);
    let ran = study(folder.path(), &["run", "plan.json", "--into", "out"]);
    ran.refused(
        3,
        &["/no/such/key", "has no /no/such", "600 ft", "Expected", "evenness", "3 problems"],
    );
    assert!(!folder.path().join("out").exists());
    for (change, word) in [
        (json!({ "base": "scenario.json", "factor": [] }), "there is no key `factor` here"),
        (json!({ "base": "scenario.json", "replicates": 0 }), "replicates is 0"),
        (json!({ "base": "scenario.json", "first_season": 0 }), "first_season is 0"),
    ] {
        write_plan(folder.path(), &change);
        study(folder.path(), &["plan", "plan.json"]).refused(3, &[word]);
    }
    for (share, word) in [("5/4", "share 5 of 4"), ("X/4", "neither"), ("4", "K/N")] {
        let words = ["run", "plan.json", "--into", "out", "--shard", share];
        study(folder.path(), &words).refused(2, &[word]);
    }
}

#[test]
fn a_plan_changed_under_finished_parts_is_refused_and_nothing_is_lost() {
    let folder = begun(&plan());
    run_all(folder.path(), "out", 1, "2");
    let before = fs::read(part(&folder.path().join("out"), 0)).unwrap();
    let mut other = plan();
    other["replicates"] = 4.into();
    write_plan(folder.path(), &other);
    for step in ["run", "state", "gather"] {
        study(folder.path(), &[step, "plan.json", "--into", "out"])
            .refused(4, &["another study", "4 finished block(s)", "--into"]);
    }
    assert_eq!(fs::read(part(&folder.path().join("out"), 0)).unwrap(), before);
    // The scenario counts as the plan does, and its layout does not.
    write_plan(folder.path(), &plan());
    let laid_out: Value = serde_json::from_str(&base()).unwrap();
    put(folder.path(), &laid_out.to_string());
    study(folder.path(), &["state", "plan.json", "--into", "out"]).said();
    put(folder.path(), &base().replace("\"4 ft\"", "\"5 ft\"").replace("11.5 h", "11 h"));
    let ran = study(folder.path(), &["state", "plan.json", "--into", "out"]);
    if base().contains("11.5 h") {
        ran.refused(4, &["another study"]);
    }
    fs::create_dir(folder.path().join("mine")).unwrap();
    fs::write(folder.path().join("mine/notes.txt"), "").unwrap();
    put(folder.path(), &base());
    study(folder.path(), &["run", "plan.json", "--into", "mine"])
        .refused(4, &["no study's folder"]);
}

#[test]
fn two_runs_of_one_share_in_one_folder_are_told_apart() {
    let folder = begun(&long());
    let mut child = under_way(folder.path());
    study(folder.path(), &["run", "plan.json", "--into", "out"]).refused(4, &["another run"]);
    child.kill().unwrap();
    child.wait().unwrap();
}

#[test]
fn job_arrays_tell_their_share_by_variables() {
    let folder = begun(&plan());
    for task in 0..2 {
        let words = [
            "study",
            "run",
            "plan.json",
            "--into",
            "out",
            "--shard",
            "TASK_ID/TASK_COUNT",
            "--lowest",
            "TASK_MIN",
        ];
        let mut run = command(folder.path(), &words);
        run.env("TASK_ID", task.to_string()).env("TASK_COUNT", "2").env("TASK_MIN", "0");
        let said = Ran::of(&run.output().unwrap()).said();
        assert!(said.contains("2 blocks run"), "{said}");
    }
    let state = study(folder.path(), &["state", "plan.json", "--into", "out"]).said();
    assert!(state.contains("4 of 4 blocks done"), "{state}");
}

#[test]
fn a_forecast_writes_nothing_and_names_rows_time_and_size() {
    let folder = begun(&plan());
    let said = study(folder.path(), &["plan", "plan.json", "--json"]).said();
    let told: Value = serde_json::from_str(&said).unwrap();
    assert_eq!(
        (&told["points"], &told["blocks"], &told["rows"]),
        (&json!(4), &json!(4), &json!(16))
    );
    assert!(told["bytes"].as_f64().unwrap() > 1000.0, "{told}");
    assert_eq!(files(folder.path()), ["plan.json", "scenario.json"]);
}

#[test]
fn points_come_from_a_list_and_from_drawn_designs() {
    let mut plan = plan();
    plan["factors"] = json!([
        { "name": "seed", "pointer": "/seed" },
        { "name": "spacing", "pointer": "/outlets/spacing" }
    ]);
    plan["design"] = json!({ "list": "points.csv" });
    let folder = begun(&plan);
    fs::write(folder.path().join("points.csv"), "spacing,seed\n60 ft,9\n60 ft,10\n").unwrap();
    study(folder.path(), &["run", "plan.json", "--into", "out"]).said();
    study(folder.path(), &["gather", "plan.json", "--into", "out"]).said();
    let rows = lines(&folder.path().join("out/study.csv"));
    let seeds: Vec<&str> = rows.iter().map(|row| row["seed"].as_str()).collect();
    assert_eq!(seeds, ["9", "9", "9", "9", "10", "10", "10", "10"]);
    plan["factors"] = json!([
        { "pointer": "/seed", "levels": [1, 2, 3, 4] },
    ]);
    for design in [json!({ "sobol": 4 }), json!({ "latin_hypercube": 4 })] {
        plan["design"] = design;
        plan["replicates"] = 1.into();
        write_plan(folder.path(), &plan);
        let told = study(folder.path(), &["plan", "plan.json", "--json"]).said();
        assert!(told.contains("\"points\": 4"), "{told}");
    }
}
