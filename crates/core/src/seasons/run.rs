//! Season after season, in small batches side by side, added up in order of season.

use super::outcome::{Seasons, Walked};
use super::walk::SeasonWalk;
use crate::doubt::draws::Ranges;
use crate::doubt::table::Doubt;
use crate::model::Scenario;
use crate::root_zone::ground::Ground;
use crate::schedule::Plan;
use crate::season::hours::{SeasonHours, WindRange};
use crate::season::landing_maps::LandingMapCache;
use crate::season::layout::Layout;
use crate::season::prepare::Footprints;
use crate::season::sprinklers::Sprinklers;
use crate::season::{self, RunControl, SeasonError};
use crate::sprinkler::footprint::FootprintSettings;
use rayon::prelude::*;

/// Seasons that run side by side: bounds memory, and fixes the order of sums.
const BATCH: usize = 4;

/// Coarser than for one season's pictures: within 0.05 points of CU of it, at half the time.
pub(crate) const FOOTPRINTS: FootprintSettings =
    FootprintSettings { rings_per_cell: 2.0, samples_per_cell: 2.0, subsamples: 4 };

/// What a run of many seasons is watched and stopped with. After every batch the viewer is shown
/// the seasons done so far, their maps being sums, not yet means.
pub(crate) type SeasonsControl<'a> = RunControl<'a, dyn FnMut(&Seasons) + 'a>;

/// Runs `count` seasons on `ground`. A run that is stopped keeps what is finished.
///
/// # Errors
/// What the scenario asks for cannot be computed, or water went missing.
pub fn run(
    scenario: &Scenario,
    ground: &Ground,
    count: usize,
    control: SeasonsControl<'_>,
) -> Result<Seasons, SeasonError> {
    run_wanted(scenario, ground, None, count, &|_| count, control)
}

/// Runs as many seasons as are `wanted` after those that are finished, at most `most`; where there
/// are `doubts`, each with its own draw of them.
///
/// # Errors
/// Those of [`run`].
pub(crate) fn run_wanted(
    scenario: &Scenario,
    ground: &Ground,
    doubts: Option<&Ranges>,
    most: usize,
    wanted: &dyn Fn(&Seasons) -> usize,
    mut control: SeasonsControl<'_>,
) -> Result<Seasons, SeasonError> {
    let mut seasons = Seasons { wanted: most, figures: Vec::new(), maps: Vec::new() };
    let weather = |number: usize| -> Result<(Vec<Plan>, SeasonHours), SeasonError> {
        let plans = season::plans_in(scenario, Some(ground), number as u32)?;
        let hours = SeasonHours::of(scenario, &plans, number as u32)?;
        Ok((plans, hours))
    };
    // Hours are had twice rather than kept: those of a thousand seasons would fill the memory.
    let winds = |number| weather(number).map(|(_, hours)| hours.wind_range());
    let winds: Vec<WindRange> = (0..most).into_par_iter().map(winds).collect::<Result<_, _>>()?;
    let Some(winds) = WindRange::of_all(winds) else { return Ok(seasons) };
    let sprinklers = Sprinklers::of(scenario, control.maps(), winds)?;
    let makers = sprinklers.makers(scenario.field.grid.cell_m, FOOTPRINTS)?;
    let margin_m = scenario.interior_margin_m();
    // Two seasons that share a draw share its landing maps.
    let drawn_maps = LandingMapCache::default();
    let walk = |season: usize| -> Result<Vec<Walked>, SeasonError> {
        let (plans, hours) = weather(season)?;
        if let Some(doubts) = doubts {
            let drawn = doubts.drawn(season);
            let (scenario, ground) = (drawn.scenario(scenario)?, drawn.ground(ground, season));
            let sprinklers = Sprinklers::of(&scenario, Some(&drawn_maps), winds)?;
            let makers = sprinklers.makers(scenario.field.grid.cell_m, FOOTPRINTS)?;
            let hours = hours.with_losses(drawn.of(Doubt::Losses));
            let layouts = Layout::of_all(&scenario, plans)?;
            let footprints = Footprints { hours: &hours, makers: &makers };
            let walk = SeasonWalk { ground: &ground, season, footprints, margin_m };
            return walk.of(&layouts, |walked| walked);
        }
        let layouts = Layout::of_all(scenario, plans)?;
        let footprints = Footprints { hours: &hours, makers: &makers };
        SeasonWalk { ground, season, footprints, margin_m }.of(&layouts, |walked| walked)
    };
    loop {
        let done = seasons.finished();
        seasons.wanted = wanted(&seasons).min(most);
        if done >= seasons.wanted {
            break;
        }
        let batch = done..(done + BATCH).min(seasons.wanted);
        let walked: Vec<_> = batch.into_par_iter().map(walk).collect::<Result<_, _>>()?;
        for season in walked {
            seasons.add(season);
        }
        if let Some(viewer) = control.viewer() {
            viewer(&seasons);
        }
        if !control.goes_on(seasons.finished(), seasons.wanted) {
            break;
        }
    }
    seasons.average();
    Ok(seasons)
}
