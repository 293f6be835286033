//! The driver: one season for every alternative, as one straight line.
//!
//! Every alternative meets the same weather. Sets that share sprinkler, hours and place within a
//! cell share their footprint, so a rotation costs little more than the fixed pattern. Passes are
//! laid one after another and only chosen cumulative depths are kept, so memory does not grow with
//! the number of passes.

mod air;
mod called;
pub(crate) mod hours;
pub(crate) mod kept;
pub(crate) mod layout;
mod outcome;
pub(crate) mod prepare;
mod strips;
mod tally;
mod worked;
pub mod zoom;

pub use air::air_at_moves;
pub use kept::LandingMapCache;
pub use outcome::{
    AlternativeOutcome, Outcome, PassOutcome, RegionFigures, Snapshot, WaterBalance, WindSummary,
};
pub use worked::{Worked, worked};

use crate::grid::DepthGrid;
use crate::lateral::hydraulics::{HydraulicsProblem, PressureLine};
// Until every user takes them from the model.
pub use crate::model::{Alternative, Called, Field, Region, Scenario};
use crate::root_zone::Ground;
use crate::schedule::{self, Plan, ScheduleError};
use crate::sprinkler::SprinklerProblem;
use crate::sprinkler::footprint::FootprintSettings;
use crate::weather::WeatherError;
use rayon::prelude::*;

/// Pressures along an alternative's lateral; `None` where all sprinklers have their stated one.
pub(crate) fn pressures_of(alternative: &Alternative) -> Result<Option<PressureLine>, SeasonError> {
    let named = |problem| SeasonError::Pressure { alternative: alternative.name.clone(), problem };
    alternative.pressures().map_err(named)
}

/// What all sprinklers of an alternative deliver together, m³/h.
fn discharge_m3_h(alternative: &Alternative) -> Result<f64, SeasonError> {
    let sprinklers = alternative.lateral.sprinklers as f64;
    let stated_l_s = alternative.sprinkler.discharge_l_s() * sprinklers;
    let line = pressures_of(alternative)?;
    Ok(3.6 * line.map_or(stated_l_s, |line| line.flow_l_s()))
}

/// How far a run has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Passes done.
    pub done: usize,
    /// Passes in all.
    pub total: usize,
}

/// Told how far a computation is; where it says no, the computation stops.
pub type GoOn<'a> = &'a (dyn Fn(Progress) -> bool + Sync);

/// [`SeasonError::Stopped`] where `go_on` says no.
fn asked(go_on: GoOn<'_>, done: usize, total: usize) -> Result<(), SeasonError> {
    if go_on(Progress { done, total }) { Ok(()) } else { Err(SeasonError::Stopped { done, total }) }
}

/// Why a season cannot be simulated.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SeasonError {
    /// There is nothing to compare.
    #[error("the scenario has no alternatives")]
    NoAlternatives,
    /// A schedule cannot be made.
    #[error("{alternative}: {problem}")]
    Schedule {
        /// Name of the alternative.
        alternative: String,
        /// What is wrong.
        problem: ScheduleError,
    },
    /// An alternative's own clock starts on another day.
    #[error("{alternative}: its season starts on another day than the scenario's")]
    OtherFirstDay {
        /// Name of the alternative.
        alternative: String,
    },
    /// The weather of an hour with water is unknown.
    #[error(transparent)]
    Weather(#[from] WeatherError),
    /// A sprinkler cannot be computed with.
    #[error("sprinkler: {0}")]
    Sprinkler(#[from] SprinklerProblem),
    /// The wind is measured at a height for which the wind profile has no meaning.
    #[error("the wind's measuring height of {measured_at_m} m is too low for a wind profile")]
    MeasuringHeight {
        /// That height, m.
        measured_at_m: f64,
    },
    /// Pressures along a lateral cannot be found.
    #[error("{alternative}: {problem}")]
    Pressure {
        /// Name of the alternative.
        alternative: String,
        /// What is wrong.
        problem: HydraulicsProblem,
    },
    /// Sprinklers do not stand a whole number of cells apart.
    #[error(
        "{alternative}: the cell of {cell_m} m does not divide the sprinkler spacing of {spacing_m} m"
    )]
    Cell {
        /// Name of the alternative.
        alternative: String,
        /// Cell, m.
        cell_m: f64,
        /// Sprinkler spacing, m.
        spacing_m: f64,
    },
    /// Water went missing: a fault of this program, not of the scenario.
    #[error("fault in this program: {alternative}: {imbalance:e} of the water is unaccounted for")]
    WaterLost {
        /// Name of the alternative.
        alternative: String,
        /// Share of the gross water.
        imbalance: f64,
    },
    /// Stopped by the caller.
    #[error("stopped after pass {done} of {total}")]
    Stopped {
        /// Passes done.
        done: usize,
        /// Passes wanted.
        total: usize,
    },
}

/// Largest share of the gross water that rounding may misplace.
pub const WATER_TOLERANCE: f64 = 1e-9;

/// Schedules of all alternatives in the first season.
///
/// # Errors
/// If one of them cannot be made.
pub fn plans(scenario: &Scenario) -> Result<Vec<Plan>, SeasonError> {
    plans_in(scenario, None, 0)
}

/// Schedules of all alternatives in season number `season`. Only passes that are called differ from
/// season to season; `ground` stands in for the scenario's where there is one.
pub(crate) fn plans_in(
    scenario: &Scenario,
    ground: Option<&Ground>,
    season: u32,
) -> Result<Vec<Plan>, SeasonError> {
    let days = match &scenario.called {
        Some(called) => Some(called.days(scenario, ground.unwrap_or(&called.ground), season)?),
        None => None,
    };
    let plan = |alternative: &Alternative| {
        let calendar = scenario.calendar_of(alternative);
        let plan = match &days {
            Some(days) => schedule::plan_called(calendar, &alternative.stops(), days),
            None => schedule::plan(calendar, &alternative.stops()),
        };
        let plan = plan.map_err(|problem| SeasonError::Schedule {
            alternative: alternative.name.clone(),
            problem,
        })?;
        if calendar.start.date() == scenario.calendar.start.date() {
            Ok(plan)
        } else {
            Err(SeasonError::OtherFirstDay { alternative: alternative.name.clone() })
        }
    };
    scenario.alternatives.iter().map(plan).collect()
}

/// One pass of one alternative as it has just been laid down.
#[derive(Clone, Copy, Debug)]
pub struct Laid<'a> {
    /// Which of the scenario's alternatives.
    pub alternative: usize,
    /// Which pass, from 0.
    pub pass: usize,
    /// Its net depth, mm.
    pub pass_mm: &'a DepthGrid,
    /// That of all passes so far, mm.
    pub cumulative_mm: &'a DepthGrid,
}

/// Simulates the season. `go_on` is told after every pass how far the run is, and stops it by
/// returning false.
///
/// # Errors
/// What the scenario asks for cannot be computed, or the caller stopped the run.
pub fn run(scenario: &Scenario, go_on: GoOn<'_>) -> Result<Outcome, SeasonError> {
    run_season(scenario, 0, go_on)
}

/// The same with landing maps from `kept`; `seen` is shown every pass of every alternative.
///
/// # Errors
/// Those of [`run`].
pub fn watch(
    scenario: &Scenario,
    kept: &LandingMapCache,
    go_on: GoOn<'_>,
    seen: &mut dyn FnMut(Laid<'_>),
) -> Result<Outcome, SeasonError> {
    simulate(scenario, plans(scenario)?, 0, kept, go_on, seen)
}

/// Simulates season number `season` of the weather; [`run`] is season 0.
///
/// # Errors
/// Those of [`run`].
pub fn run_season(
    scenario: &Scenario,
    season: u32,
    go_on: GoOn<'_>,
) -> Result<Outcome, SeasonError> {
    let kept = LandingMapCache::default();
    simulate(scenario, plans(scenario)?, season, &kept, go_on, &mut |_| ())
}

/// Simulates the season as `plans` have it, one for each alternative: what really happened, say,
/// in place of what was planned.
///
/// # Errors
/// As [`run`].
pub fn run_plans(
    scenario: &Scenario,
    plans: Vec<Plan>,
    go_on: GoOn<'_>,
) -> Result<Outcome, SeasonError> {
    simulate(scenario, plans, 0, &LandingMapCache::default(), go_on, &mut |_| ())
}

fn simulate(
    scenario: &Scenario,
    plans: Vec<Plan>,
    season: u32,
    kept: &LandingMapCache,
    go_on: GoOn<'_>,
    seen: &mut dyn FnMut(Laid<'_>),
) -> Result<Outcome, SeasonError> {
    let total =
        plans.iter().map(|plan| plan.passes.len()).max().ok_or(SeasonError::NoAlternatives)?;
    let hours = hours::SeasonHours::of(scenario, &plans, season)?;
    let sprinklers =
        prepare::Sprinklers::of(scenario, kept, hours.measured_at_m(), hours.fastest_m_s())?;
    let settings = FootprintSettings::default();
    let makers = sprinklers.makers(scenario.field.grid.cell_m, settings)?;
    let regions = tally::Regions::of(scenario);
    let layouts = layout::Layout::of_all(scenario, plans)?;
    let by_reference: Vec<&layout::Layout<'_>> = layouts.iter().collect();
    let mut tallies: Vec<_> = layouts.iter().cloned().map(tally::Tally::new).collect();
    for pass in 0..total {
        let laid = prepare::footprints(&by_reference, pass, &hours, &makers)?;
        tallies.par_iter_mut().for_each(|tally| tally.lay_pass(pass, &laid, &regions));
        tallies.iter().filter_map(|tally| tally.laid(pass)).for_each(&mut *seen);
        let done = pass + 1;
        if !go_on(Progress { done, total }) && done < total {
            return Err(SeasonError::Stopped { done, total });
        }
    }
    let mut notices = hours.notices();
    notices.extend(sprinklers.notices());
    Ok(Outcome {
        grid: scenario.field.grid,
        interior_margin_m: regions.margin_m,
        edge_strip_m: regions.margin_m,
        wind: hours.wind_summary(layouts.first().map(|layout| &layout.plan)),
        alternatives: tallies.into_iter().map(tally::Tally::close).collect::<Result<_, _>>()?,
        notices,
    })
}

#[cfg(test)]
mod boundary_tests;
#[cfg(test)]
mod pressure_tests;
#[cfg(test)]
pub(crate) mod tests;
