//! Drawn winds that are kept, so that whoever asks for the same season again need not draw it again.
//!
//! A season's winds are asked for by its hours of water, by its evapotranspiration, and by every scenario of
//! a study under the same climate. They are a function of climate, seed, season and first midnight, and
//! those of fewer hours are the beginning of those of more: so what is kept changes no digit. Whoever
//! shares a store shares what it holds; climates in it are told apart by their numbers.

use super::hour::Wind;
use super::hourly::HourlyClimate;
use jiff::civil::DateTime;
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

/// Seasons that are kept, some 100 kB each; the first one kept goes first.
const MOST_SEASONS: usize = 256;
/// Laws that are kept; likewise.
const MOST_LAWS: usize = 16;

/// What tells a climate apart, as bits.
pub(super) type Numbers = [u64; 11];
/// A season's first midnight, seed and number.
pub(super) type Of = (DateTime, u64, u32);
/// Winds hour by hour; `None` in a month of which nothing is known.
pub(crate) type Winds = Arc<[Option<Wind>]>;

/// A store of drawn winds. Copies share what it holds; it is no part of what a climate is.
#[derive(Clone, Debug, Default)]
pub struct KeptWinds(Arc<Mutex<Kept>>);

#[derive(Debug, Default)]
struct Kept {
    laws: VecDeque<(Numbers, Arc<HourlyClimate>)>,
    seasons: VecDeque<((Numbers, Of), Winds)>,
}

impl PartialEq for KeptWinds {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl KeptWinds {
    /// At least `hours` winds of a season of the climate with these numbers, whose law `make` makes.
    pub(super) fn winds(
        &self,
        numbers: Numbers,
        of: Of,
        hours: usize,
        make: impl FnOnce() -> HourlyClimate,
    ) -> Winds {
        let key = (numbers, of);
        if let Some(known) = self.with(|kept| kept.season(&key, hours)) {
            return known;
        }
        // Drawn while others have the store: two who ask at once both draw, and draw the same.
        let law = self.with(|kept| kept.law(&numbers)).unwrap_or_else(|| Arc::new(make()));
        let (midnight, seed, season) = of;
        let drawn: Winds = law.winds(midnight, hours, seed, season).into();
        self.with(|kept| kept.keep(key, &law, &drawn));
        drawn
    }

    fn with<T>(&self, ask: impl FnOnce(&mut Kept) -> T) -> T {
        // A panic elsewhere leaves the lists whole: each is only ever changed by one call.
        ask(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl Kept {
    fn season(&self, key: &(Numbers, Of), hours: usize) -> Option<Winds> {
        let (_, winds) = self.seasons.iter().find(|(known, _)| known == key)?;
        (winds.len() >= hours).then(|| Arc::clone(winds))
    }

    fn law(&self, numbers: &Numbers) -> Option<Arc<HourlyClimate>> {
        self.laws.iter().find(|(known, _)| known == numbers).map(|(_, law)| Arc::clone(law))
    }

    fn keep(&mut self, key: (Numbers, Of), law: &Arc<HourlyClimate>, winds: &Winds) {
        if self.law(&key.0).is_none() {
            if self.laws.len() >= MOST_LAWS {
                self.laws.pop_front();
            }
            self.laws.push_back((key.0, Arc::clone(law)));
        }
        self.seasons.retain(|(known, kept)| *known != key || kept.len() > winds.len());
        if self.seasons.len() >= MOST_SEASONS {
            self.seasons.pop_front();
        }
        self.seasons.push_back((key, Arc::clone(winds)));
    }
}
