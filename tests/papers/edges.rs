//! The table of crates in DEVELOPERS.md is what cargo knows.

use evenfall_tests::root;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

type Edges = BTreeMap<String, BTreeSet<String>>;

/// Edges among the packages in `crates/` as cargo knows them; those of tests alone do not count.
fn edges_built() -> Edges {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--offline", "--format-version", "1"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let in_crates = |package: &&Value| {
        let manifest = Path::new(package["manifest_path"].as_str().unwrap());
        manifest.ancestors().nth(2).is_some_and(|folder| folder.ends_with("crates"))
    };
    let packages: Vec<&Value> =
        metadata["packages"].as_array().unwrap().iter().filter(in_crates).collect();
    let name = |value: &Value| value["name"].as_str().unwrap().to_owned();
    let members: BTreeSet<String> = packages.iter().copied().map(name).collect();
    let uses = |package: &Value| {
        let all = package["dependencies"].as_array().unwrap();
        let built = all.iter().filter(|one| one["kind"].is_null());
        built.map(name).filter(|name| members.contains(name)).collect()
    };
    packages.iter().copied().map(|package| (name(package), uses(package))).collect()
}

/// Edges of the table in DEVELOPERS.md whose head names the columns `crate` and `may use`. In a
/// cell crates stand in back-ticks; a cell without any is empty.
fn edges_told() -> Edges {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let cells = |line: &str| -> Vec<String> {
        line.trim().trim_matches('|').split('|').map(|cell| cell.trim().to_owned()).collect()
    };
    let column = |line: &str, head: &str| cells(line).iter().position(|cell| cell == head);
    let mut lines = text.lines();
    let head = lines
        .find(|line| column(line, "crate").is_some() && column(line, "may use").is_some())
        .expect("DEVELOPERS.md has no table with the columns `crate` and `may use`");
    let (name_at, uses_at) = (column(head, "crate").unwrap(), column(head, "may use").unwrap());
    let crates = |cell: &str| -> BTreeSet<String> {
        cell.split('`').skip(1).step_by(2).map(str::to_owned).collect()
    };
    let rows = lines.skip(1).take_while(|line| line.trim_start().starts_with('|'));
    rows.map(|line| {
        let cells = cells(line);
        let name = cells[name_at].trim_matches('`').to_owned();
        (name, crates(&cells[uses_at]))
    })
    .collect()
}

#[test]
fn the_table_of_crates_is_what_the_crates_use() {
    assert_eq!(edges_told(), edges_built());
}

#[test]
fn scenario_and_figures_never_meet_and_core_knows_no_one() {
    let edges = edges_built();
    assert!(edges["evenfall-core"].is_empty());
    assert!(!edges["evenfall-scenario"].contains("evenfall-figures"));
    assert!(!edges["evenfall-figures"].contains("evenfall-scenario"));
}
