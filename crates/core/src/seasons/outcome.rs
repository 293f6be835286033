//! What many seasons did: figures season by season, maps averaged over them.

use super::figures::SeasonFigures;
use crate::grid::DepthGrid;

/// What many seasons did, for every alternative.
#[derive(Clone, Debug)]
pub struct Seasons {
    /// Seasons that were asked for.
    pub wanted: usize,
    /// Per season that was finished, per alternative.
    pub figures: Vec<Vec<SeasonFigures>>,
    /// Per alternative, maps averaged over the seasons.
    pub maps: Vec<MeanMaps>,
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
pub(crate) struct Walked {
    pub(crate) figures: SeasonFigures,
    pub(crate) maps: MeanMaps,
}

impl Seasons {
    pub(super) fn add(&mut self, season: Vec<Walked>) {
        let first = self.maps.is_empty();
        let mut figures = Vec::with_capacity(season.len());
        for (alternative, walked) in season.into_iter().enumerate() {
            figures.push(walked.figures);
            if first {
                self.maps.push(walked.maps);
            } else {
                self.maps[alternative].yield_fraction += &walked.maps.yield_fraction;
                self.maps[alternative].percolation_mm += &walked.maps.percolation_mm;
            }
        }
        self.figures.push(figures);
    }

    /// Makes means of the maps' sums.
    pub(crate) fn average(&mut self) {
        let seasons = self.finished().max(1) as f64;
        for maps in &mut self.maps {
            maps.yield_fraction /= seasons;
            maps.percolation_mm /= seasons;
        }
    }
}
