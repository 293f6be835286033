//! What a search found.

use super::candidates::Candidate;
use super::kinds::{KindFound, effort};
use super::layouts::Combo;
use super::options::{Aim, SearchOptions};
use super::race::Stage;
use super::space::Refused;
use super::water::Water;

use crate::ensemble::{SeasonsFigures, StatisticsError, seasons_figures};
use crate::money::Missing;
use crate::paired::{Paired, of_differences, pair};
use crate::seasons::SeasonFigures;
use crate::verdict::Ranked;

/// Means that differ by no more than this share are the same sums.
const ROUND_OFF: f64 = 1e-12;

/// A candidate with its seasons.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The candidate.
    pub candidate: Candidate,
    /// Its water, season by season.
    pub water: Vec<Water>,
    /// Its crop, season by season; empty where it was not run.
    pub crop: Vec<SeasonFigures>,
    /// What it is ranked by, season by season.
    pub values: Vec<f64>,
    /// Net return against the fixed pattern, currency a hectare, season by season; empty where it
    /// is not known.
    pub nets_per_ha: Vec<f64>,
    /// The stage after which it was dropped; `None` if it ran to the end.
    pub dropped_at: Option<usize>,
}

/// The best of a combination of wheel and spacing.
#[derive(Clone, Debug)]
pub struct ComboFound {
    /// The combination.
    pub combo: Combo,
    /// Its best candidate; `None` if none could be scheduled.
    pub best: Option<usize>,
    /// Candidates that cannot be told from its best.
    pub tied: usize,
    /// Its rank among the combinations, by their best.
    pub rank: Option<usize>,
    /// Others share that rank.
    pub is_tied: bool,
}

/// What a search found.
#[derive(Clone, Debug)]
pub struct Found {
    /// The search's options.
    pub options: SearchOptions,
    /// What candidates are ranked by; the worst tenth where a net return was asked for but the
    /// yield has no value.
    pub aim: Aim,
    /// Every candidate; the first is the fixed pattern.
    pub entries: Vec<Entry>,
    /// Those that ran to the end, in order of rank; of one rank, first those too close to its leader
    /// to matter, the simplest first, then the others by their mean.
    pub ranking: Vec<Ranked>,
    /// Level of each interval of the race.
    pub race_level: f64,
    /// Level of the ranking as a whole.
    pub ranking_level: f64,
    /// Differences up to this are ties, in the unit of the aim.
    pub least: f64,
    /// The looks.
    pub stages: Vec<Stage>,
    /// Seasons that were finished by those that ran to the end.
    pub finished: usize,
    /// The combinations of wheel and spacing, in the order asked for.
    pub combos: Vec<ComboFound>,
    /// The best of each kind of clock and edges.
    pub kinds: Vec<KindFound>,
    /// Descriptions enumerated, before identical seasons were merged.
    pub described: usize,
    /// What could not be scheduled.
    pub refused: Vec<Refused>,
    /// What is not known though some candidate's net return needs it.
    pub missing: Vec<Missing>,
    /// Margin left out on each side for the interior, m.
    pub interior_margin_m: f64,
}

impl Found {
    /// Fewer seasons than asked for: the run was stopped.
    pub fn is_partial(&self) -> bool {
        self.finished < self.options.seasons
    }

    /// The candidate with the best mean of all.
    pub fn leader(&self) -> Option<&Ranked> {
        self.ranking.iter().find(|ranked| ranked.rank == 1 && ranked.is_leader)
    }

    /// Whether a `mean` is so close below `leader`'s that the difference does not matter.
    pub fn is_too_close(&self, leader: f64, mean: f64) -> bool {
        leader - mean <= self.least + ROUND_OFF * leader.abs()
    }

    /// `ranking` with the simplest of each rank first.
    pub(super) fn simplest_first(&self, mut ranking: Vec<Ranked>) -> Vec<Ranked> {
        for ties in ranking.chunk_by_mut(|a, b| a.rank == b.rank) {
            let most = ties.iter().map(|ranked| ranked.mean).fold(f64::NEG_INFINITY, f64::max);
            let ease = |ranked: &Ranked| effort(&self.entries[ranked.alternative].candidate);
            ties.sort_by(|a, b| {
                let close = [a, b].map(|ranked| self.is_too_close(most, ranked.mean));
                let by_mean = b.mean.total_cmp(&a.mean);
                let by_ease = || ease(a).cmp(&ease(b)).then(by_mean);
                close[1].cmp(&close[0]).then_with(|| if close[0] { by_ease() } else { by_mean })
            });
        }
        ranking
    }

    /// What the leader is ahead of the entry by, season by season.
    ///
    /// # Errors
    /// Nothing was ranked, or the entry did not run to the end.
    pub fn lead_over(&self, entry: usize) -> Result<Paired, StatisticsError> {
        let leader = self.leader().map_or(entry, |leader| leader.alternative);
        pair(
            &self.entries[leader].values,
            &self.entries[entry].values,
            self.options.confidence_level,
        )
    }

    /// Figures of one number of the entry's water.
    ///
    /// # Errors
    /// Fewer than two seasons, or no water in some.
    pub fn water(
        &self,
        entry: usize,
        of: impl Fn(&Water) -> f64,
    ) -> Result<SeasonsFigures, StatisticsError> {
        let values: Vec<f64> = self.entries[entry].water.iter().map(of).collect();
        seasons_figures(&values, self.options.confidence_level)
    }

    /// Gain of one number of the entry's water over the fixed pattern, in the seasons it ran.
    ///
    /// # Errors
    /// As [`Found::water`].
    pub fn gain(
        &self,
        entry: usize,
        of: impl Fn(&Water) -> f64,
    ) -> Result<Paired, StatisticsError> {
        let series = |entry: &Entry, most: usize| -> Vec<f64> {
            entry.water.iter().take(most).map(&of).collect()
        };
        let own = &self.entries[entry];
        let seasons = own.water.len();
        pair(
            &series(own, seasons),
            &series(&self.entries[0], seasons),
            self.options.confidence_level,
        )
    }

    /// Gain of what is ranked by over the fixed pattern, in the seasons the entry ran.
    ///
    /// # Errors
    /// Fewer than two seasons.
    pub fn gain_of_aim(&self, entry: usize) -> Result<Paired, StatisticsError> {
        let own = &self.entries[entry].values;
        pair(own, &self.entries[0].values[..own.len()], self.options.confidence_level)
    }

    /// Figures of one number of the entry's crop; `None` where it was not run.
    pub fn crop(&self, entry: usize, of: impl Fn(&SeasonFigures) -> f64) -> Option<SeasonsFigures> {
        let values: Vec<f64> = self.entries[entry].crop.iter().map(of).collect();
        seasons_figures(&values, self.options.confidence_level).ok()
    }

    /// Net return of the entry, currency a hectare and year; `None` where it is not known.
    pub fn net_per_ha(&self, entry: usize) -> Option<Paired> {
        of_differences(self.entries[entry].nets_per_ha.clone(), self.options.confidence_level).ok()
    }
}

impl Entry {
    pub(super) fn new(candidate: Candidate) -> Self {
        let (water, crop) = (Vec::new(), Vec::new());
        let (values, nets_per_ha) = (Vec::new(), Vec::new());
        Self { candidate, water, crop, values, nets_per_ha, dropped_at: None }
    }

    /// What it is ranked by, season by season.
    pub(super) fn values_of(&self, aim: Aim) -> Vec<f64> {
        match aim {
            Aim::DuLqInterior => self.water.iter().map(|w| w.du_lq).collect(),
            Aim::DuLqWhole => {
                self.water.iter().map(|w| w.du_lq_whole.unwrap_or(f64::NAN)).collect()
            }
            Aim::WorstTenth => self.crop.iter().map(|c| c.yield_worst_tenth).collect(),
            Aim::NetReturn => self.nets_per_ha.clone(),
        }
    }
}
