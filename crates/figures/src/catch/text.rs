//! Catch tests for a terminal.

use super::book::CatchBook;
use super::{details, judged, tables};
use crate::table::Table;
use std::fmt::Write as _;

/// Most characters of a line of words.
const LINE: usize = 100;

/// Every table, then what has to be known of each test. Ends with a line break.
pub fn catch_text(book: &CatchBook) -> String {
    let mut out = String::new();
    for table in tables::of_tests(book) {
        out += &laid_out(&table);
    }
    for entry in &book.entries {
        let own = details::of_test(book, entry, false);
        let judged = judged::sentence(entry, book.units);
        if own.is_empty() && entry.notes.is_empty() && judged.is_none() {
            continue;
        }
        // Writing to a String cannot fail, here and below.
        let _ = writeln!(out, "{} ({})", entry.test.title, entry.file);
        for table in &own {
            for line in laid_out(table).trim_end().lines() {
                let _ = writeln!(out, "  {line}");
            }
        }
        if let Some(sentence) = judged {
            out += &folded(&sentence, "  ", "  ");
        }
        for note in &entry.notes {
            out += &folded(note, "  Note: ", "        ");
        }
        out.push('\n');
    }
    out
}

/// A table in columns: the first two to the left, the rest to the right where they are numbers.
fn laid_out(table: &Table) -> String {
    let mut lines: Vec<Vec<String>> = vec![table.head.clone()];
    for row in table.groups.iter().flat_map(|group| &group.rows) {
        lines.push(std::iter::once(&row.name).chain(&row.cells).cloned().collect());
    }
    let columns = table.head.len();
    let count = |text: &str| text.chars().count();
    let width = |column: usize| {
        lines.iter().filter_map(|line| line.get(column)).map(|t| count(t)).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let is_number = |column: usize| {
        let mut cells = lines.iter().skip(1).filter_map(|line| line.get(column));
        cells.all(|t| t.chars().all(|c| c.is_ascii_digit() || "−–.() /".contains(c)))
    };
    let mut out = format!("{}\n", table.title);
    for line in &lines {
        let cells = line.iter().enumerate().map(|(column, text)| {
            let space = " ".repeat(widths[column].saturating_sub(count(text)));
            if column > 0 && is_number(column) { space + text } else { text.clone() + &space }
        });
        let row = cells.collect::<Vec<_>>().join("  ");
        let _ = writeln!(out, "  {}", row.trim_end());
    }
    if !table.note.is_empty() {
        out += &folded(&table.note, "  ", "  ");
    }
    out.push('\n');
    out
}

/// Words in lines, the first after `first`, the others after `rest`.
fn folded(words: &str, first: &str, rest: &str) -> String {
    let mut out = String::new();
    let mut line = first.to_owned();
    let mut fresh = true;
    for word in words.split_whitespace() {
        if !fresh && line.chars().count() + 1 + word.chars().count() > LINE {
            let _ = writeln!(out, "{}", line.trim_end());
            rest.clone_into(&mut line);
            fresh = true;
        }
        if !fresh {
            line.push(' ');
        }
        line += word;
        fresh = false;
    }
    out + &format!("{line}\n")
}
