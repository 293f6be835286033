//! A block run: its points one beside the other, every alternative and season of each a row.
//!
//! A point that cannot be reached is a row with its reason, never the end of the study. Points share
//! landing maps and atlases where sprinkler, drag and winds are the same and nothing is drawn: kept ones
//! change no digit.

use crate::base::{Load, checked, in_a_line};
use crate::blocks::Block;
use crate::columns::{Found, Row, Rows};
use crate::study::Study;
use evenfall_core::season::{LandingMapCache, RunControl, SeasonError};
use evenfall_core::worth::{WorthError, run_seasons};
use evenfall_scenario::Resolved;
use rayon::prelude::*;
use std::sync::Arc;

/// The block was not run to its end, because it was told to stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("stopped before the block was done")]
pub struct Stopped;

impl Study {
    /// Runs a block; `load` gets the files that scenarios name, `maps` keeps what points share, and
    /// `goes_on` is asked now and then whether to go on.
    ///
    /// # Errors
    /// [`Stopped`] where it says no.
    pub fn run(
        &self,
        block: &Block,
        load: Load<'_>,
        maps: &LandingMapCache,
        goes_on: &(dyn Fn() -> bool + Sync),
    ) -> Result<Rows, Stopped> {
        let point = |point: usize| self.point(point, block, load, maps, goes_on);
        let found: Result<Vec<Vec<Row>>, Stopped> =
            block.points.clone().into_par_iter().map(point).collect();
        Ok(Rows(found?.concat()))
    }

    fn point(
        &self,
        point: usize,
        block: &Block,
        load: Load<'_>,
        maps: &LandingMapCache,
        goes_on: &(dyn Fn() -> bool + Sync),
    ) -> Result<Vec<Row>, Stopped> {
        if !goes_on() {
            return Err(Stopped);
        }
        let resolved = match checked(&self.scenario(point), load) {
            Ok(resolved) => resolved,
            // Told once, with the first seasons.
            Err(_) if block.seasons.start >= self.plan.first_season => return Ok(Vec::new()),
            Err(wrong) => {
                let (seed, digest, warnings) = (None, None, None);
                let found = Found::Nothing(in_a_line(&wrong));
                return Ok(vec![Row { point, seed, digest, warnings, found }]);
            }
        };
        let warnings = resolved.warnings.join(" · ");
        let row = |found: Found| Row {
            point,
            seed: Some(resolved.scenario.seed),
            digest: Some(Arc::from(resolved.digest.as_str())),
            warnings: (!warnings.is_empty()).then(|| Arc::from(warnings.as_str())),
            found,
        };
        match figures(&resolved, block, maps, goes_on) {
            Ok(found) => Ok(found.into_iter().map(row).collect()),
            Err(WorthError::Season(SeasonError::Stopped { .. })) => Err(Stopped),
            Err(why) => Ok(vec![row(Found::Nothing(why.to_string()))]),
        }
    }
}

/// The figures of a point in the seasons of a block.
fn figures(
    resolved: &Resolved,
    block: &Block,
    maps: &LandingMapCache,
    goes_on: &(dyn Fn() -> bool + Sync),
) -> Result<Vec<Found>, WorthError> {
    let Some((agronomy, economics)) = &resolved.worth else {
        return Ok(vec![Found::Nothing("the point has no crop, soil and climate".to_owned())]);
    };
    let mut economics = economics.clone();
    economics.first_season = block.seasons.start;
    economics.seasons = block.seasons.len();
    economics.precision = None;
    let scenario = &resolved.scenario;
    let go_on = |_| goes_on();
    let control = RunControl::new(&go_on).with_landing_maps(maps);
    let seasons = run_seasons(scenario, agronomy, &economics, &control)?;
    if seasons.finished() < seasons.wanted {
        let (done, total) = (seasons.finished(), seasons.wanted);
        return Err(SeasonError::Stopped { done, total }.into());
    }
    let names: Vec<Arc<str>> =
        scenario.alternatives.iter().map(|asked| Arc::from(asked.name.as_str())).collect();
    let mut found = Vec::with_capacity(seasons.finished() * names.len());
    for (season, of_all) in (block.seasons.start..).zip(seasons.figures) {
        for (alternative, figures) in of_all.into_iter().enumerate() {
            let name = Arc::clone(&names[alternative]);
            found.push(Found::Figures { alternative, name, season, figures: Box::new(figures) });
        }
    }
    if found.len() < block.seasons.len() * names.len() {
        found.push(Found::Nothing(format!(
            "the weather record holds {} of the block's {} seasons",
            seasons.wanted,
            block.seasons.len()
        )));
    }
    Ok(found)
}
