//! Running seasons for those candidates that are still in the race.

use super::water::{self, Water};
use crate::model::Region;
use crate::root_zone::ground::Ground;
use crate::season::hours::SeasonHours;
use crate::season::layout::Layout;
use crate::season::prepare::Footprints;
use crate::season::sprinklers::Makers;
use crate::season::{RunControl, SeasonError};
use crate::seasons::SeasonFigures;
use crate::seasons::tile::Room;
use crate::seasons::walk::SeasonWalk;
use rayon::prelude::*;
use std::ops::Range;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Seasons of soil and crop that run side by side; a stop loses at most these.
const BATCH: usize = 4;
/// Candidates that share footprints in one go of soil and crop.
const PORTION: usize = 12;

/// What is run: the candidates laid out, the hours of every season, the sprinklers.
pub(super) struct Entrants<'a> {
    pub(super) layouts: Vec<Layout<'a>>,
    pub(super) hours: Vec<SeasonHours>,
    pub(super) makers: Makers,
    /// Where figures are taken, and its margin, m.
    pub(super) interior: Region,
    pub(super) margin_m: f64,
    /// Standard deviation over which roots and soil spread the water, m.
    pub(super) smoothing_m: f64,
}

/// Everything that stays the same from stage to stage.
pub(super) struct Engine<'a> {
    entrants: Entrants<'a>,
    control: RunControl<'a>,
    done: AtomicUsize,
    total: AtomicUsize,
    stopped: AtomicBool,
}

impl<'a> Engine<'a> {
    pub(super) fn new(entrants: Entrants<'a>, control: RunControl<'a>) -> Self {
        let (done, total) = (AtomicUsize::new(0), AtomicUsize::new(0));
        Self { entrants, control, done, total, stopped: AtomicBool::new(false) }
    }

    /// The footprints of season number `season`.
    fn footprints(&self, season: usize) -> Footprints<'_> {
        Footprints {
            hours: &self.entrants.hours[season],
            makers: &self.entrants.makers,
            is_alone: false,
        }
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
        if !self.control.goes_on(done, total) {
            self.stopped.store(true, Ordering::SeqCst);
        }
    }

    /// Water of the candidates `live`, season by season; fewer seasons than asked for if stopped.
    pub(super) fn water(
        &self,
        live: &[usize],
        wanted: Range<usize>,
    ) -> Result<Vec<Vec<Water>>, SeasonError> {
        let layouts: Vec<&Layout<'_>> = live.iter().map(|at| &self.entrants.layouts[*at]).collect();
        let mut all = Vec::new();
        for season in wanted {
            if self.is_stopped() {
                break;
            }
            all.push(water::season(&layouts, self.footprints(season), &self.entrants.interior)?);
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
            let mut layout = self.entrants.layouts[*at].clone();
            layout.index = index;
            layout
        };
        let layouts: Vec<Layout<'_>> = portion.iter().enumerate().map(own).collect();
        let (footprints, margin_m) = (self.footprints(season), self.entrants.margin_m);
        let smoothing_m = self.entrants.smoothing_m;
        let walk = SeasonWalk { ground, season, footprints, margin_m, smoothing_m };
        let found = walk.of(&layouts, &mut Room::default(), |walked| walked.figures)?;
        self.tell(portion.len());
        Ok(Some(found))
    }
}
