//! The answer's paragraphs on worth, the verdict first.

use super::verdict_words::{quoted, seasons};
use super::{Rival, WorthScene};
use crate::units::{Quantity, number, percent};
use evenfall_core::seasons::SeasonFigures;

/// The paragraphs, the most important first; each stands alone.
pub(crate) fn answer(scene: &WorthScene<'_>) -> Vec<String> {
    let mut out = Vec::new();
    let Some((best, others)) = scene.rivals.split_first() else {
        out.push(format!(
            "There is nothing to compare {} with: one alternative alone neither pays nor costs.",
            quoted(scene.baseline())
        ));
        out.push(seasons(scene));
        return out;
    };
    out.push(scene.headline(best));
    if scene.is_partial() {
        out.push(seasons(scene));
    }
    out.extend(details(scene, best));
    for other in others {
        let lines = [vec![scene.headline(other)], scene.settling(other)].concat();
        out.push(lines.join(" "));
    }
    out.extend(ranking(scene));
    out.extend(scene.placeholders());
    out.extend(scene.left_out());
    if !scene.is_partial() {
        out.push(seasons(scene));
    }
    out
}

/// The paragraphs on the best rival.
fn details(scene: &WorthScene<'_>, rival: &Rival<'_>) -> Vec<String> {
    let settling = scene.settling(rival).join(" ");
    let chance = scene.chance(rival).filter(|_| scene.is_valued());
    let money: Vec<String> =
        [chance, scene.together(rival), scene.payback(rival)].into_iter().flatten().collect();
    let crop =
        [Some(scene.crop(rival)), kept(scene, rival)].into_iter().flatten().collect::<Vec<_>>();
    let all = [settling, money.join(" "), crop.join(" ")];
    all.into_iter().filter(|text| !text.is_empty()).collect()
}

/// What the crop keeps of what the map of depth promises.
fn kept(scene: &WorthScene<'_>, rival: &Rival<'_>) -> Option<String> {
    let kept = rival.against.kept?;
    let promised = "Of the yield gain that the season’s map of depth promises for the interior";
    let keeps = format!("{promised} the crop keeps {}", percent(kept, 0));
    Some(if kept < -0.005 {
        format!("{promised} the crop keeps nothing: it changes the other way.")
    } else if kept < 1.005 {
        format!("{keeps}.")
    } else {
        format!("{keeps}: {}", more_than_promised(scene, rival))
    })
}

/// Why the gain may be more than the map promises though each yield is less.
fn more_than_promised(scene: &WorthScene<'_>, rival: &Rival<'_>) -> String {
    let both = |of: fn(&SeasonFigures) -> f64| {
        [0, rival.index].map(|index| number(100.0 * scene.mean(index, of), 1)).join(" and ")
    };
    format!(
        "the map counts all water of the season and the soil’s store as usable, so that only the \
         driest places are short, but day by day more places are, and evener water helps them all \
         (of full yield, the map promises {} %, the crop makes {} %).",
        both(|f| f.yield_promised),
        both(|f| f.yield_interior)
    )
}

/// Who is best, and who cannot be told from whom; `None` with one rival only.
fn ranking(scene: &WorthScene<'_>) -> Option<String> {
    let ranking = &scene.worth.ranking;
    if ranking.len() < 3 {
        return None;
    }
    let names = scene.site.names();
    let mut ranks: Vec<(usize, Vec<String>)> = Vec::new();
    for ranked in ranking {
        let name = quoted(names[ranked.alternative].1);
        match ranks.last_mut().filter(|(rank, _)| *rank == ranked.rank) {
            Some((_, tied)) => tied.push(name),
            None => ranks.push((ranked.rank, vec![name])),
        }
    }
    let each = ranks.iter().map(|(rank, tied)| match tied.len() {
        1 => format!("{rank}. {}", tied[0]),
        _ => format!("{rank}. {} (too close to matter or to tell apart)", tied.join(", ")),
    });
    let by = ranked_by(scene);
    Some(format!("In order of {by}: {}.", each.collect::<Vec<_>>().join("; ")))
}

/// What the ranking goes by.
pub(super) fn ranked_by(scene: &WorthScene<'_>) -> &'static str {
    if scene.worth.ranked_by_money { "net return" } else { "yield of the field’s worst tenth" }
}

/// Limits of what is said about worth.
pub(crate) fn limits(scene: &WorthScene<'_>) -> Vec<String> {
    let area = scene.units().text(Quantity::Area, scene.site.scenario.field.area().m2(), 1);
    vec![
        format!(
            "Yield comes from a daily water balance of each place and a straight line from water \
             missed to yield lost. Disease, nutrients and quality are left out, though uneven water \
             moves them too. Money is for the field of {area}, without tax, repair and resale, at \
             prices that never change."
        ),
        "Uniformity of evenness, maps of depth and tables of passes show one season; verdict, yield \
         and money rest on all seasons that were finished."
            .to_owned(),
        "The interval knows the weather’s noise only. What crop, soil and prices are wrong by is \
         not in it; for prices, see what the verdict hangs on."
            .to_owned(),
    ]
}
