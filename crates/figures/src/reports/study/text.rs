//! Tables and words for a terminal.

use crate::table::Table;
use std::fmt::Write as _;

/// Widest line of words.
const WIDTH: usize = 96;
/// Widest line of a head, where its words allow.
const NARROW: usize = 9;

/// A table in columns, the first flush left.
pub(super) fn plain(table: &Table) -> String {
    let rows = || table.groups.iter().flat_map(|group| &group.rows);
    let count = |text: &str| text.chars().count();
    let first = rows().map(|row| count(&row.name)).max().unwrap_or(0);
    // Heads are broken into lines, so that they are hardly wider than the numbers below.
    let heads: Vec<Vec<String>> =
        table.head.iter().skip(1).map(|head| broken(head, NARROW)).collect();
    let width = |column: usize| {
        let cells = rows().filter_map(|row| row.cells.get(column)).map(|cell| count(cell));
        let head = heads.get(column).into_iter().flatten().map(|line| count(line));
        cells.chain(head).max().unwrap_or(0)
    };
    let line = |name: &str, cells: &[String]| {
        let mut line = format!("{name:<first$}");
        for (column, cell) in cells.iter().enumerate() {
            // Writing to a String cannot fail.
            let _ = write!(line, "  {cell:>wide$}", wide = width(column));
        }
        line.trim_end().to_owned() + "\n"
    };
    let lines = heads.iter().map(Vec::len).max().unwrap_or(0);
    let mut text = String::new();
    for at in 0..lines {
        let cell = |head: &Vec<String>| {
            let skipped = lines - head.len();
            at.checked_sub(skipped).and_then(|at| head.get(at)).cloned().unwrap_or_default()
        };
        text.push_str(&line("", &heads.iter().map(cell).collect::<Vec<_>>()));
    }
    for row in rows() {
        text.push_str(&line(&row.name, &row.cells));
    }
    text
}

/// Words broken into lines.
pub(super) fn folded(words: &str) -> String {
    broken(words, WIDTH).join("\n")
}

/// Words in lines of at most `width` letters, where words allow.
pub(crate) fn broken(words: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + word.chars().count() < width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::Row;

    #[test]
    fn closed_a_table_stands_in_columns_with_broken_heads() {
        let rows = vec![Row::new("one", vec!["1".into(), "22".into()])];
        let table = Table::new("", &["", "Gross water", "B"]).with_rows(rows);
        assert_eq!(plain(&table), "     Gross\n     water   B\none      1  22\n");
    }
}
