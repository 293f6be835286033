//! Keeping a farm while the disk fails at any step, once or from then on: what was kept before is there
//! or what was to be kept is, never a mixture, and the next keep works.

use super::tests::{again, begun, farms, windy};
use super::*;
use crate::disk;
use tempfile::TempDir;

const BEFORE: (&str, &[(&str, &str)]) = ("wind.csv", &[("wind.csv", "one")]);
const AFTER: &[(&str, &str)] = &[("wind.csv", "two"), ("edge.json", "{}")];

fn before() -> String {
    windy(1, BEFORE.0)
}

fn after() -> String {
    windy(2, "wind.csv").replace("\"seed\"", "\"edge\": { \"file\": \"edge.json\" }, \"seed\"")
}

/// Keeps anew with a fault at step `at`; whether the fault was reached.
fn keep_with_fault(at: usize, stays: bool) -> bool {
    let home = TempDir::new().unwrap();
    let first = begun(&farms(&home), "A", &before(), BEFORE.1);
    disk::arm(at, stays);
    let told = again(&farms(&home), &first, &after(), AFTER);
    let was_reached = disk::disarm();
    let found = farms(&home).open("a").unwrap();
    let is_before = found.scenario == before() && found.files["wind.csv"] == "one";
    let is_after = found.scenario == after()
        && found.files["wind.csv"] == "two"
        && found.files["edge.json"] == "{}";
    assert!(is_before || is_after, "step {at}: a mixture: {found:?}");
    match told {
        Ok(_) => assert!(is_after, "step {at}: told to be kept, and is not"),
        Err(FarmFail::Disk(words)) => {
            assert!(words.contains("a fault that a test asked for"), "{words}");
        }
        Err(other) => panic!("step {at}: {other:?}"),
    }
    // The first version is there whatever happened, and the next keep works by itself.
    let versions = farms(&home).versions("a").unwrap();
    let oldest = &versions.last().unwrap().version;
    let next = again(&farms(&home), &found.kept, &windy(3, "wind.csv"), &[("wind.csv", "three")]);
    assert!(next.is_ok(), "step {at}: {next:?}");
    assert_eq!(farms(&home).go_back("a", oldest).unwrap().scenario, before(), "step {at}");
    let all = crate::whole::inside(&home.path().join("farms/a/versions")).unwrap();
    let is_left = |(name, is_folder): &(String, bool)| *is_folder && name.starts_with('.');
    assert!(!all.iter().any(is_left), "step {at}: {all:?}");
    was_reached
}

#[test]
fn a_keep_that_fails_at_any_step_loses_nothing() {
    for stays in [false, true] {
        let steps = (0..10_000).take_while(|at| keep_with_fault(*at, stays)).count();
        assert!(steps > 15, "only {steps} steps were tried");
    }
}

#[test]
fn a_new_farm_that_fails_at_any_step_is_there_whole_or_not_at_all() {
    for stays in [false, true] {
        for at in 0..1000 {
            let home = TempDir::new().unwrap();
            disk::arm(at, stays);
            let wanted = FarmToKeep {
                name: "A".to_owned(),
                scenario: before(),
                files: [("wind.csv".to_owned(), "one".to_owned())].into(),
                ..FarmToKeep::default()
            };
            let told = farms(&home).keep(&wanted);
            let was_reached = disk::disarm();
            match farms(&home).open("a") {
                Ok(found) => assert_eq!(found.scenario, before()),
                Err(FarmFail::Unknown(_)) => assert!(told.is_err(), "step {at}: lost"),
                Err(other) => panic!("step {at}: {other:?}"),
            }
            begun(&farms(&home), "B", &before(), BEFORE.1);
            if !was_reached {
                assert!(told.is_ok() && at > 10);
                break;
            }
        }
    }
}
