//! The last season on each size of cells: the next one takes over what has not changed.
//!
//! A page draws on coarse cells first and then on the scenario's own, so two sizes are kept. What is kept is
//! mostly shared with the run that is shown, so it costs little. The one before the last is not looked at.

use super::display::Display;
use crate::limits::{LAST_SEASON_BYTES, LAST_SEASONS};
use evenfall_core::season::{AlternativeSeason, Seasons};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// The seasons of all alternatives, with the shown depth of each pass, mm.
pub(crate) type ShownSeasons = Seasons<Vec<f32>>;

/// The alternatives of the last seasons, by the cells that are shown; the latest stands last.
#[derive(Debug, Default)]
pub(crate) struct LastSeasons(Mutex<Vec<(Display, ShownSeasons)>>);

impl LastSeasons {
    /// Those of the last season that was shown on the same cells.
    pub(crate) fn on(&self, display: &Display) -> ShownSeasons {
        let found =
            self.lock().iter().find(|(known, _)| known == display).map(|(_, all)| all.clone());
        found.unwrap_or_default()
    }

    /// Notes a season in place of the one before it; one that is too large is not kept.
    pub(crate) fn note(&self, display: Display, seasons: ShownSeasons) {
        let mut last = self.lock();
        last.retain(|(known, _)| *known != display);
        if seasons.iter().map(|season| bytes_of(&display, season)).sum::<usize>()
            <= LAST_SEASON_BYTES
        {
            if last.len() >= LAST_SEASONS {
                last.remove(0);
            }
            last.push((display, seasons));
        }
    }

    fn lock(&self) -> MutexGuard<'_, Vec<(Display, ShownSeasons)>> {
        // A panic elsewhere leaves the list whole: nothing panics while it is held.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Bytes that a season holds: its passes as they are shown, and the depth at its end on its own cells.
fn bytes_of(display: &Display, season: &AlternativeSeason<Vec<f32>>) -> usize {
    let passes: usize = season.passes.iter().map(|shown| size_of_val(shown.as_slice())).sum();
    let own_cells = display.columns * display.rows * display.factor * display.factor;
    passes + own_cells * size_of::<f64>()
}
