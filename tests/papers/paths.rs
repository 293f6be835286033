//! Every path named in the papers exists.

use evenfall_tests::{project_files, root};
use std::collections::BTreeSet;
use std::fs;

const PAPERS: [&str; 6] = [
    "README.md",
    "DEVELOPERS.md",
    "shared/reference/using.md",
    "shared/reference/figures.md",
    "shared/reference/limits.md",
    "shared/reference/known.md",
];

/// What a run writes, so that it is not found in the project.
const WRITTEN: [&str; 4] = ["evenfall-report", "pictures", "grids", "target"];

/// Words in back-ticks outside fenced blocks, with their line.
fn quoted(text: &str) -> Vec<(usize, &str)> {
    let mut fenced = false;
    let mut found = Vec::new();
    for (index, line) in text.lines().enumerate() {
        if line.trim_start().starts_with("```") {
            fenced = !fenced;
        } else if !fenced {
            found.extend(line.split('`').skip(1).step_by(2).map(|word| (index + 1, word)));
        }
    }
    found
}

/// Whether a quoted word is meant as a path of the project.
///
/// With a slash: if it starts in one of the project's folders or ends in a file's name; units such
/// as `mm/h` and JSON pointers such as `/field/cell` do not. Without: if it names a source file or
/// a paper.
fn looks_like_a_path(word: &str, tops: &BTreeSet<&str>) -> bool {
    let plain = |c: char| c.is_ascii_alphanumeric() || "._-/".contains(c);
    if word.starts_with(['/', '-']) || word.is_empty() || !word.chars().all(plain) {
        return false;
    }
    let ends_as = |endings: &[&str]| endings.iter().any(|ending| word.ends_with(ending));
    match word.split_once('/') {
        Some((first, _)) => {
            let file = ends_as(&[
                ".rs", ".md", ".toml", ".json", ".csv", ".CSV", ".py", ".html", ".svg", ".png",
            ]);
            !WRITTEN.contains(&first) && (file || word.ends_with('/') || tops.contains(first))
        }
        None => ends_as(&[".rs", ".md", ".toml"]),
    }
}

#[test]
fn every_path_named_in_the_papers_exists() {
    let files = project_files().unwrap();
    let tops: BTreeSet<&str> =
        files.iter().filter_map(|file| Some(file.split_once('/')?.0)).collect();
    let named_alone: BTreeSet<&str> =
        files.iter().filter_map(|file| file.rsplit('/').next()).collect();
    let (mut checked, mut missing) = (0, Vec::new());
    for paper in PAPERS {
        let text = fs::read_to_string(root().join(paper)).unwrap();
        for (line, word) in quoted(&text) {
            if looks_like_a_path(word, &tops) {
                if !root().join(word).exists() && !named_alone.contains(word) {
                    missing.push(format!("{paper}:{line}: `{word}`"));
                }
                checked += 1;
            }
        }
    }
    assert!(checked > 0, "the papers name no path");
    assert!(missing.is_empty(), "not there: {missing:#?}");
}

#[test]
fn what_looks_like_a_path_is_told_from_what_does_not() {
    let tops = BTreeSet::from(["crates", "data"]);
    for path in
        ["crates/core", "data/demo/scenario.json", "core/src/season.rs", "figures/", "main.rs"]
    {
        assert!(looks_like_a_path(path, &tops), "{path}");
    }
    for word in ["mm/h", "/field/cell", "--into", "evenfall-report/report.html", "cargo test", ""] {
        assert!(!looks_like_a_path(word, &tops), "{word}");
    }
}
