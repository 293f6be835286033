//! The verdict for a terminal: sentences, then a table of few columns.

use super::tables::{answer_word, chance, field_net, short_net};
use super::verdict_words::{bounded_percent, seasons};
use super::words::ranked_by;
use super::{Rival, WorthScene};
use crate::error::DrawError;
use crate::units::{Quantity, UnitSystem, number, points};
use evenfall_core::model::Scenario;
use evenfall_core::worth::{Economics, Worth};

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
    let scene = WorthScene::new(scenario, worth, economics, units)?;
    let mut lines: Vec<String> = Vec::new();
    if scene.rivals.is_empty() {
        lines.push("One alternative alone: nothing to compare it with.".to_owned());
    }
    for rival in &scene.rivals {
        let sentences = [vec![scene.headline(rival)], scene.settling(rival)].concat();
        lines.push(sentences.join(" "));
    }
    lines.extend(scene.placeholders());
    lines.extend(scene.left_out());
    lines.push(seasons(&scene));
    let mut out = String::new();
    for line in lines {
        out += &folded(&line.replace('\u{a0}', " "), LINE);
        out.push('\n');
    }
    out += &table(&scene);
    Ok(out)
}

/// Rows of alternatives in the order of their rank, the head first.
pub(super) fn table_rows(scene: &WorthScene<'_>) -> Vec<Vec<String>> {
    let depth = scene.units().symbol(Quantity::Depth);
    let currency = scene.currency().replace('\u{a0}', " ");
    let per = format!("net{currency} per {} and year", scene.units().area_word());
    let field = format!("field{currency} a year");
    let head = ["", "CU %", "DUlq %", "yield %", "worst %", &format!("below {depth}"), "pays"];
    let money = [per.as_str(), field.as_str(), "chance a season", "chance over life"];
    let is_compared = !scene.rivals.is_empty();
    let money = if scene.is_valued() && is_compared { &money[..] } else { &[] };
    // One alternative alone neither pays nor stands in an order.
    let head = &head[..if is_compared { head.len() } else { head.len() - 1 }];
    let mut rows: Vec<Vec<String>> =
        vec![head.iter().chain(money).map(|text| (*text).to_owned()).collect()];
    for ranked in &scene.worth.ranking {
        let rival = scene.rivals.iter().find(|rival| rival.index == ranked.alternative);
        rows.push(cells(scene, ranked.alternative, rival));
    }
    rows
}

fn table(scene: &WorthScene<'_>) -> String {
    let table = aligned(&table_rows(scene));
    let is_compared = !scene.rivals.is_empty();
    let order = if is_compared {
        let level = number(100.0 * scene.economics.confidence_level, 0);
        let by = ranked_by(scene);
        format!(
            ", in order of {by}; brackets of money: {level} % interval, of yield: gain in points"
        )
    } else {
        String::new()
    };
    let note = format!(
        "Means of all seasons{order}. Yields in % of full yield; worst: the field’s worst tenth; \
         below: water lost below the roots."
    );
    table + &folded(&note, LINE)
}

fn cells(scene: &WorthScene<'_>, index: usize, rival: Option<&Rival<'_>>) -> Vec<String> {
    let found = &scene.worth.alternatives[index];
    let one = |share: f64| number(100.0 * share, 1);
    let mut name: String = scene.site.names()[index].1.chars().take(NAME).collect();
    name = name.chars().filter(|c| !c.is_control()).collect();
    let below = scene.units().shown(Quantity::Depth, found.percolation_mm.mean);
    let gain = |text: String, by: f64| match rival {
        Some(_) => format!("{text} ({})", points(by, 1)),
        None => text,
    };
    let against = rival.map(|rival| rival.against);
    let all = against.map_or(0.0, |a| a.yield_gain.figures.mean);
    let worst = against.map_or(0.0, |a| a.worst_tenth_gain.figures.mean);
    let mut out = vec![
        name,
        one(found.cu.mean),
        one(found.du_lq.mean),
        gain(one(found.yield_fraction.mean), all),
        gain(one(found.yield_worst_tenth.mean), worst),
        number(below, scene.units().depth_decimals()),
    ];
    let Some(rival) = rival else {
        out.extend((!scene.rivals.is_empty()).then(|| "baseline".to_owned()));
        return out;
    };
    out.push(answer_word(rival.against.verdict.answer).to_owned());
    if scene.is_valued() {
        let over = scene.chance_over_life(rival);
        let over = over.map_or_else(
            || "-".to_owned(),
            |(years, chance)| format!("{} ({years} y)", bounded_percent(chance)),
        );
        let chance = chance(&rival.against.net_per_ha);
        out.extend([short_net(scene, rival), field_net(rival), chance, over]);
    }
    out.into_iter().map(|text| text.replace('\u{a0}', " ")).collect()
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
