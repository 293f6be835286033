//! Seasons side by side, two by two.
//!
//! Two neighboring seasons share what is drawn of the doubts, so they share landing maps and
//! footprints, and one thread runs both, one after the other. Threads take the pairs in order; when a
//! run is stopped, what was begun is finished, so that the seasons kept are always the first ones.
//! Figures are put in order of season and maps are added up exactly, so neither the number of threads
//! nor the size of a batch changes a bit.

use super::figures::SeasonFigures;
use super::map_sums::MapSums;
use super::outcome::{Seasons, Walked};
use super::subject::Subject;
use super::tile::Room;
use super::walk::SeasonWalk;
use crate::doubt::apply::drawn_scenario;
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
use rayon::prelude::*;
use std::borrow::Cow;
use std::ops::Range;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

/// What all pairs are run on.
pub(super) struct Pairs<'a> {
    subject: Subject<'a>,
    /// The makers of all seasons, where none are drawn.
    given: Option<Makers>,
    /// Where drawn ones are kept, for others that draw the same.
    drawn: Option<&'a LandingMapCache>,
}

/// A pair ready to be run; at the ends of a run it may be one season.
struct Pair<'a> {
    scenario: Cow<'a, Scenario>,
    /// Each season's ground, schedules and hours.
    seasons: Vec<(Cow<'a, Ground>, Vec<Plan>, SeasonHours)>,
    first: usize,
    /// Its own makers, where they are drawn.
    makers: Option<Makers>,
}

impl<'a> Pairs<'a> {
    /// For `most` seasons.
    pub(super) fn of(
        subject: Subject<'a>,
        most: usize,
        maps: Option<&'a LandingMapCache>,
    ) -> Result<Self, SeasonError> {
        let drawn = maps.filter(|maps| maps.keeps_drawn());
        let mut pairs = Self { subject, given: None, drawn };
        if subject.doubts.is_none() {
            let winds = |season| pairs.weather(season).map(|(_, hours)| hours.wind_range());
            let winds: Vec<_> = (subject.first..subject.first + most)
                .into_par_iter()
                .map(winds)
                .collect::<Result<_, _>>()?;
            let winds = WindRange::of_all(winds).ok_or(SeasonError::NoAlternatives)?;
            pairs.given = Some(pairs.makers(subject.scenario, maps, winds)?);
        }
        Ok(pairs)
    }

    /// Runs the seasons of `batch` and adds them to `seasons`; whether the run goes on.
    pub(super) fn run(
        &self,
        batch: Range<usize>,
        control: &RunControl<'_>,
        seasons: &mut Seasons,
    ) -> Result<bool, SeasonError> {
        let numbers: Vec<usize> = batch.clone().collect();
        let pairs: Vec<&[usize]> = numbers.chunk_by(|a, b| a / 2 == b / 2).collect();
        let done = Mutex::new(batch.start - self.subject.first);
        // One list for all threads: the sums are the same whoever adds first.
        let alternatives = self.subject.scenario.alternatives.len();
        let summed = if self.subject.keeps_maps { alternatives } else { 0 };
        seasons.sums.resize_with(summed, Mutex::default);
        let sums = &seasons.sums[..];
        let found = in_order(pairs.len(), |at, room| {
            // A pair's drops are flown by whoever runs it: then its footprints go with it, and no thread
            // waits for those of others.
            let numbers = pairs[at][0]..pairs[at][0] + pairs[at].len();
            let count = numbers.len();
            let found = self.ready(numbers).and_then(|pair| self.pair(&pair, room, sums));
            // A panic elsewhere leaves a count that is right: it is changed by one addition.
            let mut done = done.lock().unwrap_or_else(PoisonError::into_inner);
            *done += count;
            let goes_on = found.is_ok() && control.goes_on(*done, seasons.wanted);
            (found, goes_on)
        });
        for pair in found.0 {
            seasons.figures.extend(pair?);
        }
        Ok(found.1)
    }

    fn weather(&self, season: usize) -> Result<(Vec<Plan>, SeasonHours), SeasonError> {
        let Subject { scenario, ground, .. } = self.subject;
        let plans = season::plans_in(scenario, Some(ground), season as u32)?;
        let hours = SeasonHours::of(scenario, &plans, season as u32)?;
        Ok((plans, hours))
    }

    /// Draws a pair and flies its drops.
    fn ready(&self, numbers: Range<usize>) -> Result<Pair<'a>, SeasonError> {
        let Subject { scenario, ground, doubts, .. } = self.subject;
        let drawn = doubts.map(|doubts| doubts.drawn(numbers.start));
        let season = |season: usize| {
            let (plans, hours) = self.weather(season)?;
            Ok(match &drawn {
                None => (Cow::Borrowed(ground), plans, hours),
                Some(drawn) => {
                    let hours = hours.with_losses(drawn.of(Doubt::Losses));
                    (Cow::Owned(drawn.ground(ground, season)), plans, hours)
                }
            })
        };
        let first = numbers.start;
        let seasons: Vec<_> = numbers.map(season).collect::<Result<_, SeasonError>>()?;
        if drawn.is_none() {
            return Ok(Pair { scenario: Cow::Borrowed(scenario), seasons, first, makers: None });
        }
        let scenario = drawn_scenario(scenario, first)?;
        let winds = seasons.iter().map(|(_, _, hours)| hours.wind_range());
        let winds = WindRange::of_all(winds).ok_or(SeasonError::NoAlternatives)?;
        let makers = Some(self.makers(&scenario, self.drawn, winds)?);
        Ok(Pair { scenario: Cow::Owned(scenario), seasons, first, makers })
    }

    fn makers(
        &self,
        scenario: &Scenario,
        maps: Option<&LandingMapCache>,
        winds: WindRange,
    ) -> Result<Makers, SeasonError> {
        let cell_m = scenario.field.grid.cell_m;
        Sprinklers::of(scenario, maps, winds)?.makers_for(cell_m, self.subject.hours_laid, maps)
    }

    /// Runs a pair and adds its maps to the sums.
    fn pair(
        &self,
        pair: &Pair<'_>,
        room: &mut Room,
        sums: &[Mutex<MapSums>],
    ) -> Result<Vec<Vec<SeasonFigures>>, SeasonError> {
        let scenario: &Scenario = &pair.scenario;
        let makers = pair.makers.as_ref().or(self.given.as_ref());
        let makers = makers.ok_or(SeasonError::NoAlternatives)?;
        let mut found = Vec::with_capacity(pair.seasons.len());
        for (season, (ground, plans, hours)) in (pair.first..).zip(&pair.seasons) {
            let layouts = Layout::of_all(scenario, plans.clone(), self.subject.hours_laid)?;
            let walk = SeasonWalk {
                ground,
                season,
                footprints: Footprints { hours, makers, is_alone: false },
                margin_m: scenario.interior_margin_m(),
                smoothing_m: scenario.smoothing_m,
            };
            let mut sums = sums.iter();
            found.push(walk.of(&layouts, room, |Walked { figures, maps }| {
                if let Some(sums) = sums.next() {
                    sums.lock().unwrap_or_else(PoisonError::into_inner).add(maps);
                }
                figures
            })?);
        }
        Ok(found)
    }
}

/// Does `work` number 0 to `count` on all threads, begun in order; each says whether to go on. Gives
/// what was done, without gaps, and whether all said so. Each thread keeps its room.
fn in_order<T: Send>(
    count: usize,
    work: impl Fn(usize, &mut Room) -> (T, bool) + Sync,
) -> (Vec<T>, bool) {
    let (next, stopped) = (AtomicUsize::new(0), AtomicBool::new(false));
    let places: Vec<Mutex<Option<T>>> = (0..count).map(|_| Mutex::new(None)).collect();
    let run = || {
        let mut room = Room::default();
        while !stopped.load(Ordering::SeqCst) {
            let at = next.fetch_add(1, Ordering::SeqCst);
            let Some(place) = places.get(at) else { break };
            let (found, goes_on) = work(at, &mut room);
            *place.lock().unwrap_or_else(PoisonError::into_inner) = Some(found);
            if !goes_on {
                stopped.store(true, Ordering::SeqCst);
            }
        }
    };
    rayon::scope(|scope| {
        for _ in 0..rayon::current_num_threads().min(count) {
            scope.spawn(|_| run());
        }
    });
    let found = places
        .into_iter()
        .map_while(|place| place.into_inner().unwrap_or_else(PoisonError::into_inner));
    (found.collect(), !stopped.load(Ordering::SeqCst))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_what_was_begun_is_finished_and_nothing_is_left_out() {
        for threads in [1, 3] {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            let (all, goes_on) = pool.install(|| in_order(20, |at, _| (at, true)));
            assert!(all == (0..20).collect::<Vec<_>>() && goes_on);
            let (some, goes_on) = pool.install(|| in_order(20, |at, _| (at, at != 6)));
            assert!(!goes_on && some.len() >= 7 && some.len() <= 6 + threads, "{some:?}");
            assert_eq!(some, (0..some.len()).collect::<Vec<_>>());
        }
    }
}
