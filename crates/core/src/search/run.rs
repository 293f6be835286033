//! The search from candidates to the ranking.

use super::candidates::Candidates;
use super::course::Search;
use super::engine::{Engine, Entrants};
use super::error::SearchError;
use super::found::Found;
use super::options::{Aim, SearchOptions};
use super::weather;
use crate::model::Scenario;
use crate::season::hours::{SeasonHours, WindRange};
use crate::season::layout::Layout;
use crate::season::sprinklers::Sprinklers;
use crate::season::{self, HoursLaid, RunControl};
use crate::worth::{Agronomy, Economics, seasons_there_are, winds_there_are};
use rayon::prelude::*;

/// What a search is watched and stopped with. After every look but the last the viewer is shown what is
/// found so far: the candidates still in the race in order of rank.
pub type SearchControl<'a> = RunControl<'a, dyn FnMut(&Found) + 'a>;

/// Searches. Progress counts candidate-seasons: those done, and those that may still come. A search
/// that is stopped keeps what is finished.
///
/// # Errors
/// What is asked for cannot be enumerated or computed.
pub fn run(
    scenario: &Scenario,
    options: &SearchOptions,
    worth: Option<(&Agronomy, &Economics)>,
    mut control: SearchControl<'_>,
) -> Result<Found, SearchError> {
    let aim = aim_within(options.aim, worth)?;
    let there_are = match worth {
        Some((agronomy, _)) => seasons_there_are(scenario, agronomy)?,
        None => winds_there_are(scenario)?,
    };
    let seasons = options.seasons.min(there_are.unwrap_or(usize::MAX));
    if seasons < 2 {
        return Err(SearchError::TooFewSeasons { seasons });
    }
    let options = &SearchOptions {
        seasons,
        first_seasons: options.first_seasons.min(seasons),
        ..options.clone()
    };
    let mut candidates = Candidates::of(scenario, &options.space, &options.equipment)?;
    weather::leave_out_unknown(scenario, seasons, &mut candidates);
    let many = Scenario {
        alternatives: candidates.all.iter().map(|c| c.alternative.clone()).collect(),
        ..scenario.clone()
    };
    let plans = season::plans(&many)?;
    let first_set = scenario.calendar.start.date();
    let ground = match worth {
        Some((agronomy, _)) => {
            Some(agronomy.ground(first_set, options.seasons, Some(scenario.drawn_weather()))?)
        }
        None => None,
    };
    let hours: Vec<SeasonHours> = (0..options.seasons)
        .into_par_iter()
        .map(|season| SeasonHours::of(&many, &plans, season as u32))
        .collect::<Result<_, _>>()?;
    let winds = WindRange::of_all(hours.iter().map(SeasonHours::wind_range))
        .ok_or(SearchError::TooFewSeasons { seasons })?;
    let sprinklers = Sprinklers::of(&many, control.maps(), winds)?;
    let makers = sprinklers.makers_for(many.field.grid.cell_m, HoursLaid::NearestWind, None)?;
    let layouts = Layout::of_all(&many, plans, HoursLaid::NearestWind)?;
    let margin_m = many.interior_margin_m();
    let interior = many.field.interior_or_whole(margin_m);
    let entrants =
        Entrants { layouts, hours, makers, interior, margin_m, smoothing_m: many.smoothing_m };
    let engine = Engine::new(entrants, control.unwatched());
    let mut search = Search::new(scenario, options, aim, worth, candidates);
    search.race(&engine, ground.as_ref(), |found| {
        if let Some(viewer) = control.viewer() {
            viewer(found);
        }
    })?;
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
