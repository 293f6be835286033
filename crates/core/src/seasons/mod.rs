//! Many seasons: the same alternatives under season after season of weather, with soil and crop.
//!
//! Every alternative meets the same seasons (common random numbers), so differences are paired.
//! Season number s draws its weather from a stream of its own (or takes its own year of a record),
//! so the result does not depend on how many seasons are run, in which order, or on how many cores.
//!
//! Seasons run side by side in small batches; what a batch found is added up in order of season.

pub mod compact;
mod course;
mod walk;

pub use crate::root_zone::Ground;
pub use course::{SoilDay, soil_course};
pub use walk::SeasonFigures;

use crate::grid::DepthGrid;
use crate::model::Scenario;
use crate::schedule::Plan;
use crate::season::hours::SeasonHours;
use crate::season::layout::Layout;
use crate::season::prepare::{Makers, Sprinklers};
use crate::season::{self, LandingMapCache, Progress, SeasonError};
use crate::sprinkler::footprint::FootprintSettings;
use rayon::prelude::*;

/// Seasons that run side by side: bounds memory, and fixes the order of sums.
const BATCH: usize = 4;

/// Coarser than for one season's pictures: within 0.05 points of CU of it, at half the time.
pub(crate) const FOOTPRINTS: FootprintSettings =
    FootprintSettings { rings_per_cell: 2.0, samples_per_cell: 2.0, subsamples: 4 };

/// What many seasons did, for every alternative.
#[derive(Clone, Debug)]
pub struct Seasons {
    /// Seasons that were asked for.
    pub wanted: usize,
    /// Per season that was finished, per alternative.
    pub figures: Vec<Vec<SeasonFigures>>,
    /// Per alternative, maps averaged over the seasons.
    pub maps: Vec<MeanMaps>,
}

impl Seasons {
    /// Seasons that were finished; fewer than wanted if the run was stopped.
    pub fn finished(&self) -> usize {
        self.figures.len()
    }

    /// One figure of one alternative, season by season.
    pub fn series(&self, alternative: usize, of: impl Fn(&SeasonFigures) -> f64) -> Vec<f64> {
        self.figures.iter().map(|season| of(&season[alternative])).collect()
    }
}

/// Maps of one alternative, averaged over seasons.
#[derive(Clone, Debug)]
pub struct MeanMaps {
    /// Yield as a fraction of that without stress.
    pub yield_fraction: DepthGrid,
    /// Water lost below the roots in a season, mm.
    pub percolation_mm: DepthGrid,
}

/// Runs `count` seasons on `ground`. `go_on` is told how many are done, and stops the run by
/// returning false; what is finished is kept.
///
/// # Errors
/// What the scenario asks for cannot be computed, or water went missing.
pub fn run(
    scenario: &Scenario,
    ground: &Ground,
    count: usize,
    go_on: &(dyn Fn(Progress) -> bool + Sync),
) -> Result<Seasons, SeasonError> {
    watch(scenario, ground, count, &|_| count, &LandingMapCache::default(), go_on, &mut |_| ())
}

/// Runs as many seasons as are `wanted` after those that are finished, at most `most`, with landing
/// maps from `kept`; after every batch `so_far` is shown the seasons done so far, their maps being
/// sums, not yet means.
///
/// # Errors
/// Those of [`run`].
pub(crate) fn watch(
    scenario: &Scenario,
    ground: &Ground,
    most: usize,
    wanted: &dyn Fn(&Seasons) -> usize,
    kept: &LandingMapCache,
    go_on: &(dyn Fn(Progress) -> bool + Sync),
    so_far: &mut dyn FnMut(&Seasons),
) -> Result<Seasons, SeasonError> {
    let mut seasons = Seasons { wanted: most, figures: Vec::new(), maps: Vec::new() };
    let weather = |number: usize| -> Result<(Vec<Plan>, SeasonHours), SeasonError> {
        let plans = season::plans_in(scenario, Some(ground), number as u32)?;
        let hours = SeasonHours::of(scenario, &plans, number as u32)?;
        Ok((plans, hours))
    };
    // Hours are had twice rather than kept: those of a thousand seasons would fill the memory.
    let reach =
        |number| weather(number).map(|(_, hours)| (hours.fastest_m_s(), hours.measured_at_m()));
    let reaches: Vec<(f64, f64)> =
        (0..most).into_par_iter().map(reach).collect::<Result<_, _>>()?;
    let Some((_, measured_at_m)) = reaches.first().copied() else { return Ok(seasons) };
    let fastest_m_s = reaches.iter().map(|(fastest_m_s, _)| *fastest_m_s).fold(0.0, f64::max);
    let sprinklers = Sprinklers::of(scenario, kept, measured_at_m, fastest_m_s)?;
    let makers = sprinklers.makers(scenario.field.grid.cell_m, FOOTPRINTS)?;
    loop {
        let done = seasons.finished();
        seasons.wanted = wanted(&seasons).min(most);
        if done >= seasons.wanted {
            break;
        }
        let batch = done..(done + BATCH).min(seasons.wanted);
        let walked: Vec<Vec<walk::Walked>> = batch
            .into_par_iter()
            .map(|number| {
                let (plans, hours) = weather(number)?;
                let layouts = Layout::of_all(scenario, plans)?;
                walk::season(scenario, &layouts, ground, number, &hours, &makers, |walked| walked)
            })
            .collect::<Result<_, _>>()?;
        for season in walked {
            seasons.add(season);
        }
        let done = seasons.finished();
        so_far(&seasons);
        if !go_on(Progress { done, total: seasons.wanted }) {
            break;
        }
    }
    seasons.average();
    Ok(seasons)
}

/// Figures of `layouts` (alternatives of `scenario`, numbered as they stand here) in season number
/// `season`; their maps are let go, so that many alternatives fit into memory.
pub(crate) fn figures_of(
    scenario: &Scenario,
    layouts: &[Layout<'_>],
    ground: &Ground,
    season: usize,
    hours: &SeasonHours,
    makers: &Makers,
) -> Result<Vec<SeasonFigures>, SeasonError> {
    walk::season(scenario, layouts, ground, season, hours, makers, |walked| walked.figures)
}

impl Seasons {
    fn add(&mut self, season: Vec<walk::Walked>) {
        let first = self.maps.is_empty();
        let mut figures = Vec::with_capacity(season.len());
        for (alternative, walked) in season.into_iter().enumerate() {
            figures.push(walked.figures);
            if first {
                self.maps.push(walked.maps);
            } else {
                self.maps[alternative].yield_fraction += &walked.maps.yield_fraction;
                self.maps[alternative].percolation_mm += &walked.maps.percolation_mm;
            }
        }
        self.figures.push(figures);
    }

    /// Makes means of the maps' sums.
    pub(crate) fn average(&mut self) {
        let seasons = self.finished().max(1) as f64;
        for maps in &mut self.maps {
            maps.yield_fraction /= seasons;
            maps.percolation_mm /= seasons;
        }
    }
}

#[cfg(test)]
mod tests;
