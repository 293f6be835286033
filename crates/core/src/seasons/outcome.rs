//! What many seasons did: figures season by season, maps averaged over them.

use super::figures::SeasonFigures;
use super::map_sums::{FoldedMaps, MapSums, MeanMaps};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What many seasons did, for every alternative.
#[derive(Debug, Default)]
pub struct Seasons {
    /// Number of the first season, from 0.
    pub first: usize,
    /// Seasons that were asked for.
    pub wanted: usize,
    /// Per season that was finished, per alternative.
    pub figures: Vec<Vec<SeasonFigures>>,
    /// Per alternative, maps averaged over the seasons; none before they are averaged.
    pub maps: Vec<MeanMaps>,
    /// Per alternative, the maps' sums.
    pub(super) sums: Vec<Mutex<MapSums>>,
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

impl Clone for Seasons {
    fn clone(&self) -> Self {
        Self {
            first: self.first,
            wanted: self.wanted,
            figures: self.figures.clone(),
            maps: self.maps.clone(),
            sums: self.sums.iter().map(|sums| Mutex::new(known(sums).clone())).collect(),
        }
    }
}

/// Sums as they are; a panic elsewhere leaves them whole.
fn known(sums: &Mutex<MapSums>) -> MutexGuard<'_, MapSums> {
    sums.lock().unwrap_or_else(PoisonError::into_inner)
}

/// One alternative's season.
#[derive(Debug)]
pub(crate) struct Walked<'a> {
    pub(crate) figures: SeasonFigures,
    pub(crate) maps: FoldedMaps<'a>,
}

impl Seasons {
    /// Makes the mean maps of the maps' sums.
    pub(crate) fn average(&mut self) {
        let seasons = self.finished();
        self.maps = self.sums.iter().map(|sums| known(sums).means(seasons)).collect();
    }
}
