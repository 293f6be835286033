//! A search in sentences, and its page.

use super::{SearchScene, tables, told};
use crate::error::DrawError;
use crate::pictures::Picture;
use crate::tables::Table;
use crate::units::{UnitSystem, number, percent};
use askama::Template;
use evenfall_core::search::Found;
use evenfall_core::season::Scenario;
use evenfall_core::worth::Terms;

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
    pictures: Vec<(String, String, String)>,
}

/// The findings as one HTML page: no script, no request, pictures inline.
///
/// # Errors
/// If nothing was ranked, or a library refuses.
pub fn search_html(
    scenario: &Scenario,
    found: &Found,
    terms: Option<&Terms>,
    notes: &SearchNotes,
    pictures: &[Picture],
    units: UnitSystem,
) -> Result<String, DrawError> {
    let scene = SearchScene::new(scenario, found, terms, units)?;
    let mut all = vec![tables::ranking(&scene)?];
    if found.combos.len() > 1 {
        all.insert(0, tables::combos(&scene)?);
    }
    let figure = |picture: &Picture| {
        let svg = picture.svg.replacen(" xmlns=\"http://www.w3.org/2000/svg\"", "", 1);
        (picture.name.to_owned(), picture.caption.clone(), svg)
    };
    let page = Page {
        title: &scenario.title,
        notes,
        seed: scenario.seed,
        answer: scene.answer()?,
        tried: scene.tried(),
        tables: all,
        words: tables::in_words(&scene, super::SHOWN),
        stages: tables::stages(&scene),
        pictures: pictures.iter().map(figure).collect(),
    };
    page.render().map_err(DrawError::library)
}

impl SearchScene<'_> {
    /// The answer, the most important first.
    pub(crate) fn answer(&self) -> Result<Vec<String>, DrawError> {
        let lines = self.lines();
        let mut out = Vec::new();
        let Some(best) = lines.first() else { return Ok(out) };
        let is_first = |line: &&super::Line<'_>| line.ranked.is_some_and(|r| r.rank == 1);
        let ties = lines.iter().filter(is_first).count() - 1;
        if best.at == 0 {
            out.push(format!(
                "By {}, no rotation tried has a better mean than the fixed pattern.",
                self.aim()
            ));
        } else {
            let gain = self.found.gain_of_aim(best.at).map_err(|error| told(&error))?;
            let interval = gain.figures.interval;
            out.push(format!(
                "Best by {}: {} ({}; {}): {} against the fixed pattern ({} interval {} to {}).",
                self.aim(),
                self.rotation(&best.entry.candidate),
                best.entry.candidate.alternative.edges.words(),
                best.entry.candidate.clock.words(),
                self.gain_text(gain.figures.mean),
                percent(self.found.ask.level, 0),
                self.gain_text(interval.low),
                self.gain_text(interval.high),
            ));
        }
        let fixed_ties = lines.iter().filter(is_first).any(|line| line.at == 0);
        if ties > 0 {
            let fixed = if fixed_ties { ", the fixed pattern among them" } else { "" };
            let others = if ties == 1 { "One other".to_owned() } else { format!("{ties} others") };
            out.push(format!(
                "{others} cannot be told from it after {} seasons{fixed}: choose among them by what \
                 is easiest to keep up.",
                self.found.finished
            ));
        }
        if self.found.is_partial() {
            out.push(format!(
                "Partial: the search was stopped after {} of {} seasons.",
                self.found.finished, self.found.ask.seasons
            ));
        }
        out.extend(self.about_money());
        Ok(out)
    }

    /// What must be known about the money.
    fn about_money(&self) -> Option<String> {
        let terms = self.terms?;
        let missing = terms.prices.missing_value();
        if !missing.is_empty() {
            let names: Vec<&str> = missing.iter().map(|item| item.label()).collect();
            return Some(format!(
                "Not known: {}. Without them there is no net return; where one was asked for, the \
                 yield of the worst tenth takes its place.",
                names.join(", ")
            ));
        }
        let items = evenfall_core::money::Item::ALL;
        let placeholder = |item: &&evenfall_core::money::Item| {
            terms.prices.of(**item).is_some_and(|price| price.is_placeholder)
        };
        let names: Vec<&str> = items.iter().filter(placeholder).map(|item| item.label()).collect();
        (!names.is_empty()).then(|| {
            format!(
                "Placeholders that nobody stands for: {}. Net returns are only as good as they are.",
                names.join(", ")
            )
        })
    }

    /// What was tried and what not.
    pub(crate) fn tried(&self) -> Vec<String> {
        let found = self.found;
        let space = &found.ask.space;
        let dropped: usize = found.stages.iter().map(|stage| stage.dropped.len()).sum();
        let refused: usize = found.refused.iter().map(|refused| refused.count).sum();
        let evaluations: usize = found.entries.iter().map(|entry| entry.values.len()).sum();
        let mut out = vec![format!(
            "Tried: {} candidates, {} of them distinct (the others are the same season set by set); \
             {} dropped as clearly worse than a leader, {} ran all {} seasons; {evaluations} \
             candidate-seasons in all.",
            found.described,
            found.entries.len(),
            dropped,
            found.ranking.len(),
            found.finished,
        )];
        if refused > 0 {
            let why: Vec<String> =
                found.refused.iter().map(|r| format!("{} × {}", r.count, r.why)).collect();
            out.push(format!("{refused} could not be scheduled: {}.", why.join("; ")));
        }
        let order = if space.words.every_order {
            "in every order"
        } else {
            "each weighting in one order (the outlet first, then outwards, sides by turns): at whole \
             cycles the order matters only through weather and clock, inside a cycle it matters more"
        };
        let repeats = if space.words.repeats { "with repeats" } else { "without repeats" };
        let edges: Vec<&str> = space.edges.iter().map(|edges| edges.words()).collect();
        let clocks: Vec<&str> = space.clocks.iter().map(|clock| clock.words()).collect();
        out.push(format!(
            "Rotations of up to {} passes over all reachable stops, {repeats}, {order}. Edges: {}. \
             Clocks: {}. All run the same number of passes.",
            space.words.longest,
            edges.join("; "),
            clocks.join("; ")
        ));
        out.push(format!(
            "Not tried: anything beyond these lists; stops between those on the list; other \
             sprinklers. Half of the allowed error of {} % is spent on dropping, shared by all pairs \
             and looks (each interval of the race at {} %), half on the ranking.",
            number(100.0 * (1.0 - found.ask.level), 1),
            number(100.0 * found.race_level, 4)
        ));
        out
    }
}
