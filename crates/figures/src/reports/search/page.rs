//! A search’s page, and what was tried in sentences.

use super::tables;
use crate::picture::{Figure, Picture};
use crate::reports::cautions::CAUTIONS;
use crate::scenes::SearchScene;
use crate::table::Table;
use askama::Template;
use evenfall_canvas::DrawError;
use evenfall_core::lateral::SetOrder;
use evenfall_view::Assumption;
use evenfall_view::units::number;

/// What goes onto the page beside the findings.
#[derive(Clone, Debug, Default)]
pub struct SearchNotes {
    /// Whether the field is invented.
    pub invented: bool,
    /// Version of the program.
    pub version: String,
    /// Digest of the scenario.
    pub digest: String,
    /// The command that made it.
    pub command: String,
    /// The command that weighs the best.
    pub next: String,
    /// What to look at in the scenario and in the options.
    pub warnings: Vec<String>,
    /// Starting values that the scenario and its search were given.
    pub assumptions: Vec<Assumption>,
}

#[derive(Template)]
#[template(path = "search.html")]
struct Page<'a> {
    title: &'a str,
    notes: &'a SearchNotes,
    seed: u64,
    answer: Vec<String>,
    tried: Vec<String>,
    tables: Vec<Table>,
    words: Table,
    stages: Table,
    pictures: Vec<Figure>,
    cautions: [(&'static str, &'static str); 7],
}

/// The findings as one HTML page: no script, no request, pictures inline.
///
/// # Errors
/// If nothing was ranked, or a library refuses.
pub fn search_html(
    scene: &SearchScene<'_>,
    notes: &SearchNotes,
    pictures: &[Picture],
) -> Result<String, DrawError> {
    let (scenario, found) = (scene.scenario, scene.found);
    let mut all = Vec::new();
    if found.combos.len() > 1 {
        all.push(tables::combos(scene)?);
    }
    if found.kinds.len() > 1 {
        all.push(tables::kinds(scene)?);
    }
    all.push(tables::ranking(scene)?);
    let page = Page {
        title: &scenario.title,
        notes,
        seed: scenario.seed,
        answer: scene.answer()?,
        tried: scene.tried(),
        tables: all,
        words: tables::in_words(scene, crate::scenes::SHOWN),
        stages: tables::stages(scene),
        pictures: Figure::all(pictures),
        cautions: CAUTIONS,
    };
    page.render().map_err(DrawError::library)
}

impl SearchScene<'_> {
    /// What was tried and what not.
    pub(crate) fn tried(&self) -> Vec<String> {
        let found = self.found;
        let space = &found.options.space;
        let dropped: usize = found.stages.iter().map(|stage| stage.dropped.len()).sum();
        let refused: usize = found.refused.iter().map(|refused| refused.count).sum();
        let evaluations: usize = found.entries.iter().map(|entry| entry.values.len()).sum();
        let mut out = vec![format!(
            "Tried: {} candidates, {} of them distinct (the others give the same season, set by set). \
             {} were dropped as clearly worse{}; {} ran all {} seasons; {evaluations} seasons were \
             simulated in all. The best of each wheel and spacing, and of each kind of schedule and \
             edges, stays to the end, however far behind.",
            found.described,
            found.entries.len(),
            dropped,
            if found.least > 0.0 {
                format!(" by more than {}", self.least_text())
            } else {
                String::new()
            },
            found.ranking.len(),
            found.finished,
        )];
        if refused > 0 {
            let why: Vec<String> =
                found.refused.iter().map(|r| format!("{} × {}", r.count, r.why)).collect();
            out.push(format!("{refused} could not be scheduled: {}.", why.join("; ")));
        }
        let order = if space.rotations.every_order {
            "in every order"
        } else {
            "each set of stops in one order (the outlet first, then outward, alternating sides; at whole \
             cycles the order matters only through weather and schedule, within a cycle it matters more)"
        };
        let repeats = if space.rotations.repeats { "stops may repeat" } else { "no stop twice" };
        let edges: Vec<&str> = space.edges.iter().map(|edges| edges.words()).collect();
        let orders: Vec<&str> = space.orders.iter().map(SetOrder::words).collect();
        let clocks: Vec<&str> = space.clocks.iter().map(|clock| clock.words()).collect();
        out.push(format!(
            "Rotations of up to {} passes over all stops within reach, {repeats}, {order}. Edges: {}. \
             Schedules: {}. Orders of sets: {}. All run the same number of passes.",
            space.rotations.longest,
            edges.join("; "),
            clocks.join("; "),
            if orders.is_empty() { "as in the scenario".to_owned() } else { orders.join("; ") }
        ));
        out.push(format!(
            "Not tried: anything beyond these lists, stops between those on the list, other \
             sprinklers. Half of the allowed error of {} % is spent on dropping, shared by all pairs \
             and rounds (each interval there at {} %), half on the ranking.",
            number(100.0 * (1.0 - found.options.confidence_level), 1),
            number(100.0 * found.race_level, 4)
        ));
        if self.scenario.called.is_some() {
            out.push(
                "Passes run when the crop needs water: every season here uses the dates of the first \
                 one; `evenfall worth` finds the dates of each season."
                    .to_owned(),
            );
        }
        out
    }
}
