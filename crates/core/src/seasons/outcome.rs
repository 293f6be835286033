//! What many seasons did: figures season by season, maps averaged over them.

use super::figures::SeasonFigures;
use super::map_sums::{FoldedMaps, MapSums};
use crate::grid::DepthGrid;

/// What many seasons did, for every alternative.
#[derive(Clone, Debug, Default)]
pub struct Seasons {
    /// Seasons that were asked for.
    pub wanted: usize,
    /// Per season that was finished, per alternative.
    pub figures: Vec<Vec<SeasonFigures>>,
    /// Per alternative, maps averaged over the seasons; none before [`Self::average`].
    pub maps: Vec<MeanMaps>,
    /// Per alternative, the maps' sums.
    pub(super) sums: Vec<MapSums>,
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

/// Maps of one alternative, averaged over seasons.
#[derive(Clone, Debug)]
pub struct MeanMaps {
    /// Yield as a fraction of that without stress.
    pub yield_fraction: DepthGrid,
    /// Water lost below the roots in a season, mm.
    pub percolation_mm: DepthGrid,
}

/// One alternative's season.
#[derive(Debug)]
pub(crate) struct Walked<'a> {
    pub(crate) figures: SeasonFigures,
    pub(crate) maps: FoldedMaps<'a>,
}

impl Seasons {
    /// Adds seasons in their order, and the sums of their maps, whoever made them.
    pub(super) fn add(&mut self, figures: Vec<Vec<SeasonFigures>>, sums: Vec<MapSums>) {
        self.figures.extend(figures);
        if self.sums.is_empty() {
            self.sums = sums;
        } else {
            self.sums.iter_mut().zip(sums).for_each(|(own, more)| own.add_all(more));
        }
    }

    /// Makes the mean maps of the maps' sums.
    pub(crate) fn average(&mut self) {
        let seasons = self.finished();
        self.maps = self.sums.iter().map(|sums| sums.means(seasons)).collect();
    }
}
