//! The lines of a catch-can file with the places of everything in them, so that problems point there.

use std::ops::Range;

/// A piece of the file, trimmed, without quotes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cell<'a> {
    pub(crate) text: &'a str,
    /// Bytes of the file.
    pub(crate) span: Range<usize>,
}

/// A row of the table.
#[derive(Clone, Debug)]
pub(crate) struct Row<'a> {
    /// Line, from 1.
    pub(crate) line: usize,
    pub(crate) cells: Vec<Cell<'a>>,
    /// The whole line.
    pub(crate) span: Range<usize>,
}

/// A line `# key: value`.
#[derive(Clone, Debug)]
pub(crate) struct Note<'a> {
    pub(crate) key: Cell<'a>,
    pub(crate) value: Cell<'a>,
}

/// A file cut up: notes, the header, rows under it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sheet<'a> {
    pub(crate) notes: Vec<Note<'a>>,
    pub(crate) header: Option<Row<'a>>,
    pub(crate) rows: Vec<Row<'a>>,
}

impl<'a> Sheet<'a> {
    /// Cuts `text` up. Cells stand between commas, or between semicolons or tabs where the header has
    /// those and no comma. A comment without a colon is passed over.
    pub(crate) fn of(text: &'a str) -> Self {
        let mut sheet = Self::default();
        let mut separator = ',';
        let mut start = 0;
        for (index, full) in text.split_inclusive('\n').enumerate() {
            let whole = start..start + full.len();
            start = whole.end;
            // Spreadsheets fill short lines up with separators.
            let line = full.trim_end_matches(['\n', '\r']);
            if let Some(comment) = line.trim_start().strip_prefix('#') {
                let from = whole.start + (line.len() - comment.len());
                let comment = comment.trim_end_matches([',', ';', '\t', ' ']);
                sheet.notes.extend(note(comment, from));
                continue;
            }
            if line.trim_matches([',', ';', '\t', ' ', '"']).is_empty() {
                continue;
            }
            if sheet.header.is_none() {
                let has = |c| line.contains(c);
                separator = match () {
                    () if has(',') => ',',
                    () if has(';') => ';',
                    () if has('\t') => '\t',
                    () => ',',
                };
            }
            let cells = cells(line, whole.start, separator);
            let row = Row { line: index + 1, cells, span: whole.start..whole.start + line.len() };
            match sheet.header {
                None => sheet.header = Some(row),
                Some(_) => sheet.rows.push(row),
            }
        }
        sheet
    }
}

fn note(comment: &str, from: usize) -> Option<Note<'_>> {
    let (key, value) = comment.split_once(':')?;
    let value_from = from + key.len() + 1;
    Some(Note { key: trimmed(key, from), value: trimmed(value, value_from) })
}

/// The cells of a line; a separator inside quotes belongs to its cell.
fn cells(line: &str, from: usize, separator: char) -> Vec<Cell<'_>> {
    let mut cells = Vec::new();
    let (mut start, mut quoted) = (0, false);
    for (at, c) in line.char_indices() {
        if c == '"' {
            quoted = !quoted;
        } else if c == separator && !quoted {
            cells.push(trimmed(&line[start..at], from + start));
            start = at + c.len_utf8();
        }
    }
    cells.push(trimmed(&line[start..], from + start));
    cells
}

fn trimmed(text: &str, from: usize) -> Cell<'_> {
    let stripped = |c: char| c.is_whitespace() || c == '"';
    let left = text.len() - text.trim_start_matches(stripped).len();
    let inner = text.trim_matches(stripped);
    Cell { text: inner, span: from + left.min(text.len())..from + left + inner.len() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_notes_header_rows_and_their_places() {
        let text = "# Test: leg,,\r\n# words only\r\n\r\nx_ft, \"y_ft\",depth_in\r\n0,1,\"0,5\"\r\n,,\r\n2,3,";
        let sheet = Sheet::of(text);
        assert_eq!(sheet.notes.len(), 1);
        assert_eq!((sheet.notes[0].key.text, sheet.notes[0].value.text), ("Test", "leg"));
        assert_eq!(&text[sheet.notes[0].value.span.clone()], "leg");
        let header = sheet.header.unwrap();
        assert_eq!(
            header.cells.iter().map(|c| c.text).collect::<Vec<_>>(),
            ["x_ft", "y_ft", "depth_in"]
        );
        assert_eq!(sheet.rows.iter().map(|r| r.line).collect::<Vec<_>>(), [5, 7]);
        assert_eq!(sheet.rows[0].cells[2].text, "0,5");
        assert_eq!(sheet.rows[1].cells[2].text, "");
        for cell in sheet.rows.iter().flat_map(|row| &row.cells) {
            assert_eq!(&text[cell.span.clone()], cell.text);
        }
    }

    #[test]
    fn closed_semicolons_and_tabs_separate_where_there_is_no_comma() {
        assert_eq!(Sheet::of("a;b\n1;2").rows[0].cells.len(), 2);
        assert_eq!(Sheet::of("a\tb\n1\t2").rows[0].cells.len(), 2);
        assert!(Sheet::of("").header.is_none());
    }
}
