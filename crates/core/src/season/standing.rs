//! Footprint makers of sprinklers that do not stand upright: one for each sprinkler and roll, made when
//! first met.
//!
//! Most seasons meet none; a line that stops at part of a turn meets as many as its stops have rolls.
//! The same sprinkler and roll give the same maker, so whoever makes it first changes no digit.

use super::error::SeasonError;
use super::hours::WindRange;
use crate::sprinkler::Sprinkler;
use crate::sprinkler::attitude::Attitude;
use crate::sprinkler::footprint::FootprintSettings;
use crate::sprinkler::landing::Winds;
use crate::sprinkler::maker::FootprintMaker;
use crate::weather::profile::LogProfile;
use std::sync::{Arc, Mutex, PoisonError};

/// What makers are made of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Made {
    pub(super) winds: WindRange,
    pub(super) canopy_m: Option<f64>,
    pub(super) cell_m: f64,
    pub(super) settings: FootprintSettings,
}

/// Which maker it is: sprinkler, and how it stands.
type Key = (usize, Attitude);

/// The makers met so far.
#[derive(Debug)]
pub(super) struct StandingMakers {
    sprinklers: Vec<Sprinkler>,
    made: Made,
    known: Mutex<Vec<(Key, Arc<FootprintMaker>)>>,
}

impl StandingMakers {
    /// None yet, of these `sprinklers`.
    pub(super) fn of(sprinklers: Vec<Sprinkler>, made: Made) -> Self {
        Self { sprinklers, made, known: Mutex::default() }
    }

    /// The maker of a sprinkler that stands so.
    pub(super) fn maker(
        &self,
        sprinkler: usize,
        attitude: Attitude,
    ) -> Result<Arc<FootprintMaker>, SeasonError> {
        let key = (sprinkler, attitude);
        let find = |known: &[(Key, Arc<FootprintMaker>)]| {
            known.iter().find(|(other, _)| *other == key).map(|(_, maker)| Arc::clone(maker))
        };
        // A panic elsewhere leaves the list whole: it is only ever changed by one call.
        let lock = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = find(&lock()) {
            return Ok(known);
        }
        // Made without the lock: it takes long, on several threads.
        let Made { winds: WindRange { fastest_m_s, measured_at_m }, canopy_m, .. } = self.made;
        let profile = LogProfile::over(canopy_m, measured_at_m)
            .ok_or(SeasonError::MeasuringHeight { measured_at_m })?;
        let (winds, of) = (Winds { profile, fastest_m_s }, &self.sprinklers[sprinkler]);
        let Made { cell_m, settings, .. } = self.made;
        let maker = Arc::new(FootprintMaker::standing(of, attitude, &winds, cell_m, settings)?);
        let mut known = lock();
        Ok(find(&known).unwrap_or_else(|| {
            known.push((key, Arc::clone(&maker)));
            maker
        }))
    }
}
