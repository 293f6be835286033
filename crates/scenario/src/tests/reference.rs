//! The reference of the scenario's keys as a page of tables, kept in `shared/scenario-keys.md`.

use crate::{KEYS_ABOUT, KeyRow, reference};
use std::fmt::Write as _;

/// Every key with its label, what holds without it, its meaning and its limits, as Markdown.
pub(super) fn scenario_keys() -> String {
    let mut text = format!(
        "# Keys of a scenario file\n\nMade from the table of keys by `cargo xtask schema`; do not \
         edit. The program shows the same: `evenfall reference`.\n\n{KEYS_ABOUT}"
    );
    for section in reference() {
        // Writing to a String cannot fail.
        let _ = write!(
            text,
            "\n## `{}`\n\n{}\n\n| key | label | left out | meaning and limits |\n\
             | --- | --- | --- | --- |\n",
            section.name, section.about
        );
        for KeyRow { key, label, left_out, meaning } in &section.rows {
            let _ = writeln!(text, "| `{key}` | {label} | {left_out} | {meaning} |");
        }
    }
    text
}

#[test]
fn invariant_every_key_stands_in_the_reference_once_with_its_meaning() {
    let sections = reference();
    // Some values may be written in two forms; each has a section.
    for (at, section) in sections.iter().enumerate() {
        assert!(!sections[..at].contains(section), "{}", section.name);
        for (at, row) in section.rows.iter().enumerate() {
            assert!(!row.label.is_empty() && row.meaning.len() > 3, "{}: {row:?}", section.name);
            assert!(!section.rows[..at].iter().any(|other| other.key == row.key), "{row:?}");
        }
    }
    let rows: Vec<(&str, &KeyRow)> =
        sections.iter().flat_map(|s| s.rows.iter().map(|row| (&*s.name, row))).collect();
    assert!(rows.len() > 200, "{}", rows.len());
    let corners =
        rows.iter().find(|(section, row)| (*section, &*row.key) == ("field.boundary", "corners"));
    assert_eq!(corners.unwrap().1.left_out, "the polygon of the file");
}
