//! Running seasons for those candidates that are still in the race.

use super::water::{self, Water};
use crate::model::{Region, Scenario};
use crate::season::hours::SeasonHours;
use crate::season::layout::Layout;
use crate::season::prepare::Makers;
use crate::season::{Progress, SeasonError};
use crate::seasons::{self, Ground, SeasonFigures};
use rayon::prelude::*;
use std::ops::Range;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Seasons of soil and crop that run side by side; a stop loses at most these.
const BATCH: usize = 4;
/// Candidates that share footprints in one go of soil and crop.
const PORTION: usize = 12;

/// Everything that stays the same from stage to stage.
pub(super) struct Engine<'a> {
    /// The candidates as alternatives.
    pub(super) scenario: &'a Scenario,
    pub(super) layouts: Vec<Layout<'a>>,
    pub(super) hours: Vec<SeasonHours>,
    pub(super) makers: Makers,
    pub(super) interior: Region,
    pub(super) go_on: &'a (dyn Fn(Progress) -> bool + Sync),
    done: AtomicUsize,
    total: AtomicUsize,
    stopped: AtomicBool,
}

impl<'a> Engine<'a> {
    pub(super) fn new(
        scenario: &'a Scenario,
        layouts: Vec<Layout<'a>>,
        hours: Vec<SeasonHours>,
        makers: Makers,
        interior: Region,
        go_on: &'a (dyn Fn(Progress) -> bool + Sync),
    ) -> Self {
        let (done, total) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let stopped = AtomicBool::new(false);
        Self { scenario, layouts, hours, makers, interior, go_on, done, total, stopped }
    }

    /// Foresees `more` candidate-seasons from here on.
    pub(super) fn foresee(&self, more: usize) {
        self.total.store(self.done.load(Ordering::SeqCst) + more, Ordering::SeqCst);
    }

    pub(super) fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::SeqCst)
    }

    /// Tells that `more` candidate-seasons are done.
    fn tell(&self, more: usize) {
        let done = self.done.fetch_add(more, Ordering::SeqCst) + more;
        let total = self.total.load(Ordering::SeqCst);
        if !(self.go_on)(Progress { done, total }) {
            self.stopped.store(true, Ordering::SeqCst);
        }
    }

    /// Water of the candidates `live`, season by season; fewer seasons than asked for if stopped.
    pub(super) fn water(
        &self,
        live: &[usize],
        wanted: Range<usize>,
    ) -> Result<Vec<Vec<Water>>, SeasonError> {
        let layouts: Vec<&Layout<'_>> = live.iter().map(|at| &self.layouts[*at]).collect();
        let mut all = Vec::new();
        for season in wanted {
            if self.is_stopped() {
                break;
            }
            all.push(water::season(&layouts, &self.hours[season], &self.makers, &self.interior)?);
            self.tell(live.len());
        }
        Ok(all)
    }

    /// Seasons of soil and crop of the candidates `live`, likewise.
    pub(super) fn yields(
        &self,
        ground: &Ground,
        live: &[usize],
        wanted: Range<usize>,
    ) -> Result<Vec<Vec<SeasonFigures>>, SeasonError> {
        let seasons: Vec<usize> = wanted.collect();
        let mut all = Vec::new();
        for batch in seasons.chunks(BATCH) {
            let portions: Vec<(usize, &[usize])> = batch
                .iter()
                .flat_map(|season| live.chunks(PORTION).map(|portion| (*season, portion)))
                .collect();
            let run =
                |(season, portion): &(usize, &[usize])| self.portion(ground, *season, portion);
            let found: Vec<Option<Vec<SeasonFigures>>> =
                portions.par_iter().map(run).collect::<Result<_, _>>()?;
            let Some(found) = found.into_iter().collect::<Option<Vec<_>>>() else { break };
            let mut flat = found.into_iter().flatten();
            all.extend(batch.iter().map(|_| flat.by_ref().take(live.len()).collect::<Vec<_>>()));
            if self.is_stopped() {
                break;
            }
        }
        Ok(all)
    }

    /// One season of a portion; `None` if the run was stopped before.
    fn portion(
        &self,
        ground: &Ground,
        season: usize,
        portion: &[usize],
    ) -> Result<Option<Vec<SeasonFigures>>, SeasonError> {
        if self.is_stopped() {
            return Ok(None);
        }
        let own = |(index, at): (usize, &usize)| {
            let mut layout = self.layouts[*at].clone();
            layout.index = index;
            layout
        };
        let layouts: Vec<Layout<'_>> = portion.iter().enumerate().map(own).collect();
        let hours = &self.hours[season];
        let found =
            seasons::figures_of(self.scenario, &layouts, ground, season, hours, &self.makers)?;
        self.tell(portion.len());
        Ok(Some(found))
    }
}
