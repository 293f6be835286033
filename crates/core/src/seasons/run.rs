//! Season after season, in batches side by side, put in order of season.

use super::figures::SeasonFigures;
use super::outcome::Seasons;
use super::pairs::Pairs;
use super::subject::Subject;
use super::tile::Room;
use super::walk::SeasonWalk;
use crate::model::Scenario;
use crate::root_zone::ground::Ground;
use crate::schedule::Plan;
use crate::season::hours::SeasonHours;
use crate::season::landing_maps::LandingMapCache;
use crate::season::layout::Layout;
use crate::season::prepare::Footprints;
use crate::season::sprinklers::Sprinklers;
use crate::season::{HoursLaid, RunControl, SeasonError};

/// Seasons after which what they come to is shown first; then after twice as many, and so on, so that
/// many cores have enough to do.
const FIRST_BATCH: usize = 4;
const LARGEST_BATCH: usize = 64;

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
    run_laid(scenario, ground, (count, HoursLaid::NearestWind), control)
}

/// The same with hours laid as asked.
pub(crate) fn run_laid(
    scenario: &Scenario,
    ground: &Ground,
    (count, hours_laid): (usize, HoursLaid),
    control: SeasonsControl<'_>,
) -> Result<Seasons, SeasonError> {
    let subject =
        Subject { scenario, ground, doubts: None, hours_laid, first: 0, keeps_maps: true };
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
    run_plans_laid(scenario, ground, plans, (HoursLaid::OwnWind, None))
}

/// The same with hours laid as asked, and landing maps kept in `maps`.
pub(crate) fn run_plans_laid(
    scenario: &Scenario,
    ground: &Ground,
    plans: Vec<Plan>,
    (hours_laid, maps): (HoursLaid, Option<&LandingMapCache>),
) -> Result<Vec<SeasonFigures>, SeasonError> {
    let hours = SeasonHours::of(scenario, &plans, 0)?;
    let makers = Sprinklers::of(scenario, maps, hours.wind_range())?.makers_for(
        scenario.field.grid.cell_m,
        hours_laid,
        maps,
    )?;
    let layouts = Layout::of_all(scenario, plans, hours_laid)?;
    let walk = SeasonWalk {
        ground,
        season: 0,
        footprints: Footprints { hours: &hours, makers: &makers, is_alone: true },
        margin_m: scenario.interior_margin_m(),
        smoothing_m: scenario.smoothing_m,
    };
    walk.of(&layouts, &mut Room::default(), |walked| walked.figures)
}

/// Runs as many seasons as are `wanted` after those that are finished, at most `most`, from the
/// subject's first one on.
///
/// # Errors
/// Those of [`run`].
pub(crate) fn run_wanted(
    subject: Subject<'_>,
    most: usize,
    wanted: &dyn Fn(&Seasons) -> usize,
    mut control: SeasonsControl<'_>,
) -> Result<Seasons, SeasonError> {
    let mut seasons = Seasons { first: subject.first, wanted: most, ..Seasons::default() };
    if most == 0 {
        return Ok(seasons);
    }
    let pairs = Pairs::of(subject, most, control.maps())?;
    let mut next = FIRST_BATCH;
    loop {
        let done = seasons.finished();
        seasons.wanted = wanted(&seasons).min(most);
        if done >= seasons.wanted {
            break;
        }
        // Where nobody looks on, no thread waits for the others between batches.
        let batch = if control.viewer().is_some() { next } else { most };
        let told = control.unwatched();
        let end = (done + batch).min(seasons.wanted);
        let goes_on = pairs.run(subject.first + done..subject.first + end, &told, &mut seasons)?;
        if let Some(viewer) = control.viewer() {
            viewer(&seasons);
        }
        if !goes_on {
            break;
        }
        next = (2 * next).min(LARGEST_BATCH);
    }
    if subject.keeps_maps {
        seasons.average();
    }
    Ok(seasons)
}
