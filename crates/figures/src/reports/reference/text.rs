//! The reference for a terminal.

use crate::reports::study::broken;
use evenfall_view::{Reference, ReferenceSection};
use std::fmt::Write as _;

/// Widest line.
const WIDTH: usize = 92;

/// Everything in the reference, as text.
pub fn reference_text(all: &Reference) -> String {
    // Writing to a String cannot fail.
    let mut out = String::new();
    for chapter in &all.chapters {
        let _ = writeln!(out, "{}\n", chapter.title.to_uppercase());
        for (title, text) in &chapter.parts {
            let head = if title.is_empty() { String::new() } else { format!("{title}\n\n") };
            let _ = writeln!(out, "{head}{}\n", text.trim());
        }
    }
    sections(&mut out, "KEYS OF A SCENARIO", all.keys_about.trim(), &all.keys);
    sections(&mut out, "COMMANDS", "", &all.commands);
    out.trim_end().to_owned() + "\n"
}

fn sections(out: &mut String, title: &str, about: &str, all: &[ReferenceSection]) {
    if all.is_empty() {
        return;
    }
    let _ = writeln!(out, "{title}\n");
    if !about.is_empty() {
        let _ = writeln!(out, "{about}\n");
    }
    for section in all {
        let label = if section.label.is_empty() { "" } else { "  " };
        let _ = writeln!(out, "{}{label}{}", section.name, section.label);
        indented(out, "  ", &section.about);
        for row in &section.rows {
            let label = if row.label.is_empty() { "" } else { "  " };
            let _ = writeln!(out, "\n  {}{label}{}", row.name, row.label);
            indented(out, "      ", &row.meaning);
            if !row.left_out.is_empty() {
                indented(out, "      ", &left_out(&row.left_out));
            }
        }
        out.push('\n');
    }
}

/// What holds without a key, in a sentence.
pub(super) fn left_out(words: &str) -> String {
    match words {
        "needed" => "Needed.".to_owned(),
        words => format!("Left out: {}.", words.trim_end_matches('.')),
    }
}

/// Paragraphs, each folded and set in; lines that are set in already stay as they are.
fn indented(out: &mut String, margin: &str, text: &str) {
    for paragraph in text.split('\n').filter(|line| !line.trim().is_empty()) {
        if paragraph.starts_with("    ") {
            let _ = writeln!(out, "{margin}{}", paragraph.trim_end());
            continue;
        }
        for line in broken(paragraph, WIDTH - margin.len()) {
            let _ = writeln!(out, "{margin}{line}");
        }
    }
}
