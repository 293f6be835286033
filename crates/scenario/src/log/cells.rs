//! A table as spreadsheets and phones save it, cut into rows and cells that know where they stand.
//!
//! RFC 4180 with what is met beside it: commas, semicolons or tabs, whichever the head has most of;
//! a byte order mark; any ends of lines; a first line `sep=;`. A quoted cell may hold separators,
//! ends of lines, and quotes written twice.

use crate::place::At;
use std::ops::Range;

/// A cell, trimmed and without its quotes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Cell {
    pub(super) text: String,
    /// Bytes of the file.
    pub(super) span: Range<usize>,
}

/// A row with something in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Row {
    /// Number as a spreadsheet counts, the head being row 1 where the file begins with it.
    pub(super) number: usize,
    pub(super) cells: Vec<Cell>,
}

impl Row {
    /// The cell of column `index`; an empty one at the row's end where the row is short.
    pub(super) fn cell(&self, index: usize) -> Cell {
        let end = self.cells.last().map_or(0, |cell| cell.span.end);
        let short = || Cell { text: String::new(), span: end..end };
        self.cells.get(index).cloned().unwrap_or_else(short)
    }

    /// Where the row begins.
    pub(super) fn at(&self) -> At {
        let start = self.cells.first().map_or(0, |cell| cell.span.start);
        let end = self.cells.last().map_or(start, |cell| cell.span.end);
        At { span: start..end, pointer: format!("row {}", self.number) }
    }
}

/// All rows of `text` that hold something.
pub(super) fn rows(text: &str) -> Vec<Row> {
    let (mut start, mut number) = (text.len() - body(text).len(), 0);
    let mut separator = separator(first_line(&text[start..]));
    let mut rows = Vec::new();
    while start < text.len() {
        let (cells, next) = row(text, start, separator);
        start = next;
        if number == 0 && rows.is_empty() && cells[0].text.starts_with("sep=") {
            // A line for one spreadsheet program only, which does not show it as a row.
            let told = text[cells[0].span.clone()].chars().nth("sep=".len());
            separator = told.filter(|told| SEPARATORS.contains(told)).unwrap_or(separator);
            continue;
        }
        number += 1;
        if cells.iter().any(|cell| !cell.text.is_empty()) {
            rows.push(Row { number, cells });
        }
    }
    rows
}

const SEPARATORS: [char; 3] = [',', ';', '\t'];

/// The text without a byte order mark.
pub(super) fn body(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

fn first_line(text: &str) -> &str {
    text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default()
}

/// What the head has most of.
fn separator(head: &str) -> char {
    let count = |separator: &char| head.chars().filter(|c| c == separator).count();
    // The first of equals: `max_by_key` would take the last.
    SEPARATORS.into_iter().rev().max_by_key(count).unwrap_or(',')
}

/// The cells of the row that begins at `start`, and where the next one begins.
fn row(text: &str, start: usize, separator: char) -> (Vec<Cell>, usize) {
    let mut cells = Vec::new();
    let (mut from, mut quoted) = (start, false);
    for (offset, c) in text[start..].char_indices() {
        let at = start + offset;
        if c == '"' {
            quoted = !quoted;
        } else if !quoted && c == separator {
            cells.push(cell(text, from..at));
            from = at + c.len_utf8();
        } else if !quoted && c == '\n' {
            cells.push(cell(text, from..at));
            return (cells, at + 1);
        }
    }
    cells.push(cell(text, from..text.len()));
    (cells, text.len())
}

fn cell(text: &str, span: Range<usize>) -> Cell {
    let raw = &text[span.clone()];
    let left = raw.len() - raw.trim_start().len();
    let inner = raw.trim();
    let span = span.start + left..span.start + left + inner.len();
    let unquoted = inner.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'));
    let text = unquoted.map_or_else(|| inner.to_owned(), |inner| inner.replace("\"\"", "\""));
    // Sheets are written with spaces that do not break, and what would be a formula with an apostrophe.
    let text = text.replace('\u{a0}', " ");
    let formula = text.strip_prefix('\'').filter(|rest| rest.starts_with(['=', '+', '-', '@']));
    Cell { text: formula.unwrap_or(&text).trim().to_owned(), span }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<(usize, Vec<String>)> {
        let cells = |row: Row| row.cells.into_iter().map(|cell| cell.text).collect();
        rows(text).into_iter().map(|row| (row.number, cells(row))).collect()
    }

    #[test]
    fn closed_every_way_of_saving_gives_the_same_cells() {
        let head = || vec!["pass".to_owned(), "notes".to_owned()];
        let row = |text: &str| vec!["1".to_owned(), text.to_owned()];
        let wanted = vec![(1, head()), (3, row("late"))];
        for text in [
            "pass,notes\n,\n1,late\n",
            "\u{feff}pass;notes\r\n;\r\n1;late\r\n",
            "sep=;\npass;notes\n;\n1;\"late\"",
            "pass\tnotes\n\n 1 \t late ",
        ] {
            assert_eq!(texts(text), wanted, "{text:?}");
        }
    }

    #[test]
    fn closed_quotes_keep_separators_line_ends_and_quotes() {
        let text = "pass,notes\n1,\"a, b\nsaid \"\"no\"\"\"\n2,c";
        let found = texts(text);
        assert_eq!(found[1], (2, vec!["1".to_owned(), "a, b\nsaid \"no\"".to_owned()]));
        assert_eq!(found[2].0, 3);
        let rows = rows(text);
        assert_eq!(&text[rows[2].cells[1].span.clone()], "c");
        assert_eq!(rows[2].cell(7).text, "");
    }
}
