//! The best of each kind and of each combination of wheel and spacing, and how combinations rank.
//!
//! A combination is judged by its best candidate. Which one that is has been picked for being best,
//! so the intervals between the combinations' bests are as wide as those between any two candidates
//! of the whole ranking: the choice costs nothing more. Combinations whose best candidates are the
//! same season (two identical wheels) have the same values and never rank apart.

use super::found::{ComboFound, Found};
use super::kinds::{Kind, KindFound, effort};
use super::layouts::Combo;
use crate::ensemble::{StatisticsError, mean_and_deviation};
use crate::paired::pair;
use crate::verdict::rank;

/// Every combination with its best among `live`.
pub(super) fn combos(
    found: &Found,
    combos: &[Combo],
    live: &[usize],
) -> Result<Vec<ComboFound>, StatisticsError> {
    let candidates = live.len();
    let best: Vec<Option<usize>> = (0..combos.len())
        .map(|combo| {
            let own = |at: usize| found.entries[at].candidate.combos.contains(&combo);
            found.ranking.iter().filter(|ranked| own(ranked.alternative)).fold(
                None,
                |best: Option<(usize, f64)>, ranked| match best {
                    Some((_, mean)) if mean >= ranked.mean => best,
                    _ => Some((ranked.alternative, ranked.mean)),
                },
            )
        })
        .map(|best| best.map(|(at, _)| at))
        .collect();
    let at_all: Vec<usize> = (0..combos.len()).filter(|combo| best[*combo].is_some()).collect();
    let values: Vec<&[f64]> = at_all
        .iter()
        .filter_map(|combo| best[*combo])
        .map(|at| found.entries[at].values.as_slice())
        .collect();
    let ranking = rank(&values, level_of(found, values.len(), candidates), found.least)?;
    let mut all = Vec::with_capacity(combos.len());
    for (index, combo) in combos.iter().enumerate() {
        let ranked = ranking.iter().find(|ranked| at_all[ranked.alternative] == index);
        all.push(ComboFound {
            combo: combo.clone(),
            best: best[index],
            tied: tied_with(found, live, index, best[index])?,
            rank: ranked.map(|ranked| ranked.rank),
            is_tied: ranked.is_some_and(|ranked| ranked.is_tied),
        });
    }
    Ok(all)
}

fn pairs(of: usize) -> f64 {
    (0.5 * of as f64 * of.saturating_sub(1) as f64).max(1.0)
}

/// Level of the combinations' ranking so that each of its pairs is judged as in the whole ranking.
fn level_of(found: &Found, combos: usize, candidates: usize) -> f64 {
    1.0 - (1.0 - found.ranking_level) * pairs(combos) / pairs(candidates.max(combos))
}

/// How many others of the combination are not clearly worse than its best.
fn tied_with(
    found: &Found,
    live: &[usize],
    combo: usize,
    best: Option<usize>,
) -> Result<usize, StatisticsError> {
    let Some(best) = best else { return Ok(0) };
    let each = 1.0 - (1.0 - found.ranking_level) / pairs(live.len());
    let mut tied = 0;
    for at in live.iter().filter(|at| **at != best) {
        let entry = &found.entries[*at];
        if entry.candidate.combos.contains(&combo) {
            let lead = pair(&found.entries[best].values, &entry.values, each)?;
            tied += usize::from(lead.figures.interval.low <= found.least);
        }
    }
    Ok(tied)
}

/// The best of every kind among `live`.
pub(super) fn kinds(
    found: &Found,
    asked: &[Kind],
    live: &[usize],
) -> Result<Vec<KindFound>, StatisticsError> {
    let mut all = Vec::with_capacity(asked.len());
    for kind in asked {
        let mut own = Vec::new();
        for at in live {
            let entry = &found.entries[*at];
            if kind.holds(&entry.candidate) {
                own.push((*at, mean_and_deviation(&entry.values)?.0));
            }
        }
        let Some(&(best, most)) = own.iter().max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
        else {
            continue;
        };
        let close = own.iter().filter(|(_, mean)| found.is_too_close(most, *mean));
        let simplest = close.min_by_key(|(at, _)| (effort(&found.entries[*at].candidate), *at));
        let simplest = simplest.map_or(best, |(at, _)| *at);
        all.push(KindFound { kind: *kind, best, simplest });
    }
    Ok(all)
}
