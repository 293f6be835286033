//! One season for every alternative, pass by pass.

use super::control::SeasonControl;
use super::error::SeasonError;
use super::outcome::Outcome;
use super::plans::plans;
use super::prepare::PreparedSeason;
use super::tally::{Regions, Tally};
use crate::model::Scenario;
use crate::schedule::Plan;
use rayon::prelude::*;

/// Simulates the season. The viewer is shown every pass of every alternative.
///
/// # Errors
/// What the scenario asks for cannot be computed, or the run was stopped.
pub fn run(scenario: &Scenario, control: SeasonControl<'_>) -> Result<Outcome, SeasonError> {
    run_season(scenario, 0, control)
}

/// Simulates season number `season` of the weather; [`run`] is season 0.
///
/// # Errors
/// Those of [`run`].
pub(crate) fn run_season(
    scenario: &Scenario,
    season: u32,
    control: SeasonControl<'_>,
) -> Result<Outcome, SeasonError> {
    simulate(scenario, plans(scenario)?, season, control)
}

/// Simulates the season as `plans` have it, one for each alternative: what really happened, say,
/// in place of what was planned.
///
/// # Errors
/// As [`run`].
pub fn run_plans(
    scenario: &Scenario,
    plans: Vec<Plan>,
    control: SeasonControl<'_>,
) -> Result<Outcome, SeasonError> {
    simulate(scenario, plans, 0, control)
}

fn simulate(
    scenario: &Scenario,
    plans: Vec<Plan>,
    season: u32,
    mut control: SeasonControl<'_>,
) -> Result<Outcome, SeasonError> {
    let prepared = PreparedSeason::of(scenario, plans, season, control.maps())?;
    let makers = prepared.season_makers()?;
    let footprints = prepared.footprints(&makers);
    let layouts = prepared.layouts();
    let regions = Regions::of(scenario);
    let keeps_first = control.keeps_first();
    let mut tallies: Vec<_> =
        layouts.iter().map(|layout| Tally::new((*layout).clone(), keeps_first)).collect();
    let total = prepared.passes();
    let made = |pass: usize| (pass < total).then(|| footprints.of_pass(&layouts, pass)).transpose();
    let mut laid = made(0)?;
    for pass in 0..total {
        let Some(here) = laid.take() else { break };
        // The next pass's footprints are made while this one is laid: no thread waits for the last.
        let (next, ()) = rayon::join(
            || made(pass + 1),
            || tallies.par_iter_mut().for_each(|tally| tally.lay_pass(pass, &here, &regions)),
        );
        laid = next?;
        if let Some(viewer) = control.viewer() {
            tallies.iter().filter_map(|tally| tally.laid(pass)).for_each(viewer);
        }
        let done = pass + 1;
        if !control.goes_on(done, total) && done < total {
            return Err(SeasonError::Stopped { done, total });
        }
    }
    let alternatives = tallies.into_iter().map(Tally::close).collect::<Result<_, _>>()?;
    Ok(Outcome {
        grid: scenario.field.grid,
        interior_margin_m: regions.margin_m,
        edge_strip_m: regions.margin_m,
        wind: prepared.hours.wind_summary(layouts.first().map(|layout| &layout.plan)),
        alternatives,
        notices: prepared.notices(),
    })
}
