//! One season for every alternative, pass by pass.

use super::changed::{AlternativeSeason, Common, OfPass, Origin, Seasons};
use super::control::SeasonControl;
use super::error::SeasonError;
use super::layout::Layout;
use super::outcome::{AlternativeOutcome, Outcome};
use super::plans::plans;
use super::prepare::PreparedSeason;
use super::tally::{Regions, Tally};
use crate::model::Scenario;
use crate::schedule::Plan;
use rayon::prelude::*;
use std::sync::Arc;

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

/// Simulates a season of which parts may be known: an alternative that follows from the same as one of
/// `before` is taken over from there, and the viewer is shown the passes of the others. Of every pass
/// `of_pass` makes what is kept. The seasons are given for the next such run too.
///
/// # Errors
/// As [`run`].
pub fn run_changed<T: Send + Sync>(
    scenario: &Scenario,
    before: &[Arc<AlternativeSeason<T>>],
    of_pass: OfPass<'_, T>,
    control: SeasonControl<'_>,
) -> Result<(Outcome, Seasons<T>), SeasonError> {
    let prepared = PreparedSeason::of(scenario, plans(scenario)?, 0, control.maps())?;
    let regions = Regions::of(scenario);
    let common = Common::of(scenario, &prepared, (regions.margin_m, control.keeps_first()));
    let origins = prepared.layouts.iter().map(|layout| Origin::of(&common, &prepared, layout));
    let origins: Vec<Origin> = origins.collect();
    let is_new = |layout: &Layout<'_>| {
        let (origin, plan) = (&origins[layout.index], &layout.plan);
        !before.iter().any(|known| known.is_of(origin, plan))
    };
    let mut laid = lay(&prepared, &regions, is_new, of_pass, control)?.into_iter();
    let mut seasons = Vec::with_capacity(origins.len());
    for (layout, origin) in prepared.layouts.iter().zip(origins) {
        let known = before.iter().find(|known| known.is_of(&origin, &layout.plan));
        seasons.extend(known.map(Arc::clone).or_else(|| {
            let (outcome, passes) = laid.next()?;
            Some(Arc::new(AlternativeSeason { origin, outcome, passes: Arc::new(passes) }))
        }));
    }
    let alternatives = seasons.iter().map(|season| season.outcome.clone()).collect();
    Ok((outcome_of(scenario, &prepared, &regions, alternatives), seasons))
}

fn simulate(
    scenario: &Scenario,
    plans: Vec<Plan>,
    season: u32,
    control: SeasonControl<'_>,
) -> Result<Outcome, SeasonError> {
    let prepared = PreparedSeason::of(scenario, plans, season, control.maps())?;
    let regions = Regions::of(scenario);
    let laid = lay(&prepared, &regions, |_| true, &|_| (), control)?;
    let alternatives = laid.into_iter().map(|(outcome, _)| outcome).collect();
    Ok(outcome_of(scenario, &prepared, &regions, alternatives))
}

/// The seasons of those alternatives that are `asked`, in order, each with what `of_pass` makes of its
/// passes.
fn lay<T: Send>(
    prepared: &PreparedSeason<'_>,
    regions: &Regions,
    asked: impl Fn(&Layout<'_>) -> bool,
    of_pass: OfPass<'_, T>,
    mut control: SeasonControl<'_>,
) -> Result<Vec<(AlternativeOutcome, Vec<T>)>, SeasonError> {
    let makers = prepared.season_makers()?;
    let footprints = prepared.footprints(&makers);
    let layouts: Vec<&Layout<'_>> = prepared.layouts.iter().filter(|one| asked(one)).collect();
    let keeps_first = control.keeps_first();
    let tallies = layouts.iter().map(|layout| Tally::new(Layout::clone(layout), keeps_first));
    let mut tallies: Vec<(Tally<'_>, Vec<T>)> = tallies.map(|tally| (tally, Vec::new())).collect();
    let total = layouts.iter().map(|layout| layout.plan.passes.len()).max().unwrap_or(0);
    let made = |pass: usize| (pass < total).then(|| footprints.of_pass(&layouts, pass)).transpose();
    let mut laid = made(0)?;
    for pass in 0..total {
        let Some(here) = laid.take() else { break };
        let lay = |(tally, kept): &mut (Tally<'_>, Vec<T>)| {
            kept.extend(tally.lay_pass(pass, &here, regions, of_pass));
        };
        // The next pass's footprints are made while this one is laid: no thread waits for the last.
        let (next, ()) = rayon::join(|| made(pass + 1), || tallies.par_iter_mut().for_each(lay));
        laid = next?;
        if let Some(viewer) = control.viewer() {
            tallies.iter().filter_map(|(tally, _)| tally.laid(pass)).for_each(viewer);
        }
        let done = pass + 1;
        if !control.goes_on(done, total) && done < total {
            return Err(SeasonError::Stopped { done, total });
        }
    }
    tallies.into_iter().map(|(tally, kept)| Ok((tally.close()?, kept))).collect()
}

fn outcome_of(
    scenario: &Scenario,
    prepared: &PreparedSeason<'_>,
    regions: &Regions,
    alternatives: Vec<AlternativeOutcome>,
) -> Outcome {
    Outcome {
        grid: scenario.field.grid,
        interior_margin_m: regions.margin_m,
        edge_strip_m: regions.margin_m,
        wind: prepared.hours.wind_summary(prepared.layouts.first().map(|layout| &layout.plan)),
        alternatives,
        notices: prepared.notices(),
    }
}
