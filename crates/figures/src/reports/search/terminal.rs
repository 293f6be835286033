//! What a search found, for a terminal: sentences, then a table.

use super::summary::search_summary;
use super::tables;
use crate::reports::worth::terminal::{aligned, folded};
use crate::scenes::SearchScene;
use crate::table::Table;
use evenfall_canvas::DrawError;
use std::fmt::Write as _;

/// Most characters of a line of sentences.
const LINE: usize = 96;
/// Rows shown.
const ROWS: usize = 12;

/// The findings in sentences and tables, for a terminal. Ends with a line break.
///
/// # Errors
/// If nothing was ranked.
pub fn search_table(scene: &SearchScene<'_>) -> Result<String, DrawError> {
    let (found, (told, _)) = (scene.found, search_summary(scene, ROWS)?);
    let mut out = String::new();
    for line in told.answer.iter().chain(&told.tried) {
        out += &folded(line, LINE);
    }
    out.push('\n');
    let rows = [vec![told.table.head], told.table.rows].concat();
    out += &aligned(&rows);
    if told.left > 0 {
        // Writing to a String cannot fail.
        let _ = writeln!(out, "… and {} more: see search.csv.", told.left);
    }
    out += &folded(&told.foot, LINE);
    if found.kinds.len() > 1 {
        out.push('\n');
        out += &plain(&tables::kinds(scene)?);
    }
    if found.combos.len() > 1 {
        out.push('\n');
        out += &plain(&tables::combos(scene)?);
    }
    Ok(out)
}

fn plain(table: &Table) -> String {
    let mut rows = vec![table.head.clone()];
    for row in table.groups.iter().flat_map(|group| &group.rows) {
        rows.push([vec![row.name.clone()], row.cells.clone()].concat());
    }
    for row in &mut rows {
        for text in row {
            *text = text.replace('\u{a0}', " ");
        }
    }
    aligned(&rows) + &folded(&table.note, LINE)
}
