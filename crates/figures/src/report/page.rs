//! The page itself: values laid into the template.

use super::ReportNotes;
use super::answer::answer;
use super::cautions::{CAUTIONS, LIMITS};
use crate::error::DrawError;
use crate::pictures::{Picture, wheel_picture};
use crate::scene::Scene;
use crate::tables::{Row, Table, figures, passes, stops, water};
use crate::units::UnitSystem;
use askama::Template;
use evenfall_core::season::{Outcome, Scenario};

#[derive(Template)]
#[template(path = "report.html")]
struct Page<'a> {
    title: &'a str,
    notes: &'a ReportNotes,
    seed: u64,
    answer: Vec<String>,
    season: Table,
    split: Table,
    pictures: Vec<Figure>,
    stops: Vec<Table>,
    wheels: Vec<Figure>,
    clock: Vec<Table>,
    rules: Vec<Table>,
    assumptions: Table,
    passes: Table,
    notices: &'a [String],
    limits: Vec<&'a str>,
    cautions: [(&'static str, &'static str); 7],
}

/// A picture ready for the page.
struct Figure {
    name: String,
    caption: String,
    svg: String,
}

impl Figure {
    /// Inside a page the SVG needs no namespace; without it the page holds no address at all.
    fn new(picture: &Picture) -> Self {
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
    let scene = Scene::new(scenario, outcome, units)?;
    let own_limits = notes.limits.iter().map(String::as_str);
    let page = Page {
        title: &scenario.title,
        notes,
        seed: scenario.seed,
        answer: answer(&scene),
        season: figures::season(&scene),
        split: figures::split(&scene),
        pictures: pictures.iter().map(Figure::new).collect(),
        stops: filled(vec![stops::used(&scene), stops::drift(&notes.wheels, units)]),
        wheels: wheels(notes, units)?,
        clock: vec![water::day_night(&scene), water::balance(&scene)],
        rules: filled(vec![figures::rules(&notes.rules), figures::area(&notes.areas)]),
        assumptions: assumptions(notes),
        passes: passes::table(&scene),
        notices: &outcome.notices,
        limits: LIMITS.into_iter().chain(own_limits).collect(),
        cautions: CAUTIONS,
    };
    page.render().map_err(DrawError::library)
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
