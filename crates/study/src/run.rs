//! A block run: its points one beside the other, every alternative and season of each a row.
//!
//! A point that cannot be reached is a row with its reason, never the end of the study. Points share
//! drawn winds, and landing maps and atlases where sprinkler, drag and winds are the same: kept ones change
//! no digit. Where doubts are drawn, all points take the same two seasons before any takes the next two:
//! one draw of the doubts is the same for all that differ in other things, and so what is flown for it.

use crate::base::{Load, checked};
use crate::blocks::Block;
use crate::columns::{Found, Row, Rows};
use crate::study::Study;
use evenfall_core::season::{LandingMapCache, RunControl, SeasonError};
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::worth::{WorthError, run_seasons};
use evenfall_scenario::Resolved;
use rayon::prelude::*;
use std::ops::Range;
use std::sync::Arc;

/// The block was not run to its end, because it was told to stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("stopped before the block was done")]
pub struct Stopped;

/// A point whose scenario can be read.
struct Point {
    number: usize,
    resolved: Resolved,
}

/// Figures of some seasons, by season and alternative.
type Figures = Vec<Vec<SeasonFigures>>;

impl Study {
    /// Runs a block; `load` gets the files that scenarios name, `kept` keeps what points share, and
    /// `goes_on` is asked now and then whether to go on.
    ///
    /// # Errors
    /// [`Stopped`] where it says no.
    pub fn run(
        &self,
        block: &Block,
        load: Load<'_>,
        kept: &LandingMapCache,
        goes_on: &(dyn Fn() -> bool + Sync),
    ) -> Result<Rows, Stopped> {
        let read = |number: usize| {
            if goes_on() { Ok(self.read(number, block, load, kept)) } else { Err(Stopped) }
        };
        let points: Result<Vec<Result<Point, Vec<Row>>>, Stopped> =
            block.points.clone().into_par_iter().map(read).collect();
        let points = points?;
        let turns = turns(&points, &block.seasons);
        let tasks: Vec<(usize, usize)> = (0..turns.len())
            .flat_map(|turn| (0..points.len()).map(move |point| (turn, point)))
            .collect();
        let one = |(turn, point): (usize, usize)| {
            let Ok(Point { resolved, .. }) = &points[point] else { return Ok(Vec::new()) };
            figures(resolved, &turns[turn], turn == 0, kept, goes_on)
        };
        // Taken in order, so that no more turns are under way than there are threads for.
        let mut found: Vec<(usize, Result<Figures, WorthError>)> =
            tasks.into_iter().enumerate().par_bridge().map(|(at, task)| (at, one(task))).collect();
        found.sort_by_key(|(at, _)| *at);
        let mut of_points: Vec<Result<Figures, WorthError>> =
            points.iter().map(|_| Ok(Vec::new())).collect();
        for (at, found) in found {
            let all = &mut of_points[at % points.len()];
            match (&mut *all, found) {
                (Ok(all), Ok(found)) => all.extend(found),
                (Ok(_), Err(why)) => *all = Err(why),
                (Err(_), _) => {}
            }
        }
        let mut rows = Vec::new();
        for (point, found) in points.into_iter().zip(of_points) {
            match point {
                Ok(point) => rows.extend(point.rows(block, found)?),
                Err(told) => rows.extend(told),
            }
        }
        Ok(Rows(rows))
    }

    /// Reads the scenario of a point; else what its rows are.
    fn read(
        &self,
        number: usize,
        block: &Block,
        load: Load<'_>,
        kept: &LandingMapCache,
    ) -> Result<Point, Vec<Row>> {
        match checked(&self.scenario(number), load) {
            Ok(mut resolved) => {
                resolved.scenario.weather.keep_in(kept.winds());
                Ok(Point { number, resolved })
            }
            // Told once, with the first seasons.
            Err(_) if block.seasons.start >= self.plan.first_season => Err(Vec::new()),
            Err(refused) => {
                let (seed, digest, warnings) = (None, None, None);
                let found = Found::Nothing(refused.in_a_line());
                Err(vec![Row { point: number, seed, digest, warnings, found }])
            }
        }
    }
}

/// The seasons of a block in the turns in which all points take them.
fn turns(points: &[Result<Point, Vec<Row>>], seasons: &Range<usize>) -> Vec<Range<usize>> {
    let draws = |point: &Point| {
        point.resolved.worth.as_ref().is_some_and(|(_, economics)| economics.doubts)
    };
    if !points.iter().flatten().any(draws) {
        return vec![seasons.clone()];
    }
    // Blocks hold whole pairs; a study may end within one.
    let pair = |start: usize| start..(start + 2).min(seasons.end);
    seasons.clone().step_by(2).map(pair).collect()
}

impl Point {
    /// The rows of the point's figures; of none, why.
    fn rows(
        &self,
        block: &Block,
        figures: Result<Figures, WorthError>,
    ) -> Result<Vec<Row>, Stopped> {
        let Self { number, resolved } = self;
        let warnings = resolved.warnings.join(" · ");
        let row = |found: Found| Row {
            point: *number,
            seed: Some(resolved.scenario.seed),
            digest: Some(Arc::from(resolved.digest.as_str())),
            warnings: (!warnings.is_empty()).then(|| Arc::from(warnings.as_str())),
            found,
        };
        match figures {
            Ok(figures) => Ok(found(resolved, block, figures).into_iter().map(row).collect()),
            Err(WorthError::Season(SeasonError::Stopped { .. })) => Err(Stopped),
            Err(why) => Ok(vec![row(Found::Nothing(why.to_string()))]),
        }
    }
}

/// The figures of a point in some seasons; fewer where its record ends, but for the first seasons of a
/// block, which tell it.
fn figures(
    resolved: &Resolved,
    seasons: &Range<usize>,
    is_first: bool,
    kept: &LandingMapCache,
    goes_on: &(dyn Fn() -> bool + Sync),
) -> Result<Figures, WorthError> {
    let Some((agronomy, economics)) = &resolved.worth else { return Ok(Vec::new()) };
    let mut economics = economics.clone();
    economics.first_season = seasons.start;
    economics.seasons = seasons.len();
    economics.precision = None;
    let go_on = |_| goes_on();
    let control = RunControl::new(&go_on).with_landing_maps(kept);
    match run_seasons(&resolved.scenario, agronomy, &economics, &control) {
        Ok(found) if found.finished() < found.wanted => {
            let (done, total) = (found.finished(), found.wanted);
            Err(SeasonError::Stopped { done, total }.into())
        }
        Ok(found) => Ok(found.figures),
        Err(WorthError::BeyondRecord { .. }) if !is_first => Ok(Vec::new()),
        Err(why) => Err(why),
    }
}

/// What the rows of a point hold.
fn found(resolved: &Resolved, block: &Block, figures: Figures) -> Vec<Found> {
    if resolved.worth.is_none() {
        return vec![Found::Nothing("the point has no crop, soil and climate".to_owned())];
    }
    let alternatives = &resolved.scenario.alternatives;
    let names: Vec<Arc<str>> =
        alternatives.iter().map(|asked| Arc::from(asked.name.as_str())).collect();
    let there_are = figures.len();
    let mut found = Vec::with_capacity(there_are * names.len());
    for (season, of_all) in (block.seasons.start..).zip(figures) {
        for (alternative, figures) in of_all.into_iter().enumerate() {
            let name = Arc::clone(&names[alternative]);
            found.push(Found::Figures { alternative, name, season, figures: Box::new(figures) });
        }
    }
    if there_are < block.seasons.len() {
        found.push(Found::Nothing(format!(
            "the weather record holds {there_are} of the block's {} seasons",
            block.seasons.len()
        )));
    }
    found
}
