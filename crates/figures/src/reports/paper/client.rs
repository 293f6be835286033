//! Two pages for a client and the office that shares the cost: existing and planned system, criteria
//! with their sources, what both come to, money, how sure it is, and room for signatures.

use super::input::{Papers, Planned, cut_words, planned};
use super::steps::to_buy;
use super::{criteria, system};
use crate::table::{Row, Table};
use askama::Template;
use evenfall_canvas::DrawError;
use evenfall_view::ReportNotes;
use evenfall_view::worth::Answer;

/// Sources and inputs that the pages have room for.
const MOST_SOURCES: usize = 6;
const MOST_OPEN: usize = 12;

#[derive(Template)]
#[template(path = "client.html")]
struct Page<'a> {
    title: &'a str,
    question: &'a str,
    notes: &'a ReportNotes,
    verdict: &'a str,
    plan_beside: Option<&'a str>,
    area: &'a str,
    currency: String,
    system: Table,
    criteria: Table,
    results: Table,
    money: Table,
    uncertainty: Vec<&'a str>,
    inputs: &'a str,
    open: String,
    sources: Vec<&'a str>,
    sources_cut: String,
}

/// The pages; `None` where there is nothing to compare.
///
/// # Errors
/// If a library refuses.
pub(crate) fn client_html(papers: &Papers<'_>) -> Result<Option<String>, DrawError> {
    let Some(planned) = planned(papers.worth) else { return Ok(None) };
    let Some(entries) = papers.entries() else { return Ok(None) };
    let against = planned.against;
    let sources: Vec<&str> = papers.notes.sources.iter().map(String::as_str).collect();
    let mut uncertainty = vec![papers.worth.seasons_words.as_str()];
    uncertainty.extend(papers.worth.placeholders_words.as_deref());
    let settling = against.verdict.settling.join(" ");
    uncertainty.extend(Some(settling.as_str()).filter(|words| !words.is_empty()));
    let page = Page {
        title: &papers.worth.title,
        question: &papers.notes.question,
        notes: papers.notes,
        verdict: &against.verdict.sentence,
        plan_beside: against.verdict.plan.as_deref(),
        area: &papers.worth.area.text,
        currency: papers.currency_words(),
        system: system::table(papers, &entries),
        criteria: criteria::table(papers, &planned),
        results: criteria::results(papers, &planned),
        money: money(papers, &planned),
        uncertainty,
        inputs: &papers.notes.inputs_words,
        open: open(papers),
        sources_cut: cut_words(sources.len(), MOST_SOURCES, "sources"),
        sources: sources.into_iter().take(MOST_SOURCES).collect(),
    };
    page.render().map(Some).map_err(DrawError::library)
}

/// The parts of the net return.
fn money(papers: &Papers<'_>, planned: &Planned<'_>) -> Table {
    let against = planned.against;
    let parts = against.balance.parts.iter().map(|part| {
        let mark = if part.is_placeholder { " (placeholder)" } else { "" };
        Row::new(
            format!("{}{mark}", part.label),
            vec![part.by_area.digits().to_owned(), part.field.digits().to_owned()],
        )
    });
    let mut rows: Vec<Row> = parts.collect();
    if let Some(net) = &against.net {
        let all = against.balance.net.digits().to_owned();
        rows.push(Row::new("Net return (likely range)", vec![net.figures.text.clone(), all]));
    }
    rows.extend(
        (!against.missing_labels.is_empty())
            .then(|| Row::new("Not known", vec![against.missing_labels.join(", "), String::new()])),
    );
    // Of an open answer a single number of years would say more than is known.
    let is_open = against.verdict.answer == Answer::Inconclusive;
    let years = if is_open { "can’t tell yet" } else { against.payback.simple.text.as_str() };
    rows.extend(
        against
            .life_years
            .map(|_| Row::new("Payback, years", vec![years.to_owned(), String::new()])),
    );
    let title = format!("Money against “{}” a year (+ is a gain)", papers.worth.baseline);
    Table::new(&title, &["", papers.worth.money_unit.as_str(), "whole field"])
        .with_rows(rows)
        .with_note(&prices(papers, planned))
}

/// What is bought, and every price that was used.
fn prices(papers: &Papers<'_>, planned: &Planned<'_>) -> String {
    let bought = to_buy(papers, planned);
    let bought = if bought.is_empty() { "nothing".to_owned() } else { bought.join(", ") };
    let each = papers.worth.prices.iter().map(|price| {
        let mark = if price.is_placeholder { " (placeholder)" } else { "" };
        format!("{} {}{mark}", price.label, price.text)
    });
    let each: Vec<String> = each.collect();
    format!("To buy: {bought}. Prices used: {}.", each.join("; "))
}

/// The inputs that are nobody's yet, with their values.
fn open(papers: &Papers<'_>) -> String {
    let open: Vec<_> = papers.notes.inputs.iter().filter(|input| !input.is_known).collect();
    let told = open.iter().take(MOST_OPEN).map(|input| {
        let value =
            if input.value.is_empty() { String::new() } else { format!(" {}", input.value) };
        format!("{}{value} ({})", input.label.to_lowercase(), input.whose)
    });
    let told: Vec<String> = told.collect();
    if told.is_empty() || papers.notes.invented {
        String::new()
    } else {
        format!("The others: {}.", told.join("; "))
    }
}
