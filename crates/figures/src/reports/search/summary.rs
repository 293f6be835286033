//! What a search found, for surfaces that lay it out themselves: the same words and digits as page
//! and terminal.

use super::{parts, tables};
use crate::scenes::{Line, SearchScene};
use crate::table::Table;
use evenfall_canvas::DrawError;
use evenfall_view::{SearchSummary, TextTable};
use serde_json::Value;

/// Texts without the spaces that keep number and unit together on a page.
fn all(texts: Vec<String>) -> Vec<String> {
    texts.into_iter().map(|text| text.replace('\u{a0}', " ")).collect()
}

fn as_text(table: &Table) -> TextTable {
    let rows = table.groups.iter().flat_map(|group| &group.rows);
    let rows = rows.map(|row| all([std::slice::from_ref(&row.name), &row.cells[..]].concat()));
    TextTable { head: table.head.clone(), rows: rows.collect() }
}

/// The search with about `most` rows, and each row's candidate as a part of a scenario file, to be
/// laid over the first alternative's own keys.
///
/// # Errors
/// If a candidate has no figures.
pub fn search_summary(
    scene: &SearchScene<'_>,
    most: usize,
) -> Result<(SearchSummary, Vec<Value>), DrawError> {
    let lines = scene.shown(most);
    let row = |line: &Line<'_>| {
        let first = vec![scene.short(&line.entry.candidate), line.rank()];
        Ok(all([first, tables::cells(scene, line)?].concat()))
    };
    let rows: Vec<Vec<String>> = lines.iter().map(row).collect::<Result<_, DrawError>>()?;
    let candidates = lines.iter().zip(&rows);
    let candidates = candidates
        .map(|(line, cells)| parts::alternative(scene, &line.entry.candidate, &cells[0]))
        .collect();
    let head = [vec![String::new(), "rank".to_owned()], tables::heads(scene)].concat();
    let summary = SearchSummary {
        answer: all(scene.answer()?),
        tried: all(scene.tried()),
        fixed: lines.iter().position(|line| line.at == 0),
        left: scene.found.entries.len().saturating_sub(rows.len()),
        wheels: match scene.found.combos.len() {
            0 | 1 => None,
            _ => Some(as_text(&tables::combos(scene)?)),
        },
        table: TextTable { head: all(head), rows },
        seasons: scene.found.finished,
        foot: format!(
            "A rank with = is shared: {}. Within a tie the simplest comes first. “out 8”: dropped \
             after 8 seasons as clearly worse, the closest first. Day/night: whether each place is \
             watered in the same half of the day every time.",
            scene.ties()
        ),
    };
    Ok((summary, candidates))
}

/// How far a search has come and what leads so far, in one sentence or two.
pub fn search_so_far(scene: &SearchScene<'_>) -> String {
    let found = scene.found;
    let (left, tried) = (found.ranking.len(), found.entries.len());
    let come = format!(
        "After {} of {} seasons {left} of {tried} rotations are left.",
        found.finished, found.options.seasons
    );
    let lines = scene.lines();
    let Some(best) = lines.first() else { return come };
    let value = best.ranked.map_or(f64::NAN, |ranked| ranked.mean);
    let words = format!(
        "{come} Best so far: {} ({}: {}).",
        scene.short(&best.entry.candidate),
        scene.aim_label(),
        scene.plain_text(value)
    );
    words.replace('\u{a0}', " ")
}
