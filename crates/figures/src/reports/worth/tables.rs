//! What each alternative is worth, as tables of the page: figures, ranking, water.

use crate::scenes::WorthScene;
use crate::table::{Group, Row, Table};
use evenfall_view::units::Quantity;
use evenfall_view::worth::{Against, AlternativeWorth, NOT_KNOWN, SeasonWater, money};
use evenfall_view::{Amount, Split};

/// What stands in the baseline's place.
const REFERENCE: &str = "baseline";

/// All tables of the part.
pub(crate) fn tables(scene: &WorthScene<'_>) -> Vec<Table> {
    let mut out = vec![figures(scene)];
    if scene.view.rivals().nth(1).is_some() {
        out.push(ranking(scene));
    }
    out.push(water(scene));
    out
}

/// A row per figure, a column per alternative.
fn figures(scene: &WorthScene<'_>) -> Table {
    let names = scene.site.names();
    let head: Vec<&str> = [""].into_iter().chain(names.iter().map(|(_, name)| *name)).collect();
    let mut groups = vec![uniformity(scene), crop(scene), depths(scene)];
    if is_compared(scene) {
        groups.push(verdicts(scene));
        if scene.view.has_money() {
            groups.extend([balance(scene), chances(scene)]);
        } else {
            groups.push(unpriced(scene));
        }
    }
    let note = format!(
        "Means of {} seasons; in brackets the {} confidence interval of the mean, where the \
         seasons differ. Full yield is that without any lack of water. Worst tenth: the tenth of \
         the field with the least yield. A row marked with a dagger (†) rests on a placeholder.",
        scene.view.seasons_finished, scene.view.confidence_level.text
    );
    Table { groups, ..Table::new("What each alternative is worth", &head) }.with_note(&note)
}

fn is_compared(scene: &WorthScene<'_>) -> bool {
    scene.view.rivals().next().is_some()
}

/// A row of one text per alternative.
fn row(scene: &WorthScene<'_>, name: &str, cell: impl Fn(&AlternativeWorth) -> String) -> Row {
    Row::new(name, scene.view.alternatives.iter().map(cell).collect())
}

/// A row of one text per alternative that stands against the baseline.
fn against(scene: &WorthScene<'_>, name: &str, cell: impl Fn(&Against) -> String) -> Row {
    row(scene, name, |alternative| {
        let own = alternative.against_baseline.as_ref();
        own.map_or_else(|| REFERENCE.to_owned(), &cell)
    })
}

fn uniformity(scene: &WorthScene<'_>) -> Group {
    let part = |name: &str, of: usize| {
        row(scene, name, |found| {
            let texts = found.split.as_ref().map(Split::texts);
            texts.map_or_else(|| "needs two whole cycles".to_owned(), |both| both[of].clone())
        })
    };
    let rows = vec![
        row(scene, "CU, %", |found| found.cu.text.clone()),
        row(scene, "DUlq, %", |found| found.du_lq.text.clone()),
        part("Systematic unevenness (S, points)", 0),
        part("Random (wind) unevenness of one pass (R, points)", 1),
    ];
    Group { heading: "Uniformity of the season’s water in the interior".to_owned(), rows }
}

fn crop(scene: &WorthScene<'_>) -> Group {
    let mut rows = vec![
        row(scene, "Yield, % of full yield", |found| found.yield_share.text.clone()),
        row(scene, "Yield of the worst tenth, % of full yield", |found| {
            found.yield_worst_tenth.text.clone()
        }),
    ];
    let full = scene.view.prices.iter().find(|price| price.name == "potential_yield_t_ha");
    if let Some(full) = full {
        let name =
            format!("Yield, {}{}", money::yield_unit(scene.units()), mark(full.is_placeholder));
        rows.push(row(scene, &name, |found| found.yield_text.clone().unwrap_or_default()));
    }
    if is_compared(scene) {
        rows.push(against(scene, "Gain of yield, points", |a| a.yield_gain.figures.text.clone()));
        rows.push(against(scene, "Gain of the worst tenth, points", |a| {
            a.worst_tenth_gain.figures.text.clone()
        }));
        rows.push(against(scene, "Share of the mapped gain that the crop realizes", |a| {
            let share = a.realized_share.as_ref();
            share.map_or_else(|| "no gain promised".to_owned(), |share| share.text.clone())
        }));
    }
    Group { heading: "Crop, whole field".to_owned(), rows }
}

fn depths(scene: &WorthScene<'_>) -> Group {
    let mean = |name: &str, of: fn(&SeasonWater) -> &Amount| {
        row(scene, name, |found| of(&found.water).digits().to_owned())
    };
    let mut rows = vec![
        mean("Left the nozzles", |water| &water.gross),
        mean("Wind drift and evaporation", |water| &water.losses),
        mean("Fell off the field", |water| &water.off_field),
        row(scene, "Deep percolation", |found| found.percolation.text.clone()),
    ];
    if scene.view.alternatives.iter().any(|found| found.water.leaked.is_some()) {
        let leaked = row(scene, "Leaked before the nozzles", |found| {
            found.water.leaked.as_ref().map_or("none", Amount::digits).to_owned()
        });
        rows.insert(1, leaked);
    }
    if is_compared(scene) {
        rows.push(against(scene, "Change of deep percolation", |a| {
            a.percolation_rise.figures.text.clone()
        }));
    }
    let unit = scene.units().symbol(Quantity::Depth);
    Group { heading: format!("Water of a season, {unit} over the field"), rows }
}

fn verdicts(scene: &WorthScene<'_>) -> Group {
    let rows = vec![against(scene, "It pays", |a| a.verdict.word.to_owned())];
    Group { heading: format!("Verdict against “{}”", scene.view.baseline), rows }
}

/// A dagger where something rests on a placeholder.
fn mark(is_placeholder: bool) -> &'static str {
    if is_placeholder { " †" } else { "" }
}

fn balance(scene: &WorthScene<'_>) -> Group {
    let first = scene.view.rivals().next().map(|(_, _, against)| &against.balance);
    let parts = first.map_or(&[][..], |balance| &balance.parts);
    let part = |(at, part): (usize, &evenfall_view::worth::BalancePart)| {
        let name = format!("{}{}", part.label, mark(part.is_placeholder));
        against(scene, &name, |a| {
            a.balance.parts.get(at).map_or_else(String::new, |part| part.by_area.text.clone())
        })
    };
    let mut rows: Vec<Row> = parts.iter().enumerate().map(part).collect();
    let all = mark(scene.view.rivals().any(|(_, _, against)| !against.placeholders.is_empty()));
    rows.push(against(scene, &format!("Net return{all}"), |a| a.net_text().to_owned()));
    rows.push(against(scene, &format!("Net return, whole field{all}"), |a| {
        a.balance.net.text.clone()
    }));
    let currency = scene.view.currency.as_deref().unwrap_or("the currency of the prices");
    let heading = format!(
        "Money against “{}”, per {} per year (+ is a gain, in {currency})",
        scene.view.baseline, scene.view.area_word
    );
    Group { heading, rows }
}

fn chances(scene: &WorthScene<'_>) -> Group {
    // What is known of the money, where it is.
    let valued =
        |a: &Against, text: &str| (if a.is_valued() { text } else { NOT_KNOWN }).to_owned();
    let bought =
        |a: &Against, text: &str| valued(a, a.life_years.map_or("nothing bought", |_| text));
    let together = if scene.view.rivals().any(|(_, _, against)| against.certainty.is_some()) {
        "Chance of a worthwhile gain, all that is doubtful varied together"
    } else {
        "Chance of a worthwhile gain, all prices varied together"
    };
    let rows = vec![
        against(scene, "Chance of a gain in any one season", |a| a.chance_text().to_owned()),
        against(scene, "Chance of a gain over the life of what is bought", |a| {
            let chance = a.chance_over_life.as_ref().zip(a.life_years);
            let text = chance.map_or_else(
                || "no difference".to_owned(),
                |(chance, years)| format!("{} ({years} years)", chance.text),
            );
            bought(a, &text)
        }),
        against(scene, together, |a| {
            let is_apart = a.net.as_ref().is_some_and(|net| net.chance.is_some());
            let of_prices = a.price_spread.as_ref().map(|spread| &spread.chance_worthwhile);
            let chance = a.certainty.as_ref().map(|all| &all.chance_worthwhile).or(of_prices);
            let text = chance.map_or("no prices", |chance| &chance.text);
            valued(a, if is_apart { text } else { "no difference" })
        }),
        against(scene, "Payback", |a| bought(a, &a.payback.simple.text)),
        against(scene, "Payback with interest", |a| bought(a, &a.payback.discounted.text)),
        against(scene, "Break-even crop price", |a| valued(a, &a.break_even.text)),
    ];
    Group { heading: "Chance and payback".to_owned(), rows }
}

/// What can still be told about money where no net return is known.
fn unpriced(scene: &WorthScene<'_>) -> Group {
    let mut missing: Vec<&str> = Vec::new();
    for label in scene.view.rivals().flat_map(|(_, _, against)| &against.missing_labels) {
        if !missing.contains(&label.as_str()) {
            missing.push(label);
        }
    }
    let rows = vec![
        against(scene, "Net return", |_| NOT_KNOWN.to_owned()),
        against(scene, "Break-even crop price", |a| {
            let is_told = a.missing.iter().all(|price| *price == "crop_per_t");
            (if is_told { a.break_even.text.as_str() } else { NOT_KNOWN }).to_owned()
        }),
    ];
    Group { heading: format!("Money (not given: {})", missing.join(", ")), rows }
}

/// The alternatives in order.
fn ranking(scene: &WorthScene<'_>) -> Table {
    let view = &scene.view;
    let unit = if view.is_valued() {
        format!("Net return against “{}”, {}", view.baseline, view.money_unit)
    } else {
        "Yield of the worst tenth, % of full yield".to_owned()
    };
    let rows = view.ranking.iter().map(|ranked| {
        let tied = if ranked.is_tied { "tied: too close to matter or to tell apart" } else { "" };
        let cells = vec![ranked.rank.to_string(), ranked.by.digits().to_owned(), tied.to_owned()];
        Row::new(&ranked.alternative, cells)
    });
    let title = format!("In order of {}", view.ranked_by_words);
    Table::new(&title, &["", "Rank", &unit, ""]).with_rows(rows.collect()).with_note(
        "Alternatives that share a rank are no worse than the best of it by more than the noise or \
         the worthwhile gain.",
    )
}

/// A part of a season's water and how to read it.
type WaterPart = (&'static str, fn(&SeasonWater) -> &Amount);

/// Where a season's water went, alternative by alternative.
fn water(scene: &WorthScene<'_>) -> Table {
    let parts: [WaterPart; 10] = [
        ("Left the nozzles", |water| &water.gross),
        ("+ rain", |water| &water.rain),
        ("+ newly rooted", |water| &water.rooted),
        ("= crop use", |water| &water.crop_use),
        ("+ deep percolation", |water| &water.percolation),
        ("+ rise of storage", |water| &water.storage_rise),
        ("+ drift and evaporation", |water| &water.losses),
        ("+ off the field", |water| &water.off_field),
        ("+ on days without a crop", |water| &water.idle),
        ("Left over", |water| &water.largest_imbalance),
    ];
    let head: Vec<&str> = [""].into_iter().chain(parts.iter().map(|(name, _)| *name)).collect();
    let unit = scene.units().symbol(Quantity::Depth);
    let rows = scene.view.alternatives.iter().map(|found| {
        let last = found.water.largest_imbalance.text.clone();
        let others = &parts[..parts.len() - 1];
        let cells = others.iter().map(|(_, of)| of(&found.water).digits().to_owned()).chain([last]);
        Row::new(&found.name, cells.collect())
    });
    let title = format!("Where a season’s water went, {unit} over the field, means of all seasons");
    Table::new(&title, &head).with_rows(rows.collect()).with_note(
        "Newly rooted: water that growing roots found in soil they had not reached before. The \
         last column is the most by which the sum missed in any season; none: under a millionth \
         of a millimeter.",
    )
}
