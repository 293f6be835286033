//! One season: its passes kept for the page, its figures, and its answer in words.

use super::clock::iso;
use super::last_seasons::LastSeasons;
use crate::handlers::display::{Display, own_depths};
use crate::handlers::figures::inside;
use crate::handlers::request::display_units;
use crate::jobs::run::{Kept, Run};
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_core::season::zoom::watered_hours;
use evenfall_core::season::{
    self, AlternativeOutcome, Laid, LandingMapCache, Outcome, Progress, SeasonControl, SeasonError,
    WateredHour,
};
use evenfall_core::statistics::Numbers;
use evenfall_core::uniformity::Uniformity;
use evenfall_core::worth::{WorthError, check_plan};
use evenfall_figures::{
    ONE_SEASON, ONLY_WATER, interior_words, map_range_mm, season_headline, season_words,
};
use evenfall_scenario::Resolved;
use evenfall_view::{Amount, FigureHead, Figures, PlanCheck, Regions, Split, UnitSystem, Water};
use serde::Serialize;
use std::sync::Arc;
use utoipa::ToSchema;

/// A season that was run.
#[derive(Debug)]
pub(crate) struct SeasonFound {
    /// Of the depths only those at the end: who needs more runs it again.
    pub(crate) outcome: Outcome,
    pub(crate) display: Display,
    /// Shown depth of every pass of every alternative, mm; shared with seasons that have the same.
    pub(crate) passes: Vec<Arc<Vec<Vec<f32>>>>,
    pub(crate) summary: SeasonSummary,
}

impl SeasonFound {
    pub(crate) fn bytes(&self) -> usize {
        let shown = 4 * self.display.columns * self.display.rows;
        let passes: usize = self.passes.iter().map(|passes| passes.len()).sum();
        let cells = self.outcome.grid.cells_along * self.outcome.grid.cells_across;
        let own = |one: &AlternativeOutcome| (8 + 4 * one.snapshots.len()) * cells;
        passes * shown + self.outcome.alternatives.iter().map(own).sum::<usize>()
    }
}

/// What a season did, for the page.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct SeasonSummary {
    /// Cells of the grids that can be fetched.
    pub(crate) grid: GridView,
    /// Date and time of hour 0: midnight of the first day.
    pub(crate) start: String,
    /// Ends of the colors for depths of the whole season, mm.
    #[schema(min_items = 2, max_items = 2)]
    pub(crate) depth_scale_mm: [f64; 2],
    /// Ends of the colors for depths of single passes, mm.
    #[schema(min_items = 2, max_items = 2)]
    pub(crate) pass_scale_mm: [f64; 2],
    /// Hours with water, under any alternative.
    pub(crate) wind: Vec<WindHour>,
    /// What the figures are, in the order of their columns.
    pub(crate) figures: Vec<FigureHead>,
    /// The plans beside their yardsticks, before any rotation.
    pub(crate) plan: PlanCheck,
    pub(crate) alternatives: Vec<AlternativeSeason>,
    /// The answer in plain words: its first paragraph.
    pub(crate) headline: String,
    /// All paragraphs of the answer.
    pub(crate) answer: Vec<String>,
    /// What the figures are taken over.
    pub(crate) interior: String,
    /// Its paragraph that holds only while nothing but water was calculated.
    pub(crate) only_water: &'static str,
    /// What it cannot say.
    pub(crate) limits: Vec<String>,
    /// The lines that the command prints.
    pub(crate) printed: String,
    /// What the reader must know.
    pub(crate) notices: Vec<String>,
}

/// Cells of the grids that can be fetched.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct GridView {
    pub(crate) columns: usize,
    pub(crate) rows: usize,
    /// Side of a shown cell, m; a whole number of the run's own cells.
    pub(crate) cell_m: f64,
    /// Side of the run's own cells, on which all figures are computed, m.
    pub(crate) own_cell_m: f64,
}

/// The wind of an hour.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct WindHour {
    pub(crate) hour_h: usize,
    pub(crate) speed_m_s: f64,
    /// Where it blows from, degrees clockwise from north.
    pub(crate) from_deg: f64,
}

/// One alternative's season.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct AlternativeSeason {
    pub(crate) name: String,
    pub(crate) passes: Vec<PassSeason>,
    /// Figures at the end of the season.
    #[serde(rename = "final")]
    pub(crate) last: Regions,
    /// Systematic and random unevenness; `null` with fewer than two whole cycles.
    pub(crate) split: Option<Split>,
    pub(crate) water: Water,
}

/// Figures of the interior (the whole field where there is none) after a pass: of the pass alone
/// and of all passes so far; `null` where no water fell.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct PassSeason {
    pub(crate) letter: char,
    pub(crate) start_h: f64,
    pub(crate) end_h: f64,
    pub(crate) start: String,
    pub(crate) end: String,
    /// Whether a cycle of the rotation is whole with it.
    pub(crate) ends_a_cycle: bool,
    /// Figures of its own water, by key.
    #[schema(value_type = Option<BTreeMap<String, Amount>>)]
    pub(crate) alone: Option<Figures>,
    /// Figures of all water so far, by key.
    #[schema(value_type = Option<BTreeMap<String, Amount>>)]
    pub(crate) cumulative: Option<Figures>,
    /// Mean depth of the pass and of all passes so far, mm: what deviations are told from.
    pub(crate) mean_mm: Option<f64>,
    pub(crate) cumulative_mean_mm: Option<f64>,
}

/// Runs the season of `run`; alternatives that are as they were in the last one are taken over from there.
pub(super) fn compute<F: Kept>(
    cache: &LandingMapCache,
    last: &LastSeasons,
    run: &Run<F>,
) -> Result<SeasonFound, String> {
    let resolved = &run.order.resolved;
    let go_on = |Progress { done, total }: Progress| {
        run.progress(done, total, "passes");
        !run.is_canceled()
    };
    let found = simulate(cache, last, resolved, &go_on);
    found.map_err(|error| error.to_string())
}

/// The season on the scenario's cells, with what the page needs of it.
fn simulate(
    cache: &LandingMapCache,
    last: &LastSeasons,
    resolved: &Resolved,
    go_on: &(dyn Fn(Progress) -> bool + Sync),
) -> Result<SeasonFound, WorthError> {
    let (scenario, units) = (&resolved.scenario, display_units(resolved));
    let plans = season::plans(scenario)?;
    let passes: usize = plans.iter().map(|plan| plan.passes.len()).sum();
    let agronomy = resolved.worth.as_ref().map(|(agronomy, _)| agronomy);
    let plan = check_plan(scenario, plans.clone(), agronomy)?;
    let plan = PlanCheck::new(scenario, &plan, units);
    let display = Display::of(&scenario.field.grid, passes);
    let boundary = scenario.field.boundary.as_ref();
    let shown = |laid: Laid<'_>| display.shrink(laid.pass_mm, boundary);
    let control = SeasonControl::new(go_on).with_landing_maps(cache).with_end_only();
    let (outcome, seasons) = season::run_changed(scenario, &last.on(&display), &shown, control)?;
    let shown: Vec<_> = seasons.iter().map(|season| Arc::clone(&season.passes)).collect();
    last.note(display, seasons);
    let summary = summary_of((scenario, plan), &outcome, units, &display, &shown)?;
    Ok(SeasonFound { outcome, display, passes: shown, summary })
}

/// The season in numbers and words.
fn summary_of(
    (scenario, plan): (&Scenario, PlanCheck),
    outcome: &Outcome,
    units: UnitSystem,
    display: &Display,
    passes: &[Arc<Vec<Vec<f32>>>],
) -> Result<SeasonSummary, SeasonError> {
    // Scenario and outcome belong together: one was made from the other.
    let answer = season_words(scenario, outcome, units).unwrap_or_default();
    let whole = scenario.field.whole();
    let last: Vec<Numbers<'_>> =
        outcome.alternatives.iter().flat_map(|found| own_depths(&whole, found)).collect();
    let shown = passes.iter().flat_map(|passes| passes.iter());
    let shown: Vec<Numbers<'_>> = shown.map(|pass| Numbers::Single(pass)).collect();
    let wind = |hour: &WateredHour| WindHour {
        hour_h: hour.hour,
        speed_m_s: hour.speed_m_s,
        from_deg: hour.from_deg,
    };
    let midnight = outcome.alternatives.first().map(|found| iso(&found.plan, 0.0));
    let pairs = scenario.alternatives.iter().zip(&outcome.alternatives);
    Ok(SeasonSummary {
        grid: GridView {
            columns: display.columns,
            rows: display.rows,
            cell_m: display.cell_m,
            own_cell_m: outcome.grid.cell_m,
        },
        start: midnight.unwrap_or_default(),
        depth_scale_mm: map_range_mm(&last, units),
        pass_scale_mm: map_range_mm(&shown, units),
        wind: watered_hours(scenario)?.iter().map(wind).collect(),
        figures: FigureHead::all(),
        plan,
        alternatives: pairs.map(|(asked, found)| alternative(&asked.name, found, units)).collect(),
        headline: answer.first().cloned().unwrap_or_default(),
        answer,
        interior: interior_words(scenario, outcome, units).unwrap_or_default(),
        only_water: ONLY_WATER,
        limits: vec![ONE_SEASON.to_owned()],
        printed: season_headline(scenario, outcome),
        notices: outcome.notices.clone(),
    })
}

fn alternative(name: &str, found: &AlternativeOutcome, units: UnitSystem) -> AlternativeSeason {
    AlternativeSeason {
        name: name.to_owned(),
        passes: (0..found.passes.len())
            .map(|pass| pass_view(&found.plan, found, pass, units))
            .collect(),
        last: Regions::new(found.season_figures(), units),
        split: found.split.map(|split| Split::new(&split, found.split_miss)),
        water: Water::new(&found.water, units),
    }
}

fn pass_view(
    plan: &Plan,
    found: &AlternativeOutcome,
    pass: usize,
    units: UnitSystem,
) -> PassSeason {
    let planned = &plan.passes[pass];
    let (start_h, end_h) = planned.span_h();
    let alone = inside(&found.passes[pass].alone);
    let cumulative = inside(&found.passes[pass].cumulative);
    let figures = |found: Option<Uniformity>| found.map(|found| Figures::new(&found, units));
    PassSeason {
        letter: planned.letter,
        start_h,
        end_h,
        start: iso(plan, start_h),
        end: iso(plan, end_h),
        ends_a_cycle: (pass + 1).is_multiple_of(plan.cycle.max(1)),
        alone: figures(alone),
        cumulative: figures(cumulative),
        mean_mm: alone.map(|f| f.mean_depth_mm),
        cumulative_mean_mm: cumulative.map(|f| f.mean_depth_mm),
    }
}
