//! The answer's paragraphs on worth, the verdict first.

use super::sentences::quoted;
use super::source::{Rival, Source};
use crate::units::{Quantity, number, percent};
use evenfall_core::money::PerArea;
use evenfall_core::season::HoursLaid;
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::worth::{HalfWidth, Reached};

/// The paragraphs, the most important first; each stands alone.
pub(super) fn answer(source: &Source<'_>) -> Vec<String> {
    let mut out = Vec::new();
    let rivals = source.rivals();
    let Some((best, others)) = rivals.split_first() else {
        out.push(format!(
            "There is nothing to compare {} with. Add an alternative to see whether it pays.",
            quoted(source.baseline())
        ));
        out.push(seasons(source));
        return out;
    };
    out.push(source.headline(best));
    out.extend(source.plan_beside(best));
    if source.is_partial() {
        out.push(seasons(source));
    }
    out.extend(details(source, best));
    for other in others {
        let lines = [vec![source.headline(other)], source.settling(other)].concat();
        out.push(lines.join(" "));
    }
    out.extend(ranking(source));
    out.extend(source.placeholders());
    if !source.is_partial() {
        out.push(seasons(source));
    }
    out
}

/// The paragraphs on the best rival.
fn details(source: &Source<'_>, rival: &Rival<'_>) -> Vec<String> {
    let settling = source.settling(rival).join(" ");
    let chance = source.chance(rival).filter(|_| rival.against.is_valued());
    let money: Vec<String> =
        [chance, source.certainty(rival), Source::payback(rival)].into_iter().flatten().collect();
    let crop = [Some(source.crop(rival)), realized_share(source, rival)]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>();
    let all = [settling, money.join(" "), crop.join(" ")];
    all.into_iter().filter(|text| !text.is_empty()).collect()
}

/// How much of what the map of depth promises the crop realizes.
fn realized_share(source: &Source<'_>, rival: &Rival<'_>) -> Option<String> {
    let share = rival.against.realized_share?;
    let promised = "of the yield gain that the season’s map of depth promises for the interior";
    Some(if share < -0.005 {
        format!("The crop realizes none {promised}: its yield changes the other way.")
    } else if share < 1.005 {
        format!("The crop realizes {} {promised}.", percent(share, 0))
    } else {
        let why = more_than_promised(source, rival);
        format!("The crop realizes {} {promised}: {why}", percent(share, 0))
    })
}

/// Why the gain may be more than the map promises though each yield is less.
fn more_than_promised(source: &Source<'_>, rival: &Rival<'_>) -> String {
    let both = |of: fn(&SeasonFigures) -> f64| {
        [0, rival.index].map(|index| number(100.0 * source.mean(index, of), 1)).join(" and ")
    };
    format!(
        "the map counts all water of the season and the soil’s store as usable, so only the driest \
         places run short in it; day by day more places do, and more uniform water helps them all \
         (of full yield, the map promises {} %, the crop makes {} %).",
        both(|f| f.yield_promised),
        both(|f| f.yield_interior)
    )
}

/// Who is best, and who ties with whom; `None` with one rival only.
fn ranking(source: &Source<'_>) -> Option<String> {
    let ranking = &source.worth.ranking;
    if ranking.len() < 3 {
        return None;
    }
    let mut ranks: Vec<(usize, Vec<String>)> = Vec::new();
    for ranked in ranking {
        let name = quoted(source.name(ranked.alternative));
        match ranks.last_mut().filter(|(rank, _)| *rank == ranked.rank) {
            Some((_, tied)) => tied.push(name),
            None => ranks.push((ranked.rank, vec![name])),
        }
    }
    let each = ranks.iter().map(|(rank, tied)| match tied.len() {
        1 => format!("{rank}. {}", tied[0]),
        _ => format!("{rank}. {} (tied: too close to matter or to tell apart)", tied.join(", ")),
    });
    let by = if source.worth.ranked_by_money {
        "net return"
    } else {
        "yield of the field’s worst tenth"
    };
    Some(format!("In order of {by}: {}.", each.collect::<Vec<_>>().join("; ")))
}

/// Limits of what is said about worth.
pub(super) fn limits(source: &Source<'_>) -> Vec<String> {
    let area = source.units.text(Quantity::Area, source.scenario.field.area().m2(), 1);
    vec![
        format!(
            "Yield comes from a daily water balance of each place and a straight line from water \
             missed to yield lost. Disease, nutrients and quality are left out, though uneven water \
             moves them too. Money is for the field of {area}, without tax, repair and resale, at \
             prices that never change."
        ),
        "Uniformity, maps of depth and tables of passes show one season; verdict, yield and money \
         rest on all seasons that were finished."
            .to_owned(),
        if source.economics.doubts {
            "The likely range holds weather, pattern in wind, losses, soil, yield response and \
             prices, each over its range. What is not in it: rain and evapotranspiration beyond \
             those given, sprinklers that differ, how the machine really stops, and any error of \
             the model beyond these ranges."
        } else {
            "The likely range holds the weather’s noise only. Errors in pattern, crop, soil and \
             prices are not in it; for prices, see what the verdict hangs on."
        }
        .to_owned(),
        hours_laid(source).to_owned(),
    ]
}

/// How the water of every hour was laid, and what that does to the figures.
fn hours_laid(source: &Source<'_>) -> &'static str {
    match source.economics.hours_laid {
        HoursLaid::NearestWind => {
            "The water of every hour was laid as at the nearest of many speeds of wind, 0.25 m/s \
             apart, in the hour’s own direction, which is many times faster; CU and DUlq of a \
             season come within 0.02 points of those with every hour in its own wind. Maps and figures of the one season shown are in each \
             hour’s own wind, so they differ from the first of these seasons by as much."
        }
        HoursLaid::OwnWind => "The water of every hour was laid in that hour’s own wind.",
    }
}

/// Seasons finished and wanted, and what the likely ranges are.
pub(super) fn seasons(source: &Source<'_>) -> String {
    let (finished, wanted) = (source.worth.seasons.finished(), source.worth.seasons.wanted);
    let drawn = if source.is_partial() {
        format!("Partial run: {finished} of {wanted} seasons were finished, and only they count.")
    } else {
        format!("From {finished} seasons of weather.")
    };
    let level = percent(source.economics.confidence_level, 0);
    let range = if source.economics.doubts {
        let tests = source.scenario.calibration.as_ref().map_or_else(String::new, |tests| {
            format!(", {}: pattern and losses are drawn from what they leave", tests.words())
        });
        format!(
            "What is doubtful about pattern, losses, soil and crop was drawn anew for every two of \
             them{tests}. A likely range is the {level} interval of the mean over many seasons with \
             all of that in it."
        )
    } else {
        format!(
            "A likely range is the {level} confidence interval of the mean: it holds the true mean \
             in {level} of such runs."
        )
    };
    let reached = source.worth.precision.map_or_else(String::new, |r| precision(source, &r));
    format!("{drawn} Every alternative met the same ones. {range}{reached}")
}

/// How far a precision that was asked for was reached.
fn precision(source: &Source<'_>, reached: &Reached) -> String {
    let asked = reached.asked.half_width;
    let shown = |value: f64| match asked {
        HalfWidth::Net(_) => source.an_amount(PerArea::of_ha(value)),
        HalfWidth::Yield(_) => percent(value, 2),
    };
    let words = if reached.is_reached() { "is reached" } else { "is not reached" };
    format!(
        " The target precision, ± {}, {words}: ± {} by Stein’s two-stage rule, which sets the \
         number of seasons from the spread of the first {}; the other intervals shown then cover \
         up to 2 points less than they say.",
        shown(asked.value()),
        shown(reached.half_width),
        reached.first
    )
}
