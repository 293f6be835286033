//! A season as it is shown: figures by pass and by part of the field, the split of the unevenness,
//! where the water went. Made once; summary.json, passes.csv, the report's tables and the
//! explorer's answer follow from it.

mod parts;

pub use parts::{DayNight, Pressure, Rule, SeasonGrid, Split, Stop, Time, Water, Wind};

use crate::cell::cell_text;
use crate::figures::{Figure, Figures};
use crate::notes::ReportNotes;
use crate::plan_check::PlanCheck;
use crate::units::UnitSystem;
use crate::value::Amount;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_core::season::{AlternativeOutcome, Outcome, RegionFigures};
use evenfall_core::uniformity::Uniformity;
use serde::Serialize;
use utoipa::ToSchema;

/// A season.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Season {
    /// Title of the scenario.
    pub title: String,
    /// The question the run answers.
    pub question: String,
    /// The scenario is made up.
    pub invented: bool,
    /// Version of the program.
    pub version: String,
    /// Seed of the season's weather.
    pub seed: u64,
    /// Digest of the scenario's text.
    pub scenario_sha256: String,
    /// The command that gives it again.
    pub command: String,
    /// Cells, and the parts of the field that figures are taken over.
    pub grid: SeasonGrid,
    /// The wind while water ran.
    pub wind: Wind,
    /// The plans beside their yardsticks; `null` where they were not checked.
    pub plan: Option<PlanCheck>,
    /// Alternative by alternative, the baseline first.
    pub alternatives: Vec<AlternativeSeason>,
    /// What the reader must be told.
    pub notices: Vec<String>,
    /// Warnings of the scenario's reader.
    pub warnings: Vec<String>,
}

/// One alternative's season.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct AlternativeSeason {
    /// Its name.
    pub name: String,
    /// The stops used, in order of first use.
    pub stops: Vec<Stop>,
    /// Passes in a cycle of the rotation.
    pub cycle_passes: usize,
    /// Passes after the last whole cycle.
    pub passes_into_cycle: usize,
    /// Day and night.
    #[serde(flatten)]
    pub day_night: DayNight,
    /// Figures of all water at the end of the season.
    pub season: Regions,
    /// Systematic and random unevenness; `null` with fewer than two whole cycles.
    pub split: Option<Split>,
    /// Where the water went.
    pub water: Water,
    /// Rules of thumb beside the simulation.
    pub rules_of_thumb: Vec<Rule>,
    /// Pressure along the pipe; `null` where no pipe is described.
    pub pressure: Option<Pressure>,
    /// Pass by pass.
    pub passes: Vec<Pass>,
}

/// One pass.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Pass {
    /// Its number, from 1.
    pub pass: usize,
    /// Letter of the stop.
    pub stop: char,
    /// Shift from the outlet in the direction of travel.
    pub shift_across: Amount,
    /// Shift along the pipe.
    pub shift_along: Amount,
    /// Start of its first set; `null` without sets.
    pub start: Option<Time>,
    /// End of its last set.
    pub end: Option<Time>,
    /// Whether a cycle of the rotation is complete with it.
    pub cycle_complete: bool,
    /// Figures of its own water.
    pub alone: Regions,
    /// Figures of all water so far.
    pub cumulative: Regions,
}

/// Figures by part of the field; `null` where no water fell.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Regions {
    /// The field less one outlet spacing at each edge.
    pub interior: Option<Figures>,
    /// Every cell.
    pub whole: Option<Figures>,
    /// The strip along the first outlet's edge.
    pub first_strip: Option<Figures>,
    /// The strip along the last outlet's edge.
    pub last_strip: Option<Figures>,
}

impl Season {
    /// The season of `scenario` that came out as `outcome`; the two belong together.
    pub fn new(
        scenario: &Scenario,
        outcome: &Outcome,
        notes: &ReportNotes,
        units: UnitSystem,
    ) -> Self {
        let pairs = scenario.alternatives.iter().zip(&outcome.alternatives);
        let alternative = |(asked, found): (&evenfall_core::model::Alternative, _)| {
            AlternativeSeason::new(&asked.name, found, notes, units)
        };
        Self {
            title: scenario.title.clone(),
            question: notes.question.clone(),
            invented: notes.invented,
            version: notes.version.clone(),
            seed: scenario.seed,
            scenario_sha256: notes.digest.clone(),
            command: notes.command.clone(),
            grid: SeasonGrid::new(&scenario.field, outcome, units),
            wind: Wind::new(&outcome.wind, units),
            plan: notes.plan.as_ref().map(|found| PlanCheck::new(scenario, found, units)),
            alternatives: pairs.map(alternative).collect(),
            notices: outcome.notices.clone(),
            warnings: notes.warnings.clone(),
        }
    }
}

impl AlternativeSeason {
    fn new(name: &str, found: &AlternativeOutcome, notes: &ReportNotes, units: UnitSystem) -> Self {
        let plan = &found.plan;
        let mut stops: Vec<Stop> = Vec::new();
        for pass in &plan.passes {
            let stop = Stop::new(pass, units);
            if !stops.contains(&stop) {
                stops.push(stop);
            }
        }
        let rules = notes.rules.iter().filter(|of| of.alternative == name);
        Self {
            name: name.to_owned(),
            stops,
            cycle_passes: plan.cycle,
            passes_into_cycle: plan.passes_into_cycle,
            day_night: DayNight::new(&plan.day_night),
            season: Regions::new(found.season_figures(), units),
            split: found.split.map(|split| Split::new(&split, found.split_miss)),
            water: Water::new(&found.water, units),
            rules_of_thumb: rules.flat_map(|of| &of.rules).map(Rule::new).collect(),
            pressure: found.pressures.as_ref().map(Pressure::new),
            passes: (0..found.passes.len().min(plan.passes.len()))
                .map(|index| Pass::new(plan, found, index, units))
                .collect(),
        }
    }
}

impl Pass {
    fn new(plan: &Plan, found: &AlternativeOutcome, index: usize, units: UnitSystem) -> Self {
        let (planned, found) = (&plan.passes[index], &found.passes[index]);
        let Stop { letter, shift_across, shift_along } = Stop::new(planned, units);
        let time = |hour_h: f64| Time(plan.shown(hour_h).at);
        Self {
            pass: index + 1,
            stop: letter,
            shift_across,
            shift_along,
            start: planned.sets.first().map(|set| time(set.start_h)),
            end: planned.sets.last().map(|_| time(planned.span_h().1)),
            cycle_complete: (index + 1).is_multiple_of(plan.cycle.max(1)),
            alone: Regions::new(&found.alone, units),
            cumulative: Regions::new(&found.cumulative, units),
        }
    }
}

impl Regions {
    /// The figures of `found`, shown in `units`.
    pub fn new(found: &RegionFigures, units: UnitSystem) -> Self {
        let figures = |of: Option<Uniformity>| of.map(|found| Figures::new(&found, units));
        Self {
            interior: figures(found.interior),
            whole: figures(found.whole),
            first_strip: figures(found.first_strip),
            last_strip: figures(found.last_strip),
        }
    }

    /// The parts with their keys.
    pub fn by_key(&self) -> [(&'static str, Option<&Figures>); 4] {
        [
            ("interior", self.interior.as_ref()),
            ("whole", self.whole.as_ref()),
            ("first_strip", self.first_strip.as_ref()),
            ("last_strip", self.last_strip.as_ref()),
        ]
    }

    /// The interior, or the whole field where there is no interior.
    pub fn inside(&self) -> Option<&Figures> {
        self.interior.as_ref().or(self.whole.as_ref())
    }
}

/// Heads of the columns of [`Season::records`].
pub fn pass_columns() -> Vec<String> {
    let first = [
        "alternative",
        "pass",
        "stop",
        "shift_across_m",
        "shift_along_m",
        "start",
        "end",
        "cycle_complete",
        "scope",
        "region",
    ];
    let figures = crate::figures::FIGURES.iter().map(Figure::file_key);
    first.into_iter().map(str::to_owned).chain(figures).collect()
}

impl Season {
    /// Every figure of every pass in long form, for a season in SI units: one record per
    /// alternative, pass, scope and part of the field; empty where no water fell.
    pub fn records(&self) -> impl Iterator<Item = Vec<String>> {
        let passes = self.alternatives.iter();
        let passes = passes.flat_map(|own| own.passes.iter().map(move |pass| (own, pass)));
        passes.flat_map(|(own, pass)| {
            let scopes = [("alone", &pass.alone), ("cumulative", &pass.cumulative)];
            scopes.into_iter().flat_map(move |(scope, regions)| {
                let what = move |region: &str| pass.record(&own.name, scope, region);
                regions.by_key().map(|(region, figures)| [what(region), numbers(figures)].concat())
            })
        })
    }
}

impl Pass {
    fn record(&self, alternative: &str, scope: &str, region: &str) -> Vec<String> {
        let plain = |value: &Amount| value.number.map_or_else(String::new, |n| n.to_string());
        let iso = |time: &Option<Time>| time.as_ref().map_or_else(String::new, Time::iso);
        vec![
            cell_text(alternative),
            self.pass.to_string(),
            self.stop.to_string(),
            plain(&self.shift_across),
            plain(&self.shift_along),
            iso(&self.start),
            iso(&self.end),
            self.cycle_complete.to_string(),
            scope.to_owned(),
            region.to_owned(),
        ]
    }
}

fn numbers(figures: Option<&Figures>) -> Vec<String> {
    let Some(figures) = figures else {
        return vec![String::new(); crate::figures::FIGURES.len()];
    };
    figures.iter().map(|(figure, value)| figure.file_number(value)).collect()
}
