//! What the program is built of: licenses that the project allows, and notices that go with the binary.
//!
//! `EVENFALL_KEEP_NOTICES=1` writes `shared/notices.txt` anew (`cargo xtask notices`).

use evenfall_tests::root;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::process::Command;

/// The kept text.
const NOTICES: &str = "shared/notices.txt";

/// What cargo knows of all packages.
fn metadata() -> Value {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let words = ["metadata", "--format-version", "1", "--locked"];
    let output = Command::new(cargo).args(words).current_dir(root()).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// The licenses that `cargo deny` is told to allow.
fn allowed() -> BTreeSet<String> {
    let config = fs::read_to_string(root().join("crates/xtask/deny.toml")).unwrap();
    let list = config.split_once("allow = [").unwrap().1.split_once(']').unwrap().0;
    let names = list.split(',').map(|one| one.trim().trim_matches('"').to_owned());
    names.filter(|name| !name.is_empty()).collect()
}

/// Parts of a license expression (SPDX) at a word that stands outside of brackets.
fn parts<'a>(expression: &'a str, word: &str) -> Vec<&'a str> {
    let (mut found, mut depth, mut from) = (Vec::new(), 0, 0);
    for (at, letter) in expression.char_indices() {
        match letter {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ if depth == 0 && at >= from && expression[at..].starts_with(word) => {
                found.push(&expression[from..at]);
                from = at + word.len();
            }
            _ => {}
        }
    }
    found.push(&expression[from..]);
    found
}

fn is_allowed(expression: &str, allowed: &BTreeSet<String>) -> bool {
    let expression = expression.trim();
    let each = |word: &str| parts(expression, word);
    if each(" OR ").len() > 1 {
        return each(" OR ").iter().any(|one| is_allowed(one, allowed));
    }
    if each(" AND ").len() > 1 {
        return each(" AND ").iter().all(|one| is_allowed(one, allowed));
    }
    let inner = expression.strip_prefix('(').and_then(|rest| rest.strip_suffix(')'));
    inner.map_or_else(|| allowed.contains(expression), |inner| is_allowed(inner, allowed))
}

/// The license of a package; an old way of writing "or" is a stroke.
fn license(package: &Value) -> String {
    package["license"].as_str().unwrap_or_default().replace('/', " OR ").replace("  ", " ")
}

#[test]
fn every_dependency_has_a_license_that_is_allowed() {
    let (metadata, allowed) = (metadata(), allowed());
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 100 && allowed.len() > 5, "{} {allowed:?}", packages.len());
    for package in packages {
        let license = license(package);
        assert!(is_allowed(&license, &allowed), "{}: {license}", package["name"]);
    }
    assert!(is_allowed("(MIT OR GPL-3.0-only) AND Zlib", &allowed));
    for refused in
        ["", "GPL-3.0-only", "MIT AND GPL-3.0-only", "(MIT AND SSPL-1.0) OR GPL-2.0-only"]
    {
        assert!(!is_allowed(refused, &allowed), "{refused}");
    }
}

/// The packages that are built into the binary, on any system: what it needs at run time, and theirs.
fn shipped(metadata: &Value) -> Vec<&Value> {
    let packages = metadata["packages"].as_array().unwrap();
    let by_id: BTreeMap<&str, &Value> =
        packages.iter().map(|one| (one["id"].as_str().unwrap(), one)).collect();
    let nodes = metadata["resolve"]["nodes"].as_array().unwrap();
    let needs: BTreeMap<&str, &Value> =
        nodes.iter().map(|one| (one["id"].as_str().unwrap(), &one["deps"])).collect();
    let first = packages.iter().find(|one| one["name"] == "evenfall").unwrap();
    let mut found = BTreeSet::new();
    let mut open = vec![first["id"].as_str().unwrap()];
    while let Some(id) = open.pop() {
        if !found.insert(id) {
            continue;
        }
        for need in needs[id].as_array().unwrap() {
            // A kind of null is one at run time.
            if need["dep_kinds"].as_array().unwrap().iter().any(|kind| kind["kind"].is_null()) {
                open.push(need["pkg"].as_str().unwrap());
            }
        }
    }
    let mut all: Vec<&Value> = found.into_iter().map(|id| by_id[id]).collect();
    all.retain(|one| !one["source"].is_null());
    all.sort_by_key(|one| (one["name"].to_string(), one["version"].to_string()));
    all
}

/// The license texts in a folder: of those that may be chosen, the shortest; all where all hold.
fn texts(folder: &Path, all_hold: bool) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let named = |path: &Path| path.file_name().unwrap().to_string_lossy().to_uppercase();
    let is_text = |path: &Path| {
        let name = named(path);
        let starts =
            ["LICEN", "COPYING", "UNLICENSE", "NOTICE"].iter().any(|start| name.starts_with(start));
        starts && path.is_file()
    };
    let mut paths: Vec<_> = entries.filter(|path| is_text(path)).collect();
    paths.sort();
    let read = |path: &Path| {
        let text = String::from_utf8_lossy(&fs::read(path).unwrap()).replace('\r', "");
        let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
        lines.join("\n").trim().to_owned()
    };
    let (notices, licenses): (Vec<_>, Vec<_>) =
        paths.into_iter().partition(|path| named(path).starts_with("NOTICE"));
    let each = licenses.iter().map(|path| read(path)).filter(|text| !text.is_empty());
    let mut all: Vec<String> =
        if all_hold { each.collect() } else { each.min_by_key(String::len).into_iter().collect() };
    all.extend(notices.iter().map(|path| read(path)));
    all
}

/// A library with its license, and where its texts lie.
fn listed(all: &[(String, std::path::PathBuf)]) -> String {
    let mut by_text: BTreeMap<Vec<String>, Vec<&str>> = BTreeMap::new();
    for (name, folder) in all {
        by_text.entry(texts(folder, name.contains(" AND "))).or_default().push(name);
    }
    let mut groups: Vec<_> = by_text.into_iter().collect();
    groups.sort_by(|one, other| one.1.cmp(&other.1));
    let mut text = String::new();
    for (texts, names) in groups {
        let rule = "=".repeat(80);
        let _ = writeln!(text, "{rule}\n{}\n", names.join("\n"));
        if texts.is_empty() {
            text += "(its package holds no text of the license)\n\n";
        }
        for one in texts {
            let _ = writeln!(text, "{one}\n");
        }
    }
    text
}

fn notices(metadata: &Value) -> String {
    let crates = shipped(metadata).into_iter().map(|package| {
        let word = |key: &str| package[key].as_str().unwrap().to_owned();
        let folder = Path::new(&word("manifest_path")).parent().unwrap().to_owned();
        (format!("{} {} ({})", word("name"), word("version"), license(package)), folder)
    });
    format!(
        "Libraries that the program is built with, and their licenses. Where a choice is given, Evenfall \
         takes the one whose text follows. Evenfall itself: MIT OR Apache-2.0.\n\n{}",
        listed(&crates.collect::<Vec<_>>())
    )
}

#[test]
fn the_kept_notices_are_current() {
    let written = notices(&metadata());
    let file = root().join(NOTICES);
    if std::env::var_os("EVENFALL_KEEP_NOTICES").is_some() {
        fs::write(&file, &written).unwrap();
    }
    let kept = fs::read_to_string(&file).unwrap_or_default();
    assert!(kept == written, "{NOTICES} is not current: run `cargo xtask notices`");
}
