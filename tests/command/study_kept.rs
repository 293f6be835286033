//! `evenfall study gather`: what somebody edited or put there stays, and its cells compute nothing.

use crate::runs::{command, evenfall_in, files};
use crate::scenarios::put;
use crate::study::{base, begun, lines, plan, run_all, study};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

const GATHER: [&str; 4] = ["gather", "plan.json", "--into", "out"];
/// What gathering writes for whoever reads it.
const WRITTEN: [&str; 3] = ["study.csv", "study.parquet", "ro-crate-metadata.json"];

fn all(out: &Path) -> Vec<Option<Vec<u8>>> {
    WRITTEN.iter().map(|name| fs::read(out.join(name)).ok()).collect()
}

#[test]
fn what_gathering_wrote_is_gathered_again_and_what_somebody_edited_stays() {
    let folder = begun(&plan());
    let out = folder.path().join("out");
    study(folder.path(), &["run", "plan.json", "--into", "out", "--shard", "1/2"]).said();
    let partial = [&GATHER[..], &["--partial"]].concat();
    study(folder.path(), &partial).said();
    study(folder.path(), &partial).said();
    let half = all(&out);
    run_all(folder.path(), "out", 1, "2");
    study(folder.path(), &GATHER).said();
    let whole = all(&out);
    assert_ne!(half, whole);
    for name in WRITTEN {
        fs::write(out.join(name), "mine").unwrap();
        let before = all(&out);
        study(folder.path(), &GATHER).refused(4, &[name, "Nothing was changed", "--replace"]);
        assert!(before == all(&out), "{name}");
        study(folder.path(), &[&GATHER[..], &["--replace"]].concat()).said();
        assert!(whole == all(&out), "{name}");
        fs::remove_file(out.join(name)).unwrap();
        study(folder.path(), &GATHER).said();
        assert!(whole == all(&out), "{name}");
    }
    // What a run that was killed left aside goes after an hour.
    let (old, young) = (out.join(".study.csv.7"), out.join(".study.csv.8"));
    for path in [&old, &young] {
        fs::write(path, "half").unwrap();
    }
    let hours = std::time::Duration::from_hours(2);
    let then = young.metadata().unwrap().modified().unwrap() - hours;
    fs::File::options().write(true).open(&old).unwrap().set_modified(then).unwrap();
    study(folder.path(), &GATHER).said();
    assert!(!old.exists() && young.exists());
    // A copy without hidden files holds what gathering would write.
    fs::remove_file(out.join(".evenfall-gathered")).unwrap();
    study(folder.path(), &GATHER).said();
}

#[test]
fn a_file_that_was_there_before_gathering_stays() {
    let folder = begun(&plan());
    let out = folder.path().join("out");
    run_all(folder.path(), "out", 1, "2");
    fs::write(out.join("study.csv"), "my notes").unwrap();
    fs::create_dir(out.join("study.parquet")).unwrap();
    let before = files(&out);
    study(folder.path(), &GATHER).refused(4, &["study.parquet, study.csv", "--replace"]);
    assert_eq!(fs::read(out.join("study.csv")).unwrap(), b"my notes");
    assert_eq!(files(&out), before, "left behind");
    fs::remove_dir(out.join("study.parquet")).unwrap();
    fs::remove_file(out.join("study.csv")).unwrap();
    #[cfg(unix)]
    {
        fs::write(folder.path().join("mine.csv"), "mine").unwrap();
        std::os::unix::fs::symlink("../mine.csv", out.join("study.csv")).unwrap();
        study(folder.path(), &GATHER).refused(4, &["study.csv"]);
        study(folder.path(), &[&GATHER[..], &["--replace"]].concat()).said();
        assert_eq!(fs::read(folder.path().join("mine.csv")).unwrap(), b"mine");
    }
}

#[test]
fn wherever_gathering_is_ended_what_it_left_is_its_own() {
    let mut plan = plan();
    plan["replicates"] = 1.into();
    let folder = begun(&plan);
    let out = folder.path().join("out");
    study(folder.path(), &["run", "plan.json", "--into", "out", "--shard", "1/2"]).said();
    study(folder.path(), &[&GATHER[..], &["--partial"]].concat()).said();
    // What was gathered of half of the blocks, with the list of then.
    let names = [&WRITTEN[..], &[".evenfall-gathered"]].concat();
    let half: Vec<Vec<u8>> = names.iter().map(|name| fs::read(out.join(name)).unwrap()).collect();
    run_all(folder.path(), "out", 1, "2");
    study(folder.path(), &GATHER).said();
    let whole = all(&out);
    let words = [&["study"], &GATHER[..]].concat();
    for step in 1.. {
        for (name, bytes) in names.iter().zip(&half) {
            fs::write(out.join(name), bytes).unwrap();
        }
        let mut gather = command(folder.path(), &words);
        let ended = gather.env("EVENFALL_FAULT", format!("die:{step}")).output().unwrap();
        study(folder.path(), &GATHER).said();
        assert!(whole == all(&out), "step {step}");
        // A build without faults goes through at once.
        if ended.status.success() {
            assert!(step > 15 || step == 1, "{step} steps");
            break;
        }
    }
}

#[test]
fn no_cell_of_a_study_or_of_seasons_begins_a_formula() {
    let mut scenario: Value = serde_json::from_str(&base()).unwrap();
    scenario["alternatives"][0]["name"] = "=1+1".into();
    let mut plan = plan();
    let titles = ["=cmd|' /C calc'!A0", "@SUM(1)", "+2+2", "North"];
    plan["factors"] = json!([
        { "name": "title", "pointer": "/title", "levels": titles },
        { "name": "seed", "pointer": "/seed", "levels": [3] }
    ]);
    plan["replicates"] = 1.into();
    let folder = begun(&plan);
    put(folder.path(), &scenario.to_string());
    run_all(folder.path(), "out", 1, "2");
    study(folder.path(), &GATHER).said();
    let rows = lines(&folder.path().join("out/study.csv"));
    for (point, title) in (1..).zip(titles) {
        let own = rows.iter().find(|row| row["point"] == point.to_string()).unwrap();
        let guarded = if title == "North" { title.to_owned() } else { format!("'{title}") };
        assert_eq!(own["factor_title"], guarded);
        assert_eq!((own["name"].as_str(), own["factor_seed"].as_str()), ("'=1+1", "3"));
        assert!(own["cu_percent"].parse::<f64>().is_ok(), "{own:?}");
    }
    let words = ["worth", "scenario.json", "--seasons", "2", "--into", "worth"];
    evenfall_in(folder.path(), &words).said();
    let seasons = lines(&folder.path().join("worth/seasons.csv"));
    assert!(seasons.iter().any(|row| row["name"] == "'=1+1"), "{seasons:?}");
    assert!(seasons.iter().all(|row| !row["name"].starts_with('=')));
}
