//! What a search found, for surfaces that lay it out themselves: the same words and digits as page
//! and terminal.

use super::{parts, tables};
use crate::error::DrawError;
use crate::scenes::{Line, SearchScene};
use evenfall_view::{SearchSummary, TextTable};
use serde_json::Value;

/// The search with about `most` rows, and each row's candidate as a part of a scenario file, to be
/// laid over the first alternative's own keys.
///
/// # Errors
/// If a candidate has no figures.
pub fn search_summary(
    scene: &SearchScene<'_>,
    most: usize,
) -> Result<(SearchSummary, Vec<Value>), DrawError> {
    let plain = |text: String| text.replace('\u{a0}', " ");
    let all = |texts: Vec<String>| -> Vec<String> { texts.into_iter().map(plain).collect() };
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
