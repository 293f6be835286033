//! The grower's page: whether it pays, the field before and after, the plan, what the answer hangs
//! on, what to do, and what can hurt somebody. One page.

use super::input::{Papers, Planned, cut_words, planned};
use super::{steps, system};
use crate::picture::Figure;
use crate::scenes::inside;
use crate::table::{Row, Table};
use crate::texts::cautions::IN_SHORT;
use askama::Template;
use evenfall_canvas::DrawError;
use evenfall_view::ReportNotes;
use evenfall_view::units::percent;

/// Faults of the plan, swings and open inputs that the page has room for.
const MOST_FAULTS: usize = 2;
const MOST_SWINGS: usize = 3;
const MOST_OPEN: usize = 6;

#[derive(Template)]
#[template(path = "grower.html")]
struct Page<'a> {
    title: &'a str,
    notes: &'a ReportNotes,
    verdict: &'a str,
    /// Where the plan loses more than the rotation brings.
    plan_beside: Option<&'a str>,
    area: &'a str,
    currency: String,
    maps: &'a Figure,
    maps_words: String,
    plan: String,
    faults: Vec<&'a str>,
    faults_cut: String,
    hangs_on: Table,
    steps: Vec<String>,
    inputs: &'a str,
    open: String,
    seasons: &'a str,
    cautions: &'static str,
}

/// The page; `None` where there is nothing to compare.
///
/// # Errors
/// If a library refuses.
pub(crate) fn grower_html(papers: &Papers<'_>) -> Result<Option<String>, DrawError> {
    let Some(planned) = planned(papers.worth) else { return Ok(None) };
    // What to change about them stands among the steps.
    let faults = papers.plan_rows(0).iter().filter(|row| row.is_fault());
    let faults: Vec<&str> = faults.map(|row| row.sentence.as_str()).collect();
    let page = Page {
        title: &papers.worth.title,
        notes: papers.notes,
        verdict: &planned.against.verdict.sentence,
        plan_beside: planned.against.verdict.plan.as_deref(),
        area: &papers.worth.area.text,
        currency: papers.currency_words(),
        maps: papers.maps,
        maps_words: maps_words(papers, &planned),
        plan: papers.season.plan.as_ref().map_or_else(String::new, |plan| plan.headline.clone()),
        faults_cut: cut_words(faults.len(), MOST_FAULTS, "faults of the plan"),
        faults: faults.into_iter().take(MOST_FAULTS).collect(),
        hangs_on: hangs_on(papers, &planned),
        steps: steps::steps(papers, &planned),
        inputs: &papers.notes.inputs_words,
        open: open(papers.notes),
        seasons: &papers.worth.seasons_words,
        cautions: IN_SHORT.english(),
    };
    page.render().map(Some).map_err(DrawError::library)
}

/// What the two maps show, in one sentence.
fn maps_words(papers: &Papers<'_>, planned: &Planned<'_>) -> String {
    let du = |index: usize| {
        let entry = papers.scene.entries.get(index)?;
        Some(percent(inside(entry.found.season_figures())?.du_lq, 0))
    };
    let (Some(a), Some(b)) = (du(0), du(planned.index)) else { return String::new() };
    let drifts = papers.scene.entries.first().and_then(system::drift).map(|drift| {
        let words = system::drift_words(papers.scene, &drift);
        format!(
            " Whole turns do not end at your outlets ({words}): the line drifts, and a turn more or \
             less takes it back. The command “fit” compares the ways out."
        )
    });
    let drifts = drifts.unwrap_or_default();
    format!(
        "Left “{}”: the driest quarter gets {a} of the average. Right “{}”: {b}. One season’s water on \
         one scale, darker is wetter.{drifts}",
        papers.worth.baseline, planned.worth.name
    )
}

/// The inputs that move the net return most.
fn hangs_on(papers: &Papers<'_>, planned: &Planned<'_>) -> Table {
    let swings = planned.against.swings.iter().take(MOST_SWINGS);
    let rows = swings.map(|swing| {
        let [low, _, high] = &swing.input_texts;
        let [at_low, _, at_high] = &swing.net;
        let mark = if swing.is_placeholder { " (placeholder)" } else { "" };
        let at = |input: &str, net: &str| format!("{net} at {input}");
        Row::new(
            format!("{}{mark}", swing.label),
            vec![at(low, &at_low.text), at(high, &at_high.text)],
        )
    });
    let title = format!("What the answer hangs on most: net return {}", papers.worth.money_unit);
    Table::new(&title, &["", "at the low end", "at the high end"]).with_rows(rows.collect())
}

/// The inputs that are nobody's yet, in one line; of an invented field that goes without saying.
fn open(notes: &ReportNotes) -> String {
    let open = notes.inputs.iter().filter(|input| !input.is_known);
    let open: Vec<&str> = open.map(|input| input.label).collect();
    if open.is_empty() || notes.invented {
        return String::new();
    }
    let shown: Vec<String> =
        open.iter().take(MOST_OPEN).map(|label| label.to_lowercase()).collect();
    let more = open.len().saturating_sub(MOST_OPEN);
    let more = if more == 0 { String::new() } else { format!(" and {more} more") };
    format!("Not yours yet: {}{more}.", shown.join(", "))
}
