//! The search: which rotations are worth considering for a machine and a field.
//!
//! ```text
//! Space ─Candidates::of→ distinct candidates with schedules (identical seasons merged)
//!    ─race→ few seasons for all, more for those not clearly beaten by what matters
//!    ─rank→ the rest in order of the aim, ties shown as ties, the simplest of them first
//! ```
//!
//! All candidates meet the same seasons and run the same number of passes. For aims of water the
//! depths are composed of passes (`water`); for aims of yield or money every candidate goes
//! through soil and crop in full: DUlq is no bound on yield, so screening by it could drop the best.
//! The fixed pattern is the baseline, is never dropped, and every gain is paired with it. The best
//! of each wheel and spacing and of each [`Kind`] of clock and edges is kept to the end.
//!
//! Neglected: alternatives of the scenario beyond the first, whose machine and sprinklers are
//! searched; a crew's error in keeping to a longer rotation.

pub mod candidates;
pub mod clocks;
mod combos;
mod course;
mod engine;
pub mod equipment;
mod found;
mod kinds;
mod layouts;
pub mod race;
pub mod rotations;
mod water;
mod weather;

pub use candidates::{Candidate, Candidates, MOST_CANDIDATES, Refused, Space};
pub use clocks::{ClockChange, TimeCost};
pub use equipment::Kit;
pub use found::{ComboFound, Entry, Found};
pub use kinds::{Kind, KindFound};
pub use layouts::Combo;
pub use race::{Dropped, Stage};
pub use rotations::{HandGrid, Words};
pub use water::Water;

use crate::ensemble::StatisticsError;
use crate::model::Scenario;
use crate::money::MoneyProblems;
use crate::schedule::ScheduleError;
use crate::season::hours::SeasonHours;
use crate::season::layout::Layout;
use crate::season::prepare::Sprinklers;
use crate::season::{self, LandingMapCache, Progress, SeasonError};
use crate::seasons::FOOTPRINTS;
use crate::worth::{Agronomy, Economics, WorthError, seasons_there_are, winds_there_are};
use rayon::prelude::*;

/// What candidates are ranked by, higher being better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// DUlq of the season's depth in the interior.
    DuLqInterior,
    /// DUlq of the season's depth over the whole field.
    DuLqWhole,
    /// Yield of the field's worst tenth.
    WorstTenth,
    /// Net return against the fixed pattern.
    NetReturn,
}

impl Aim {
    /// Whether water on the ground is enough to tell it.
    pub fn is_water(self) -> bool {
        matches!(self, Self::DuLqInterior | Self::DuLqWhole)
    }
}

/// The least difference worth the name, for each aim: candidates that are closer are ties.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Least {
    /// Of DUlq, fraction.
    pub du_lq: f64,
    /// Of the yield of the worst tenth, fraction of full yield.
    pub worst_tenth: f64,
    /// Of the net return, currency a hectare and year; `None` for that of the terms.
    pub net_per_ha: Option<f64>,
}

impl Least {
    fn of(&self, aim: Aim, economics: Option<&Economics>) -> f64 {
        match aim {
            Aim::DuLqInterior | Aim::DuLqWhole => self.du_lq,
            Aim::WorstTenth => self.worst_tenth,
            Aim::NetReturn => {
                let own = economics.map_or(0.0, |economics| economics.worthwhile_gain_per_ha);
                self.net_per_ha.unwrap_or(own)
            }
        }
    }
}

/// What is asked of the search.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchOptions {
    /// What is searched.
    pub space: Space,
    /// What shifted rotations need.
    pub kit: Kit,
    /// What the user cares about.
    pub aim: Aim,
    /// Differences too small to matter.
    pub least: Least,
    /// Seasons for those that stay in the race.
    pub seasons: usize,
    /// Seasons before the first look; as many as `seasons` for no race at all.
    pub first_seasons: usize,
    /// Level of intervals and of the ranking as a whole, fraction.
    pub confidence_level: f64,
    /// For aims of water: of so many of the best, yield and money are told too.
    pub weigh_best: usize,
}

/// Why a search cannot be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SearchError {
    /// There is no machine to search for.
    #[error("the scenario has no alternatives, so no machine to search for")]
    NoMachine,
    /// Nothing to search.
    #[error("nothing to search: no stop, schedule or edge treatment is left")]
    NoCandidates,
    /// More than can be told apart, or run.
    #[error(
        "{candidates} candidates are more than the {MOST_CANDIDATES} a search can take. Shorten the \
         rotations, or ask for fewer orders, schedules or edge treatments"
    )]
    TooMany {
        /// How many.
        candidates: usize,
    },
    /// An aim of yield or money without crop, soil and climate.
    #[error("{0} needs crop, soil and climate in the scenario")]
    NoCrop(&'static str),
    /// The records do not hold enough seasons to tell candidates apart.
    #[error(
        "the weather records hold {seasons} season(s); a search compares candidates over two or \
         more. Give more years of record, or a wind climate"
    )]
    TooFewSeasons {
        /// How many.
        seasons: usize,
    },
    /// The run was stopped before anything could be told.
    #[error("stopped before two seasons were done")]
    Stopped,
    /// The fixed pattern has no schedule.
    #[error(transparent)]
    Schedule(#[from] ScheduleError),
    /// A season cannot be simulated.
    #[error(transparent)]
    Season(#[from] SeasonError),
    /// Crop, soil, climate or prices make no sense.
    #[error(transparent)]
    Worth(#[from] WorthError),
    /// Equipment or prices make no sense.
    #[error(transparent)]
    Money(#[from] MoneyProblems),
    /// No statistics can be drawn.
    #[error(transparent)]
    Statistics(#[from] StatisticsError),
}

/// Searches. `go_on` is told how many candidate-seasons are done and how many may still come, and
/// stops the search by returning false; what is finished is kept.
///
/// # Errors
/// What is asked for cannot be enumerated or computed.
pub fn run(
    scenario: &Scenario,
    ask: &SearchOptions,
    worth: Option<(&Agronomy, &Economics)>,
    go_on: &(dyn Fn(Progress) -> bool + Sync),
) -> Result<Found, SearchError> {
    let aim = aim_within(ask.aim, worth)?;
    let there_are = match worth {
        Some((agronomy, _)) => seasons_there_are(scenario, agronomy)?,
        None => winds_there_are(scenario)?,
    };
    let seasons = ask.seasons.min(there_are.unwrap_or(usize::MAX));
    if seasons < 2 {
        return Err(SearchError::TooFewSeasons { seasons });
    }
    let ask =
        &SearchOptions { seasons, first_seasons: ask.first_seasons.min(seasons), ..ask.clone() };
    let mut candidates = Candidates::of(scenario, &ask.space, &ask.kit)?;
    weather::leave_out_unknown(scenario, seasons, &mut candidates);
    let many = Scenario {
        alternatives: candidates.all.iter().map(|c| c.alternative.clone()).collect(),
        ..scenario.clone()
    };
    let plans = season::plans(&many)?;
    let first_set = scenario.calendar.start.date();
    let ground = match worth {
        Some((agronomy, _)) => Some(agronomy.ground(first_set, ask.seasons)?),
        None => None,
    };
    let hours: Vec<SeasonHours> = (0..ask.seasons)
        .into_par_iter()
        .map(|season| SeasonHours::of(&many, &plans, season as u32))
        .collect::<Result<_, _>>()?;
    let fastest_m_s = hours.iter().map(SeasonHours::fastest_m_s).fold(0.0, f64::max);
    let measured_at_m = hours.first().map_or(0.0, SeasonHours::measured_at_m);
    let sprinklers =
        Sprinklers::of(&many, &LandingMapCache::default(), measured_at_m, fastest_m_s)?;
    let makers = sprinklers.makers(many.field.grid.cell_m, FOOTPRINTS)?;
    let layouts = Layout::of_all(&many, plans)?;
    let margin_m = many.interior_margin_m();
    let interior = many.field.interior_or_whole(margin_m);
    let engine = engine::Engine::new(&many, layouts, hours, makers, interior, go_on);
    let mut search = course::Search::new(scenario, ask, aim, worth, candidates);
    search.race(&engine, ground.as_ref())?;
    if let (true, Some(ground)) = (aim.is_water(), &ground) {
        search.weigh(&engine, ground)?;
    }
    search.close(margin_m)
}

/// The aim as far as the scenario can tell it: without a value of the yield there is no net return,
/// and the worst tenth takes its place.
fn aim_within(aim: Aim, worth: Option<(&Agronomy, &Economics)>) -> Result<Aim, SearchError> {
    match (aim, worth) {
        (Aim::WorstTenth, None) => Err(SearchError::NoCrop("the yield of the worst tenth")),
        (Aim::NetReturn, None) => Err(SearchError::NoCrop("the net return")),
        (Aim::NetReturn, Some((_, economics))) if !economics.prices.missing_value().is_empty() => {
            Ok(Aim::WorstTenth)
        }
        _ => Ok(aim),
    }
}

#[cfg(test)]
mod tests;
#[cfg(test)]
mod ties_tests;
