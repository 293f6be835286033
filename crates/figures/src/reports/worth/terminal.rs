//! The verdict for a terminal: sentences, then a table of few columns.

use crate::scenes::worth_view;
use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_core::worth::{Economics, Worth};
use evenfall_view::units::{Quantity, UnitSystem, number, points};
use evenfall_view::worth::{Against, AlternativeWorth, Worth as WorthView};

/// Most characters of a line of sentences.
const LINE: usize = 96;
/// Most characters of an alternative's name in the table.
const NAME: usize = 48;

/// Verdict in sentences and a compact table, for a terminal. Ends with a line break.
///
/// # Errors
/// If scenario and worth do not belong together.
pub fn worth_table(
    scenario: &Scenario,
    worth: &Worth,
    economics: &Economics,
    units: UnitSystem,
) -> Result<String, DrawError> {
    let view = worth_view(scenario, worth, economics, units)?;
    let mut lines: Vec<String> =
        view.plan.as_ref().map_or_else(Vec::new, |plan| plan.words.clone());
    if view.rivals().next().is_none() {
        lines.push("One alternative alone: nothing to compare it with.".to_owned());
    }
    lines.extend(view.rivals().map(|(_, _, against)| against.verdict.words()));
    lines.extend(view.placeholders_words.clone());
    lines.push(view.seasons_words.clone());
    let mut out = String::new();
    for line in lines {
        out += &folded(&line.replace('\u{a0}', " "), LINE);
        out.push('\n');
    }
    out += &table(&view, units);
    Ok(out)
}

/// Rows of alternatives in the order of their rank, the head first.
pub fn worth_rows(view: &WorthView, units: UnitSystem) -> Vec<Vec<String>> {
    let depth = units.symbol(Quantity::Depth);
    let per = format!("net {}", view.money_unit);
    let head = ["", "CU %", "DUlq %", "yield %", "worst %", &format!("below {depth}"), "pays"];
    let money = [per.as_str(), "field per year", "chance a season", "chance over life"];
    let is_compared = view.rivals().next().is_some();
    let money = if view.has_money() { &money[..] } else { &[] };
    // One alternative alone neither pays nor stands in an order.
    let head = &head[..if is_compared { head.len() } else { head.len() - 1 }];
    let mut rows: Vec<Vec<String>> =
        vec![head.iter().chain(money).map(|text| (*text).to_owned()).collect()];
    let ranked = view.ranking.iter().filter_map(|ranked| view.alternatives.get(ranked.index));
    rows.extend(ranked.map(|alternative| cells(view, alternative, is_compared)));
    rows
}

fn table(view: &WorthView, units: UnitSystem) -> String {
    let table = aligned(&worth_rows(view, units));
    let order = if view.rivals().next().is_some() {
        format!(
            ", in order of {}; in brackets, of money the {} interval, of yield the gain in points",
            view.ranked_by_words, view.confidence_level.text
        )
    } else {
        String::new()
    };
    let note = format!(
        "Means of all seasons{order}. Yields in % of full yield; worst: the field’s worst tenth; \
         below: water lost below the root zone."
    );
    table + &folded(&note.replace('\u{a0}', " "), LINE)
}

fn cells(view: &WorthView, alternative: &AlternativeWorth, is_compared: bool) -> Vec<String> {
    let against = alternative.against_baseline.as_ref();
    let name = alternative.name.chars().take(NAME).filter(|c| !c.is_control()).collect();
    let gain = |text: &str, by: Option<&str>| match by {
        Some(by) => format!("{text} ({by})"),
        None => text.to_owned(),
    };
    let plain = |value: &evenfall_view::Amount| number(value.number.unwrap_or(f64::NAN), 1);
    let points =
        |value: &evenfall_view::Amount| points(value.number.unwrap_or(f64::NAN) / 100.0, 1);
    let all = against.map(|against| points(&against.yield_gain.figures.mean));
    let worst = against.map(|against| points(&against.worst_tenth_gain.figures.mean));
    let mut out = vec![
        name,
        plain(&alternative.cu.mean),
        plain(&alternative.du_lq.mean),
        gain(&plain(&alternative.yield_share.mean), all.as_deref()),
        gain(&plain(&alternative.yield_worst_tenth.mean), worst.as_deref()),
        alternative.water.percolation.digits().to_owned(),
    ];
    match against {
        Some(against) => out.extend(verdict(view, against)),
        None => out.extend(is_compared.then(|| "baseline".to_owned())),
    }
    out.into_iter().map(|text| text.replace('\u{a0}', " ")).collect()
}

/// The verdict, and the money where any is known.
fn verdict(view: &WorthView, against: &Against) -> Vec<String> {
    let mut out = vec![against.verdict.word.to_owned()];
    if view.has_money() {
        let none = || "-".to_owned();
        let over = against.net.as_ref().and(against.chance_over_life.as_ref());
        let over = over
            .zip(against.life_years)
            .map_or_else(none, |(chance, years)| format!("{} ({years} y)", chance.text));
        let (net, chance) = (against.net_text(), against.chance_text());
        out.extend([net.to_owned(), against.balance.net.text.clone(), chance.to_owned(), over]);
    }
    out
}

/// Columns of equal width, the first one to the left, the others to the right.
pub(crate) fn aligned(rows: &[Vec<String>]) -> String {
    let columns = rows.first().map_or(0, Vec::len);
    let long = |column: usize| rows.iter().filter_map(move |row| row.get(column));
    let wide = |column: usize| long(column).map(|text| text.chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns).map(wide).collect();
    let cell = |column: usize, (text, &width): (&String, &usize)| {
        if column == 0 { format!("{text:<width$}") } else { format!("  {text:>width$}") }
    };
    let line = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).enumerate();
        let line: String = cells.map(|(column, pair)| cell(column, pair)).collect();
        line.trim_end().to_owned() + "\n"
    };
    rows.iter().map(line).collect()
}

/// A text broken at spaces into lines of at most `width` characters.
pub(crate) fn folded(text: &str, width: usize) -> String {
    let (mut out, mut used) = (String::new(), 0);
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if used > 0 && used + 1 + length > width {
            out.push('\n');
            used = 0;
        } else if used > 0 {
            out.push(' ');
            used += 1;
        }
        out += word;
        used += length;
    }
    out.push('\n');
    out
}
