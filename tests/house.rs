//! House rules that no lint knows.

use evenfall_tests::{project_files, root};
use std::fs;
use std::io;

/// Lines of a source file at most.
const MOST_LINES: usize = 400;

fn text(file: &str) -> io::Result<String> {
    fs::read_to_string(root().join(file))
}

/// Files whose name ends so, in the case that it is written in everywhere.
fn of_kind(files: &[String], ending: &str) -> Vec<String> {
    let ends = |file: &&String| file.as_bytes().ends_with(ending.as_bytes());
    files.iter().filter(ends).cloned().collect()
}

#[test]
fn no_source_file_is_over_four_hundred_lines() {
    let files = project_files().unwrap();
    let sources = of_kind(&files, ".rs");
    assert!(sources.len() > 50, "only {} sources found", sources.len());
    for file in sources {
        let lines = text(&file).unwrap().lines().count();
        assert!(lines <= MOST_LINES, "{file} has {lines} lines");
    }
}

#[test]
fn unsafe_code_is_forbidden_in_every_package() {
    assert!(text("Cargo.toml").unwrap().contains("unsafe_code = \"forbid\""));
    let files = project_files().unwrap();
    let manifests = of_kind(&files, "/Cargo.toml");
    assert!(manifests.len() >= 7, "{manifests:?}");
    for file in manifests {
        assert!(
            text(&file).unwrap().contains("[lints]\nworkspace = true"),
            "{file} goes without the lints"
        );
    }
}

#[test]
fn no_file_holds_a_promise_or_a_path_of_one_machine() {
    // In two halves, so that this file holds none itself.
    let words =
        [("TO", "DO"), ("FIX", "ME"), ("XX", "X:"), ("/wo", "rk/"), ("/ro", "ot/"), ("/ho", "me/")];
    let words = words.map(|(start, end)| format!("{start}{end}"));
    let endings =
        [".rs", ".md", ".toml", ".json", ".html", ".py", ".sh", ".txt", ".lock", ".yml", "run"];
    for file in project_files().unwrap() {
        if !endings.iter().any(|ending| file.ends_with(ending)) {
            continue;
        }
        for (index, line) in text(&file).unwrap().lines().enumerate() {
            for word in &words {
                assert!(!line.contains(word.as_str()), "{file}:{}: {line}", index + 1);
            }
        }
    }
}

#[test]
fn what_computes_asks_the_machine_for_nothing() {
    let rooms = ["core", "scenario", "view", "figures", "study"];
    let rooms = rooms.map(|room| format!("crates/{room}/src/"));
    let machine = ["env", "fs", "net", "process", "time"].map(|part| format!("std::{part}"));
    let files = of_kind(&project_files().unwrap(), ".rs");
    let sources = files.iter().filter(|file| {
        rooms.iter().any(|room| file.starts_with(room.as_str())) && !file.contains("tests")
    });
    let mut looked_at = 0;
    for file in sources {
        looked_at += 1;
        for (index, line) in text(file).unwrap().lines().enumerate() {
            for part in &machine {
                assert!(!line.contains(part.as_str()), "{file}:{}: {line}", index + 1);
            }
        }
    }
    assert!(looked_at > 200, "only {looked_at} sources found");
}

#[test]
fn every_folder_of_data_names_its_source() {
    for entry in fs::read_dir(root().join("data")).unwrap() {
        let folder = entry.unwrap().path();
        let source = fs::read_to_string(folder.join("SOURCE.md")).unwrap_or_default();
        assert!(source.contains("icense"), "{} has no source or no license", folder.display());
    }
}

#[test]
fn no_limit_of_an_option_stands_in_the_command_line() {
    let files = project_files().unwrap();
    let sources = files.iter().filter(|file| file.starts_with("crates/cli/src/"));
    for file in sources {
        for (index, line) in text(file).unwrap().lines().enumerate() {
            let is_range = line.contains("value_parser!") && line.contains(".range(");
            assert!(
                !is_range,
                "{file}:{}: limits stand in crates/scenario/src/limits.rs",
                index + 1
            );
        }
    }
}
