//! What a search found, for a terminal: sentences, then a table.

use super::{SearchScene, tables};
use crate::error::DrawError;
use crate::tables::Table;
use crate::units::UnitSystem;
use crate::worth::terminal::{aligned, folded};
use evenfall_core::search::Found;
use evenfall_core::season::Scenario;
use evenfall_core::worth::Terms;
use std::fmt::Write as _;

/// Most characters of a line of sentences.
const LINE: usize = 96;
/// Rows shown.
const ROWS: usize = 12;

/// The findings in sentences and tables, for a terminal. Ends with a line break.
///
/// # Errors
/// If nothing was ranked.
pub fn search_table(
    scenario: &Scenario,
    found: &Found,
    terms: Option<&Terms>,
    units: UnitSystem,
) -> Result<String, DrawError> {
    let scene = SearchScene::new(scenario, found, terms, units)?;
    let mut out = String::new();
    let paragraphs = [scene.answer()?, scene.tried()].concat();
    for line in paragraphs {
        out += &folded(&line.replace('\u{a0}', " "), LINE);
    }
    out.push('\n');
    let lines = scene.shown(ROWS);
    let mut head = vec![String::new(), "rank".to_owned()];
    head.extend(tables::heads(&scene));
    let mut rows = vec![head];
    for line in &lines {
        let mut row = vec![scene.short(&line.entry.candidate), line.rank()];
        row.extend(tables::cells(&scene, line)?);
        rows.push(row.into_iter().map(|text| text.replace('\u{a0}', " ")).collect());
    }
    out += &aligned(&rows);
    let left = found.entries.len().saturating_sub(lines.len());
    if left > 0 {
        // Writing to a String cannot fail.
        let _ = writeln!(out, "… and {left} more: see search.csv.");
    }
    let foot = format!(
        "A rank with = is shared: {}. Of those within that difference the simplest comes first. \
         “out 8”: dropped after 8 seasons as clearly worse, in order of how little. Day/night: whether \
         each place is watered in the same half of the day every time.",
        scene.ties()
    );
    out += &folded(&foot, LINE);
    if found.kinds.len() > 1 {
        out.push('\n');
        out += &plain(&tables::kinds(&scene)?);
    }
    if found.combos.len() > 1 {
        out.push('\n');
        out += &plain(&tables::combos(&scene)?);
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
