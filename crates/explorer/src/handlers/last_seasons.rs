//! The last seasons of alternatives: the next run takes over what has not changed.
//!
//! A page draws on coarse cells first and then on the scenario's own, and whoever takes a change back, or
//! opens again what he had, meets what was drawn before it. What is kept of the season that is shown is
//! shared with its run; of those before it as much as the limit lets stay, the latest longest.

use super::display::Display;
use crate::limits::LAST_SEASON_BYTES;
use evenfall_core::season::{AlternativeSeason, Seasons};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// The seasons of all alternatives, with the shown depth of each pass, mm.
pub(crate) type ShownSeasons = Seasons<Vec<f32>>;

/// One alternative's season on the cells that are shown.
type Shown = (Display, Arc<AlternativeSeason<Vec<f32>>>);

/// The last seasons of alternatives; the latest stands last.
#[derive(Debug, Default)]
pub(crate) struct LastSeasons(Mutex<Vec<Shown>>);

impl LastSeasons {
    /// Those that were shown on the same cells, the latest first.
    pub(crate) fn on(&self, display: &Display) -> ShownSeasons {
        let last = self.lock();
        let same = last.iter().rev().filter(|(known, _)| known == display);
        same.map(|(_, season)| Arc::clone(season)).collect()
    }

    /// Notes the seasons of a run; the oldest go for them.
    pub(crate) fn note(&self, display: Display, seasons: ShownSeasons) {
        let mut last = self.lock();
        last.retain(|(_, known)| !seasons.iter().any(|season| Arc::ptr_eq(season, known)));
        last.extend(seasons.into_iter().map(|season| (display, season)));
        let (mut held, mut first) = (0, last.len());
        while first > 0 {
            held += bytes_of(&last[first - 1]);
            if held > LAST_SEASON_BYTES {
                break;
            }
            first -= 1;
        }
        last.drain(..first);
    }

    fn lock(&self) -> MutexGuard<'_, Vec<Shown>> {
        // A panic elsewhere leaves the list whole: nothing panics while it is held.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Bytes that a season holds: its passes as they are shown, and the depth at its end on its own cells.
fn bytes_of((display, season): &Shown) -> usize {
    let passes: usize = season.passes.iter().map(|shown| size_of_val(shown.as_slice())).sum();
    let own_cells = display.columns * display.rows * display.factor * display.factor;
    passes + own_cells * size_of::<f64>()
}
