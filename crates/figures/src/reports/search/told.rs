//! What a search found, piece by piece, for surfaces that lay it out themselves: the same words and
//! digits as page and terminal.

use super::{parts, tables};
use crate::error::DrawError;
use crate::scenes::SearchScene;
use evenfall_core::model::Scenario;
use evenfall_core::search::Found;
use evenfall_core::worth::Economics;
use evenfall_view::units::UnitSystem;
use serde_json::Value;

/// What a search found, in words and texts.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchTold {
    /// The answer in paragraphs, the most important first.
    pub answer: Vec<String>,
    /// What was tried and what not, in paragraphs.
    pub tried: Vec<String>,
    /// Heads of the ranking's columns; the first, of the names, is empty.
    pub head: Vec<String>,
    /// The shown candidates in order.
    pub rows: Vec<CandidateTold>,
    /// Candidates that are not shown.
    pub left: usize,
    /// How ranks, ties and drops are to be read.
    pub foot: String,
}

/// One candidate.
#[derive(Clone, Debug, PartialEq)]
pub struct CandidateTold {
    /// Its name, rank and figures, under the heads.
    pub cells: Vec<String>,
    /// It is the fixed pattern that all are compared with.
    pub is_fixed: bool,
    /// Its part of a scenario file, to be laid over the first alternative's own keys.
    pub alternative: Value,
}

/// Tells what `found` found, with about `most` rows.
///
/// # Errors
/// If nothing was ranked.
pub fn search_told(
    scenario: &Scenario,
    found: &Found,
    economics: Option<&Economics>,
    units: UnitSystem,
    most: usize,
) -> Result<SearchTold, DrawError> {
    let scene = SearchScene::new(scenario, found, economics, units)?;
    let plain = |text: String| text.replace('\u{a0}', " ");
    let mut head = vec![String::new(), "rank".to_owned()];
    head.extend(tables::heads(&scene));
    let lines = scene.shown(most);
    let rows = lines.iter().map(|line| {
        let name = scene.short(&line.entry.candidate);
        let mut cells = vec![name.clone(), line.rank()];
        cells.extend(tables::cells(&scene, line)?);
        Ok(CandidateTold {
            cells: cells.into_iter().map(plain).collect(),
            is_fixed: line.at == 0,
            alternative: parts::alternative(&scene, &line.entry.candidate, &plain(name)),
        })
    });
    let rows: Vec<CandidateTold> = rows.collect::<Result<_, DrawError>>()?;
    Ok(SearchTold {
        answer: scene.answer()?.into_iter().map(plain).collect(),
        tried: scene.tried().into_iter().map(plain).collect(),
        head: head.into_iter().map(plain).collect(),
        left: found.entries.len().saturating_sub(rows.len()),
        rows,
        foot: format!(
            "A rank with = is shared: {}. Within a tie the simplest comes first. “out 8”: dropped \
             after 8 seasons as clearly worse, the closest first. Day/night: whether each place is \
             watered in the same half of the day every time.",
            scene.ties()
        ),
    })
}
