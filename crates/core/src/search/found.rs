//! What a search found.

use super::candidates::{Candidate, Refused};
use super::race::Stage;
use super::water::Water;
use super::{Aim, Ask, Combo};
use crate::ensemble::{SeasonsFigures, StatisticsError, seasons_figures};
use crate::paired::{Paired, of_differences, pair};
use crate::seasons::SeasonFigures;
use crate::verdict::Ranked;

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
    /// What was asked.
    pub ask: Ask,
    /// What candidates are ranked by; the worst tenth where a net return was asked for but the
    /// yield has no value.
    pub aim: Aim,
    /// Every candidate; the first is the fixed pattern.
    pub entries: Vec<Entry>,
    /// Those that ran to the end, in order of rank.
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
    /// Descriptions enumerated, before identical seasons were merged.
    pub described: usize,
    /// What could not be scheduled.
    pub refused: Vec<Refused>,
    /// Margin left out on each side for the interior, m.
    pub interior_margin_m: f64,
}

impl Found {
    /// Fewer seasons than asked for: the run was stopped.
    pub fn is_partial(&self) -> bool {
        self.finished < self.ask.seasons
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
        seasons_figures(&values, self.ask.level)
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
        pair(&series(own, seasons), &series(&self.entries[0], seasons), self.ask.level)
    }

    /// Gain of what is ranked by over the fixed pattern, in the seasons the entry ran.
    ///
    /// # Errors
    /// Fewer than two seasons.
    pub fn gain_of_aim(&self, entry: usize) -> Result<Paired, StatisticsError> {
        let own = &self.entries[entry].values;
        pair(own, &self.entries[0].values[..own.len()], self.ask.level)
    }

    /// Figures of one number of the entry's crop; `None` where it was not run.
    pub fn crop(&self, entry: usize, of: impl Fn(&SeasonFigures) -> f64) -> Option<SeasonsFigures> {
        let values: Vec<f64> = self.entries[entry].crop.iter().map(of).collect();
        seasons_figures(&values, self.ask.level).ok()
    }

    /// Net return of the entry, currency a hectare and year; `None` where it is not known.
    pub fn net_per_ha(&self, entry: usize) -> Option<Paired> {
        of_differences(self.entries[entry].nets_per_ha.clone(), self.ask.level).ok()
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
