//! The page itself: values laid into the template.

use super::answer::answer;
use super::cautions::{LIMITS, LIMITS_OF_ONE_SEASON};
use crate::cautions::CAUTIONS;
use crate::error::DrawError;
use crate::pictures::{Picture, wheel_picture};
use crate::pressure;
use crate::scene::Scene;
use crate::tables::{Row, Table, edges, figures, passes, stops, water};
use crate::units::UnitSystem;
use crate::worth::{self, WorthPart, WorthScene};
use askama::Template;
use evenfall_core::model::Scenario;
use evenfall_core::season::Outcome;
use evenfall_view::{ReportNotes, Season};

#[derive(Template)]
#[template(path = "report.html")]
struct Page<'a> {
    title: &'a str,
    notes: &'a ReportNotes,
    seed: u64,
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
    assumptions: Table,
    passes: Table,
    strips: Table,
    notices: &'a [String],
    limits: Vec<String>,
    cautions: [(&'static str, &'static str); 7],
}

/// A picture ready for the page.
pub(crate) struct Figure {
    pub(crate) name: String,
    pub(crate) caption: String,
    pub(crate) svg: String,
}

impl Figure {
    /// Inside a page the SVG needs no namespace; without it the page holds no address at all.
    pub(crate) fn new(picture: &Picture) -> Self {
        let svg = picture.svg.replacen(" xmlns=\"http://www.w3.org/2000/svg\"", "", 1);
        Self { name: picture.name.to_owned(), caption: picture.caption.clone(), svg }
    }
}

/// The report as one HTML page: no script, no request, pictures inline, made to print.
///
/// # Errors
/// If scenario and outcome do not belong together, or a library refuses.
pub fn report_html(
    scenario: &Scenario,
    outcome: &Outcome,
    notes: &ReportNotes,
    pictures: &[Picture],
    units: UnitSystem,
) -> Result<String, DrawError> {
    page(&Scene::new(scenario, outcome, units)?, notes, pictures, None)
}

/// The same page with what the alternatives are worth: the verdict first under the answer, then
/// tables and pictures of a section of their own.
///
/// # Errors
/// If scenario, outcome and worth do not belong together, or a library refuses.
pub fn report_with_worth_html(
    scenario: &Scenario,
    outcome: &Outcome,
    notes: &ReportNotes,
    pictures: &[Picture],
    worth: &WorthPart<'_>,
    units: UnitSystem,
) -> Result<String, DrawError> {
    page(&Scene::new(scenario, outcome, units)?, notes, pictures, Some(worth))
}

fn page(
    scene: &Scene<'_>,
    notes: &ReportNotes,
    pictures: &[Picture],
    part: Option<&WorthPart<'_>>,
) -> Result<String, DrawError> {
    let (scenario, units) = (scene.scenario, scene.units);
    let worth = match part {
        Some(part) => Some(WorthScene::new(scenario, part.worth, part.economics, units)?),
        None => None,
    };
    let worth = worth.as_ref();
    let season = Season::new(scenario, scene.outcome, notes, units);
    let page = Page {
        title: &scenario.title,
        notes,
        seed: scenario.seed,
        verdict: worth.map(worth::answer).unwrap_or_default(),
        worth: worth.map(worth::tables).unwrap_or_default(),
        worth_pictures: figures_of(part.map_or(&[], |part| part.pictures)),
        answer: answer(scene, worth.is_some()),
        season: figures::season(&season, units),
        interior: scene.interior_words(),
        split: figures::split(&season),
        pictures: figures_of(pictures),
        stops: filled(vec![stops::used(scene), stops::drift(&notes.wheels, units)]),
        wheels: wheels(notes, units)?,
        clock: vec![water::day_night(&season), water::balance(&season)],
        pressure: pressure::tables(scene, notes),
        rules: filled(vec![figures::rules(&notes.rules), figures::area(&notes.areas)]),
        assumptions: assumptions(notes),
        passes: passes::table(&season, scene.interior_name(), units),
        strips: edges::strips(scene),
        notices: &scene.outcome.notices,
        limits: limits(notes, worth),
        cautions: CAUTIONS,
    };
    page.render().map_err(DrawError::library)
}

fn figures_of(pictures: &[Picture]) -> Vec<Figure> {
    pictures.iter().map(Figure::new).collect()
}

/// Limits of the page, those of what matters most first.
fn limits(notes: &ReportNotes, worth: Option<&WorthScene<'_>>) -> Vec<String> {
    let first = match worth {
        Some(worth) => worth::limits(worth),
        None => LIMITS_OF_ONE_SEASON.map(str::to_owned).to_vec(),
    };
    let all = first.into_iter().chain(LIMITS.map(str::to_owned));
    all.chain(notes.limits.iter().cloned()).collect()
}

/// A picture of each wheel that differs from those before it.
fn wheels(notes: &ReportNotes, units: UnitSystem) -> Result<Vec<Figure>, DrawError> {
    let all = &notes.wheels;
    let is_new = |index: &usize| all[..*index].iter().all(|w| w.reach != all[*index].reach);
    let draw = |index: usize| {
        let mut figure = Figure::new(&wheel_picture(&all[index].reach, units)?);
        figure.name = format!("wheel-{}", index + 1);
        figure.caption = format!("The wheel of “{}”. {}", all[index].alternative, figure.caption);
        Ok(figure)
    };
    (0..all.len()).filter(is_new).map(draw).collect()
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
