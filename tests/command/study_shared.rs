//! `evenfall study`: what points share, and a disk that fails, change no row.

use crate::runs::{Ran, assert_same_files, command, evenfall_in, files};
use crate::scenarios::put;
use crate::study::{base, begun, lines, plan, run_all, study};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

#[test]
fn rows_under_drawn_doubts_are_those_of_worth_though_points_share_what_is_drawn() {
    let mut drawn: Value = serde_json::from_str(&base()).unwrap();
    drawn["worth"].as_object_mut().unwrap().remove("doubts");
    let reaches = ["25 ft", "30 ft"];
    let plan = json!({
        "base": "scenario.json",
        "factors": [{ "name": "reach", "pointer": "/outlets/reach", "levels": reaches }],
        "replicates": 4
    });
    let folder = begun(&plan);
    put(folder.path(), &drawn.to_string());
    run_all(folder.path(), "out", 1, "2");
    study(folder.path(), &["gather", "plan.json", "--into", "out"]).said();
    let rows = lines(&folder.path().join("out/study.csv"));
    assert_eq!(rows.len(), 2 * 4 * 2);
    for (reach, own) in reaches.iter().zip(rows.chunks(4 * 2)) {
        drawn["outlets"]["reach"] = (*reach).into();
        fs::write(folder.path().join("point.json"), drawn.to_string()).unwrap();
        let into = format!("worth {reach}");
        let words = ["worth", "point.json", "--seasons", "4", "--into", &into];
        evenfall_in(folder.path(), &words).said();
        let expected = lines(&folder.path().join(into).join("seasons.csv"));
        for (own, expected) in own.iter().zip(&expected) {
            for (column, value) in expected.iter().filter(|(column, _)| *column != "commit") {
                assert_eq!(&own[column], value, "{column} at {reach}");
            }
        }
    }
}

#[test]
fn a_disk_that_is_full_ends_a_run_clearly_and_the_next_one_goes_on() {
    let mut plan = plan();
    plan["factors"].as_array_mut().unwrap().pop();
    plan["replicates"] = 1.into();
    let whole = begun(&plan);
    let count = |folder: &Path, words: &[&str]| {
        let ran = command(folder, words).env("EVENFALL_FAULT", "count:0").output().unwrap();
        let ran = Ran::of(&ran);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let told = ran.err.lines().find_map(|line| line.strip_prefix("disk steps: ")?.parse().ok());
        told.unwrap_or(0)
    };
    let run = ["study", "run", "plan.json", "--into", "out"];
    let gather = ["study", "gather", "plan.json", "--into", "out"];
    let (in_run, in_gather): (usize, usize) =
        (count(whole.path(), &run), count(whole.path(), &gather));
    if in_run == 0 {
        eprintln!("not tried: this build has no faults");
        return;
    }
    assert!(in_run > 10 && in_gather > 10, "{in_run}, {in_gather}");
    let fault = |folder: &Path, words: &[&str], at: usize| {
        let wish = format!("stay:{at}");
        let output = command(folder, words).env("EVENFALL_FAULT", &wish).output().unwrap();
        let ran = Ran::of(&output);
        ran.refused(4, &["out", "a fault that a test asked for"]);
        let out = folder.join("out");
        // The first step of all makes the folder.
        let there = if out.exists() { files(&out) } else { Vec::new() };
        for name in there.iter().filter(|name| name.ends_with(".parquet")) {
            let same = fs::read(out.join(name)).unwrap()
                == fs::read(whole.path().join("out").join(name)).unwrap();
            assert!(same, "{wish}: {name} is half there");
        }
        let half = |name: &String| name.rsplit('/').next().unwrap().starts_with(".block");
        assert!(!there.iter().any(half), "{wish}");
    };
    // Of the first part of two: made, written, synced, named, its folder synced. Before it the folder
    // and what it is of.
    let folder = begun(&plan);
    for at in [1, 3, in_run - 9, in_run - 8, in_run - 7, in_run - 6, in_run - 4] {
        fault(folder.path(), &run, at);
        fs::remove_dir_all(folder.path().join("out")).unwrap_or_default();
    }
    fault(folder.path(), &run, in_run - 3);
    let said = study(folder.path(), &run[1..]).said();
    assert!(said.contains("1 blocks run, 1 there already"), "{said}");
    for at in [1, 2, 3, in_gather / 2, in_gather - 1] {
        fault(folder.path(), &gather, at);
    }
    study(folder.path(), &gather[1..]).said();
    assert_same_files(&folder.path().join("out"), &whole.path().join("out"));
}
