//! What each alternative is worth, as tables of the page: figures, ranking, water.

use super::money::{money, signed_money, spread, spread_money};
use super::verdict_words::bounded_percent;
use super::words::ranked_by;
use super::{Rival, WorthScene, money as prices};
use crate::table::{Group, Row, Table};
use crate::units::{Quantity, number, percent, points};
use evenfall_core::ensemble::SeasonsFigures;
use evenfall_core::money::{Balance, BreakEven, Item};
use evenfall_core::paired::{Chance, Paired};
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::verdict::Answer;
use evenfall_core::worth::{AgainstBaseline, AlternativeWorth};

/// What stands in the baseline's place.
const REFERENCE: &str = "baseline";

/// All tables of the part.
pub(crate) fn tables(scene: &WorthScene<'_>) -> Vec<Table> {
    let mut out = vec![figures(scene)];
    if scene.rivals.len() > 1 {
        out.push(ranking(scene));
    }
    out.push(water(scene));
    out
}

/// A row per figure, a column per alternative.
fn figures(scene: &WorthScene<'_>) -> Table {
    let names = scene.site.names();
    let head: Vec<&str> = [""].into_iter().chain(names.iter().map(|(_, name)| *name)).collect();
    let mut groups = vec![evenness(scene), crop(scene), depths(scene)];
    if !scene.rivals.is_empty() {
        let values = scene.is_valued();
        groups.push(verdicts(scene));
        groups.extend(values.then(|| balance(scene)));
        groups.extend(values.then(|| chances(scene)));
        if !values {
            groups.push(unpriced(scene));
        }
    }
    let finished = scene.worth.seasons.finished();
    let level = percent(scene.economics.confidence_level, 0);
    let note = format!(
        "Means of {finished} seasons; in brackets the {level} interval of the mean, where the \
         seasons differ. Full yield is that without any lack of water. Worst tenth: the tenth of the field with the least yield. \
         A row marked with a dagger (†) rests on a placeholder."
    );
    Table { groups, ..Table::new("What each alternative is worth", &head) }.with_note(&note)
}

/// A row of one text per alternative.
fn row(
    scene: &WorthScene<'_>,
    name: &str,
    cell: impl Fn(usize, &AlternativeWorth) -> String,
) -> Row {
    let cells = scene.all().enumerate().map(|(index, (_, found))| cell(index, found));
    Row::new(name, cells.collect())
}

/// A row of one text per rival.
fn against(
    scene: &WorthScene<'_>,
    name: &str,
    cell: impl Fn(&Rival<'_>, &AgainstBaseline) -> String,
) -> Row {
    let rival = |index: usize| scene.rivals.iter().find(|rival| rival.index == index);
    row(scene, name, |index, _| {
        rival(index).map_or_else(|| REFERENCE.to_owned(), |rival| cell(rival, rival.against))
    })
}

/// "92.9 (92.8 to 93.0)", with at least so many decimals.
fn with_interval(f: &SeasonsFigures, least: usize, text: impl Fn(f64, usize) -> String) -> String {
    let [mean, low, high] = spread([f.mean, f.interval.low, f.interval.high], least, text);
    if low == high { mean } else { format!("{mean} ({low} to {high})") }
}

fn difference(paired: &Paired, least: usize, text: impl Fn(f64, usize) -> String) -> String {
    if paired.is_no_difference() {
        return "no difference".to_owned();
    }
    with_interval(&paired.figures, least, text)
}

/// A share as a number of percent.
fn in_percent(share: f64, decimals: usize) -> String {
    number(100.0 * share, decimals)
}

fn evenness(scene: &WorthScene<'_>) -> Group {
    let rows = vec![
        row(scene, "CU, %", |_, found| with_interval(&found.cu, 1, in_percent)),
        row(scene, "DUlq, %", |_, found| with_interval(&found.du_lq, 1, in_percent)),
    ];
    Group { heading: "How evenly the season’s water fell in the interior".to_owned(), rows }
}

fn crop(scene: &WorthScene<'_>) -> Group {
    let mut rows = vec![
        row(scene, "Yield, % of full yield", |_, a| {
            with_interval(&a.yield_fraction, 1, in_percent)
        }),
        row(scene, "Yield of the worst tenth, % of full yield", |_, a| {
            with_interval(&a.yield_worst_tenth, 1, in_percent)
        }),
    ];
    if let Some(full) = scene.economics.prices.of(Item::PotentialYield) {
        let mark = mark(scene, &[Item::PotentialYield]);
        let (unit, factor) = prices::yield_unit(scene.units());
        rows.push(row(scene, &format!("Yield, {unit}{mark}"), |_, a| {
            with_interval(&a.yield_fraction, 2, |share, decimals| {
                number(share * full.value * factor, decimals)
            })
        }));
    }
    if !scene.rivals.is_empty() {
        rows.push(against(scene, "Gain of yield, points", |_, a| {
            difference(&a.yield_gain, 1, points)
        }));
        rows.push(against(scene, "Gain of the worst tenth, points", |_, a| {
            difference(&a.worst_tenth_gain, 1, points)
        }));
        rows.push(against(scene, "Kept of the gain that the map of depth promises", |_, a| {
            a.kept.map_or_else(|| "no gain promised".to_owned(), |kept| percent(kept, 0))
        }));
    }
    Group { heading: "Crop, whole field".to_owned(), rows }
}

fn depths(scene: &WorthScene<'_>) -> Group {
    let depth =
        |mm: f64, decimals: usize| number(scene.units().shown(Quantity::Depth, mm), decimals);
    let least = scene.units().depth_decimals();
    let mean = |name: &str, of: fn(&SeasonFigures) -> f64| {
        row(scene, name, |index, _| depth(scene.mean(index, of), least))
    };
    let mut rows = vec![
        mean("Left the nozzles", |f| f.gross_mm),
        mean("Wind drift and evaporation", |f| f.losses_mm),
        mean("Fell beside the field", |f| f.off_field_mm),
        row(scene, "Lost below the roots", |_, a| with_interval(&a.percolation_mm, least, depth)),
    ];
    if !scene.rivals.is_empty() {
        rows.push(against(scene, "Rise of what is lost below the roots", |_, a| {
            difference(&a.percolation_rise_mm, least, depth)
        }));
    }
    let unit = scene.units().symbol(Quantity::Depth);
    Group { heading: format!("Water of a season, {unit} over the field"), rows }
}

fn verdicts(scene: &WorthScene<'_>) -> Group {
    let rows = vec![against(scene, "It pays", |rival, _| {
        answer_word(rival.against.verdict.answer).to_owned()
    })];
    Group { heading: format!("Verdict against “{}”", scene.baseline()), rows }
}

/// The answer to "does it pay?".
pub(super) fn answer_word(answer: Answer) -> &'static str {
    match answer {
        Answer::Pays => "yes",
        Answer::DoesNotPay => "no",
        Answer::CannotBeTold => "cannot be told",
    }
}

/// A dagger where one of `items` is a placeholder.
fn mark(scene: &WorthScene<'_>, items: &[Item]) -> &'static str {
    let is_placeholder =
        |item: &Item| scene.economics.prices.of(*item).is_some_and(|known| known.is_placeholder);
    if items.iter().any(is_placeholder) { " †" } else { "" }
}

/// A part of the money: its name, the prices it needs, and how to read it.
type BalancePart<'a> = (&'static str, &'a [Item], fn(&Balance) -> f64);

/// A part of a season's water and how to read it.
type WaterPart = (&'static str, fn(&SeasonFigures) -> f64);

fn balance(scene: &WorthScene<'_>) -> Group {
    use Item::{
        CropPrice, DiscountRate, EnergyPrice, JointLife, JointPrice, LaborPerMove, LaborPrice,
        OutletLife, OutletPrice, PotentialYield, WaterPrice,
    };
    let bought = [JointPrice, JointLife, OutletPrice, OutletLife, DiscountRate];
    let parts: [BalancePart<'_>; 5] = [
        ("Value of the yield gained", &[CropPrice, PotentialYield], |b| b.yield_value),
        ("Water saved", &[WaterPrice], |b| b.water),
        ("Energy saved", &[EnergyPrice], |b| b.energy),
        ("Labor saved", &[LaborPrice, LaborPerMove], |b| b.labor),
        ("Equipment, as cost a year", &bought, |b| b.equipment),
    ];
    let part = |(name, items, of): &BalancePart<'_>| {
        against(scene, &format!("{name}{}", mark(scene, items)), |_, a| {
            let missing = items.iter().any(|item| a.left_out.contains(item));
            let value = of(&a.balance);
            match (missing, value == 0.0) {
                (true, true) => "not known".to_owned(),
                (true, false) => format!("{} (in part)", per_area(scene, value, a)),
                (false, _) => per_area(scene, value, a),
            }
        })
    };
    let mut rows: Vec<Row> = parts.iter().map(part).collect();
    let all = mark(scene, &scene.items(|a| &a.placeholders));
    rows.push(against(scene, &format!("Net return{all}"), |_, a| {
        net_with_interval(scene, &a.net_per_ha)
    }));
    rows.push(against(scene, &format!("Net return, whole field{all}"), |_, a| {
        signed_money(a.balance.net())
    }));
    let word = scene.units().area_word();
    let currency = scene.economics.currency.as_deref().unwrap_or("the currency of the prices");
    let heading = format!(
        "Money against “{}”, per {word} and year (+ is a gain, in {currency})",
        scene.baseline()
    );
    Group { heading, rows }
}

/// Money of the whole field told by the shown unit of area.
fn per_area(scene: &WorthScene<'_>, field: f64, against: &AgainstBaseline) -> String {
    signed_money(scene.units().per_area(field / against.balance.area_ha))
}

fn chances(scene: &WorthScene<'_>) -> Group {
    let years = |years: Option<f64>| match years {
        Some(years) => format!("{} years", number(years, 1)),
        None => "never".to_owned(),
    };
    let bought = |rival: &Rival<'_>, text: String| match scene.life_years(rival) {
        Some(_) => text,
        None => "nothing bought".to_owned(),
    };
    let rows = vec![
        against(scene, "Chance of a gain in any one season", |_, a| chance(&a.net_per_ha)),
        against(scene, "Chance of a gain over the life of what is bought", |rival, _| {
            let over = scene.chance_over_life(rival);
            over.map_or_else(
                || bought(rival, "no difference".to_owned()),
                |(years, chance)| format!("{} ({years} years)", bounded_percent(chance)),
            )
        }),
        against(scene, "Chance to be worth the name, all prices off together", |_, a| {
            if a.net_per_ha.is_no_difference() {
                return "no difference".to_owned();
            }
            a.together.map_or_else(
                || "no prices".to_owned(),
                |together| bounded_percent(together.share_above),
            )
        }),
        against(scene, "Payback", |rival, a| bought(rival, years(a.payback_years.0))),
        against(scene, "Payback with interest", |rival, a| bought(rival, years(a.payback_years.1))),
        against(scene, "Break-even crop price", |_, a| break_even(scene, a.break_even)),
    ];
    Group { heading: "Chance and payback".to_owned(), rows }
}

/// Share of the seasons with a gain.
pub(super) fn chance(nets: &Paired) -> String {
    match nets.chance {
        Chance::NoDifference => "no difference".to_owned(),
        Chance::Counted { gain_share, interval, .. } => {
            let [share, low, high] =
                [gain_share, interval.low, interval.high].map(|share| percent(share, 0));
            format!("{share} ({low} to {high})")
        }
    }
}

fn break_even(scene: &WorthScene<'_>, found: BreakEven) -> String {
    let price = |value| scene.priced(Item::CropPrice, value);
    match found {
        BreakEven::PaysAbove(value) if value <= 0.0 => "any".to_owned(),
        BreakEven::PaysAbove(value) => format!("above {}", price(value)),
        BreakEven::PaysBelow(value) => format!("below {}", price(value)),
        BreakEven::AtEveryPrice => "any".to_owned(),
        BreakEven::AtNoPrice => "none".to_owned(),
    }
}

/// What can still be told about money where the crop has no value.
fn unpriced(scene: &WorthScene<'_>) -> Group {
    let missing: Vec<_> = scene.missing_value().iter().map(|item| item.label()).collect();
    let mut rows = vec![against(scene, "Net return", |_, _| "not known".to_owned())];
    if scene.economics.prices.of(Item::PotentialYield).is_some() {
        rows.push(against(scene, "Break-even crop price", |_, a| break_even(scene, a.break_even)));
    }
    Group { heading: format!("Money (no {} given)", missing.join(" and no ")), rows }
}

/// The alternatives in order.
fn ranking(scene: &WorthScene<'_>) -> Table {
    let by_money = scene.worth.ranked_by_money;
    let unit = if by_money {
        let per = scene.units().area_word();
        let currency = scene.currency();
        format!("Net return against “{}”,{currency} per {per} and year", scene.baseline())
    } else {
        "Yield of the worst tenth, % of full yield".to_owned()
    };
    let names = scene.site.names();
    let rows = scene.worth.ranking.iter().map(|ranked| {
        let value = if by_money {
            signed_money(scene.units().per_area(ranked.mean))
        } else {
            number(100.0 * ranked.mean, 1)
        };
        let tied = if ranked.is_tied { "too close to matter or to tell apart" } else { "" };
        let cells = vec![ranked.rank.to_string(), value, tied.to_owned()];
        Row::new(names[ranked.alternative].1, cells)
    });
    Table::new(&format!("In order of {}", ranked_by(scene)), &["", "Rank", &unit, ""])
        .with_rows(rows.collect())
        .with_note(
            "Those who share a rank are not worse than the best of it by more than the noise, or \
             than what is worth the name.",
        )
}

/// Where a season's water went, alternative by alternative.
fn water(scene: &WorthScene<'_>) -> Table {
    let parts: [WaterPart; 10] = [
        ("Left the nozzles", |f| f.gross_mm),
        ("+ rain", |f| f.rain_mm),
        ("+ newly rooted", |f| f.rooted_mm),
        ("= crop use", |f| f.crop_use_mm),
        ("+ below the roots", |f| f.percolation_mm),
        ("+ rise of storage", |f| f.storage_rise_mm),
        ("+ drift and evaporation", |f| f.losses_mm),
        ("+ beside the field", |f| f.off_field_mm),
        ("+ on days without a crop", |f| f.idle_mm),
        ("Left over", SeasonFigures::imbalance_mm),
    ];
    let head: Vec<&str> = [""].into_iter().chain(parts.iter().map(|(name, _)| *name)).collect();
    let cell = |index: usize, of: fn(&SeasonFigures) -> f64| {
        let shown = scene.units().shown(Quantity::Depth, scene.mean(index, of));
        number(shown, scene.units().depth_decimals())
    };
    let rows = scene.site.names().into_iter().map(|(index, name)| {
        let worst = scene.worth.seasons.series(index, |f| f.imbalance_mm().abs());
        let worst = worst.into_iter().fold(0.0, f64::max);
        let mut cells: Vec<String> = parts.iter().map(|(_, of)| cell(index, *of)).collect();
        if let Some(last) = cells.last_mut() {
            *last = if worst < 1e-6 { "none".to_owned() } else { format!("{worst:.0e}\u{a0}mm") };
        }
        Row::new(name, cells)
    });
    let unit = scene.units().symbol(Quantity::Depth);
    let title = format!("Where a season’s water went, {unit} over the field, means of all seasons");
    Table::new(&title, &head).with_rows(rows.collect()).with_note(
        "Newly rooted: water that growing roots found in soil they had not reached before. The \
         last column is the most by which the sum missed in any season; none: under a millionth \
         of a millimeter.",
    )
}

/// A short amount for narrow places.
pub(super) fn short_net(scene: &WorthScene<'_>, rival: &Rival<'_>) -> String {
    net_with_interval(scene, &rival.against.net_per_ha)
}

fn net_with_interval(scene: &WorthScene<'_>, net: &Paired) -> String {
    if net.is_no_difference() {
        return "no difference".to_owned();
    }
    let SeasonsFigures { mean, interval, .. } = &net.figures;
    let shown = [*mean, interval.low, interval.high].map(|value| scene.units().per_area(value));
    let [mean, low, high] = spread_money(shown);
    if low == high { mean } else { format!("{mean} ({low} to {high})") }
}

/// Net return of the field.
pub(super) fn field_net(rival: &Rival<'_>) -> String {
    let net = rival.against.balance.net();
    if net == 0.0 { money(0.0) } else { signed_money(net) }
}
