//! The page itself: values laid into the template.

use super::answer::answer;
use super::cautions::{LIMITS, LIMITS_OF_ONE_SEASON};
use crate::picture::{Figure, Picture};
use crate::reports::cautions::CAUTIONS;
use crate::reports::plan;
use crate::reports::pressure;
use crate::reports::tables::{edges, figures, known, passes, stops, water};
use crate::reports::worth::{self, WorthPart};
use crate::scenes::{Scene, WorthScene};
use crate::table::{Row, Table};
use askama::Template;
use evenfall_canvas::DrawError;
use evenfall_view::known::NOT_KNOWN;
use evenfall_view::{PLAN_HEADING, PlanCheck, ReportNotes, Season};

#[derive(Template)]
#[template(path = "report.html")]
struct Page<'a> {
    title: &'a str,
    notes: &'a ReportNotes,
    seed: u64,
    plan_heading: &'static str,
    /// The plan beside its yardsticks, where it was checked.
    plan: Option<&'a PlanCheck>,
    plan_faults: Vec<String>,
    plan_table: Table,
    /// What it misses of the full yield, and why.
    plan_yield: Vec<String>,
    /// What it is worth, in words; empty where that is not known.
    verdict: Vec<String>,
    worth: Vec<Table>,
    worth_pictures: Vec<Figure>,
    answer: Vec<String>,
    season: Table,
    interior: String,
    split: Table,
    pictures: Vec<Figure>,
    stops: Vec<Table>,
    wheels: Vec<Figure>,
    clock: Vec<Table>,
    /// Pressure along the pipe; empty where no pipe is described.
    pressure: Vec<Table>,
    rules: Vec<Table>,
    /// The inputs that matter and are nobody's yet.
    inputs: Table,
    assumptions: Table,
    known: Vec<Table>,
    known_picture: Figure,
    not_known: [&'static str; 4],
    passes: Table,
    strips: Table,
    notices: &'a [String],
    limits: Vec<String>,
    cautions: [(&'static str, &'static str); 7],
}

/// What is laid into the page beside the season.
pub(crate) struct PageParts<'a> {
    pub(crate) notes: &'a ReportNotes,
    pub(crate) pictures: &'a [Picture],
    /// The wheels of the alternatives, each different one once.
    pub(crate) wheels: Vec<Figure>,
    /// Uniformity in wind, as evidence has it.
    pub(crate) known: Figure,
    pub(crate) worth: Option<WorthPart<'a>>,
}

/// The report as one HTML page: no script, no request, pictures inline, made to print. Where it is
/// known what the alternatives are worth, the verdict stands first under the answer.
///
/// # Errors
/// If scenario, outcome and worth do not belong together, or a library refuses.
pub(crate) fn report_html(scene: &Scene<'_>, parts: PageParts<'_>) -> Result<String, DrawError> {
    let PageParts { notes, pictures, wheels, known: known_picture, worth: part } = parts;
    let (scenario, units) = (scene.scenario, scene.units);
    let worth = match &part {
        Some(part) => Some(WorthScene::new(scenario, part.worth, part.economics, units)?),
        None => None,
    };
    let worth = worth.as_ref();
    let season = Season::new(scenario, scene.outcome, notes, units);
    let page = Page {
        title: &scenario.title,
        notes,
        seed: scenario.seed,
        plan_heading: PLAN_HEADING,
        plan: season.plan.as_ref(),
        plan_faults: season.plan.as_ref().map(plan::faults).unwrap_or_default(),
        plan_table: season.plan.as_ref().map(plan::table).unwrap_or_default(),
        plan_yield: worth.and_then(|w| w.view.plan.clone()).map(|p| p.words).unwrap_or_default(),
        verdict: worth.map(|worth| worth.view.answer.clone()).unwrap_or_default(),
        worth: worth.map(worth::tables).unwrap_or_default(),
        worth_pictures: Figure::all(part.map_or(&[], |part| part.pictures)),
        answer: answer(scene, worth.is_some()),
        season: figures::season(&season, units),
        interior: scene.interior_words(),
        split: figures::split(&season),
        pictures: Figure::all(pictures),
        stops: filled(vec![stops::used(scene), stops::drift(&notes.wheels, units)]),
        wheels,
        clock: vec![water::day_night(&season), water::balance(&season)],
        pressure: pressure::tables(scene, notes),
        rules: filled(vec![figures::rules(&notes.rules), figures::area(&notes.areas)]),
        inputs: open_inputs(notes),
        assumptions: assumptions(notes),
        known: known::tables(),
        known_picture,
        not_known: NOT_KNOWN,
        passes: passes::table(&season, scene.interior_name(), units),
        strips: edges::strips(scene),
        notices: &scene.outcome.notices,
        limits: limits(notes, worth),
        cautions: CAUTIONS,
    };
    page.render().map(|html| with_contents(&html)).map_err(DrawError::library)
}

/// Where the contents go.
const CONTENTS: &str = "<!--contents-->";

/// The page with its contents, which are its headings as they stand, so that no heading is written
/// twice.
fn with_contents(html: &str) -> String {
    let headings = html.split("<h2 id=\"").skip(1).filter_map(|rest| {
        let (id, rest) = rest.split_once("\">")?;
        let (words, _) = rest.split_once("</h2>")?;
        Some(format!("<li><a href=\"#{id}\">{words}</a></li>"))
    });
    let list: String = headings.collect();
    let nav = format!("<nav class=\"contents\" aria-label=\"Contents\"><ol>{list}</ol></nav>");
    html.replacen(CONTENTS, &nav, 1)
}

/// The inputs that matter and are nobody's yet.
fn open_inputs(notes: &ReportNotes) -> Table {
    let open = notes.inputs.iter().filter(|input| !input.is_known);
    let rows = open.map(|input| {
        Row::new(input.label, vec![input.value.clone(), input.whose.to_owned(), input.what.clone()])
    });
    Table::new("Not yours yet", &["", "Value", "Whose", "In the scenario"])
        .with_rows(rows.collect())
}

/// Limits of the page, those of what matters most first.
fn limits(notes: &ReportNotes, worth: Option<&WorthScene<'_>>) -> Vec<String> {
    let first = match worth {
        Some(worth) => worth.view.limits.clone(),
        None => LIMITS_OF_ONE_SEASON.map(str::to_owned).to_vec(),
    };
    let all = first.into_iter().chain(LIMITS.map(str::to_owned));
    all.chain(notes.limits.iter().cloned()).collect()
}

/// The tables that have rows.
fn filled(tables: Vec<Table>) -> Vec<Table> {
    tables.into_iter().filter(|t| t.groups.iter().any(|g| !g.rows.is_empty())).collect()
}

fn assumptions(notes: &ReportNotes) -> Table {
    let rows = notes.assumptions.iter();
    let rows = rows.map(|a| Row::new(&a.what, vec![a.value.clone(), a.why.clone()])).collect();
    Table::new("", &["", "Value", "Why"]).with_rows(rows)
}
