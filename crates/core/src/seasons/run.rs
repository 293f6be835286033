//! Season after season, in small batches side by side, added up in order of season.

use super::figures::SeasonFigures;
use super::outcome::{Seasons, Walked};
use super::walk::SeasonWalk;
use crate::doubt::apply::drawn_scenario;
use crate::doubt::draws::Ranges;
use crate::doubt::table::Doubt;
use crate::model::Scenario;
use crate::root_zone::ground::Ground;
use crate::schedule::Plan;
use crate::season::hours::{SeasonHours, WindRange};
use crate::season::landing_maps::LandingMapCache;
use crate::season::layout::Layout;
use crate::season::prepare::Footprints;
use crate::season::sprinklers::{Makers, Sprinklers};
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
    let subject = Subject { scenario, ground, doubts: None };
    run_wanted(subject, count, &|_| count, control)
}

/// The scenario's own season along `plans`, one an alternative, with everything taken as it stands.
///
/// # Errors
/// Those of [`run`].
pub fn run_plans(
    scenario: &Scenario,
    ground: &Ground,
    plans: Vec<Plan>,
) -> Result<Vec<SeasonFigures>, SeasonError> {
    let hours = SeasonHours::of(scenario, &plans, 0)?;
    let makers = Sprinklers::of(scenario, None, hours.wind_range())?
        .makers(scenario.field.grid.cell_m, FOOTPRINTS)?;
    let layouts = Layout::of_all(scenario, plans)?;
    let walk = SeasonWalk {
        ground,
        season: 0,
        footprints: Footprints { hours: &hours, makers: &makers },
        margin_m: scenario.interior_margin_m(),
        smoothing_m: scenario.smoothing_m,
    };
    let walked: Vec<Walked> = walk.of(&layouts, |walked| walked)?;
    Ok(walked.into_iter().map(|walked| walked.figures).collect())
}

/// What many seasons are run on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Subject<'a> {
    /// The scenario.
    pub(crate) scenario: &'a Scenario,
    /// Crop and soil.
    pub(crate) ground: &'a Ground,
    /// What is drawn anew for every two seasons; `None` where all is taken as it stands.
    pub(crate) doubts: Option<&'a Ranges>,
}

/// How the water of a season is laid.
enum Laid<'a> {
    /// By the same footprint makers in every season.
    AsGiven(Makers),
    /// By makers drawn for each.
    Drawn(&'a Ranges),
}

/// Runs as many seasons as are `wanted` after those that are finished, at most `most`.
///
/// # Errors
/// Those of [`run`].
pub(crate) fn run_wanted(
    subject: Subject<'_>,
    most: usize,
    wanted: &dyn Fn(&Seasons) -> usize,
    mut control: SeasonsControl<'_>,
) -> Result<Seasons, SeasonError> {
    let Subject { scenario, ground, doubts } = subject;
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
    let makers = |scenario: &Scenario, maps: Option<&LandingMapCache>| {
        Sprinklers::of(scenario, maps, winds)?.makers(scenario.field.grid.cell_m, FOOTPRINTS)
    };
    let laid = match doubts {
        Some(doubts) => Laid::Drawn(doubts),
        None => Laid::AsGiven(makers(scenario, control.maps())?),
    };
    let margin_m = scenario.interior_margin_m();
    // Two seasons that share a draw share its landing maps.
    let drawn_maps = LandingMapCache::default();
    let walk = |season: usize| -> Result<Vec<Walked>, SeasonError> {
        let (plans, hours) = weather(season)?;
        let walk = |scenario: &Scenario, ground: &Ground, hours: &SeasonHours, makers: &Makers| {
            let layouts = Layout::of_all(scenario, plans)?;
            let footprints = Footprints { hours, makers };
            SeasonWalk { ground, season, footprints, margin_m, smoothing_m: scenario.smoothing_m }
                .of(&layouts, |walked| walked)
        };
        match &laid {
            Laid::AsGiven(makers) => walk(scenario, ground, &hours, makers),
            Laid::Drawn(doubts) => {
                let (drawn, scenario) = (doubts.drawn(season), drawn_scenario(scenario, season)?);
                let hours = hours.with_losses(drawn.of(Doubt::Losses));
                let makers = makers(&scenario, Some(&drawn_maps))?;
                walk(&scenario, &drawn.ground(ground, season), &hours, &makers)
            }
        }
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
