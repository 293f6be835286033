//! The search on its way: stage after stage, then the best weighed and all ranked.

use super::best_of;
use super::candidates::{Candidate, Candidates};
use super::engine::Engine;
use super::error::SearchError;
use super::found::{Entry, Found};
use super::kinds::Kind;
use super::layouts::Combo;
use super::options::{Aim, SearchOptions};
use super::race::{Dropped, Stage, beaten, level_of_each, looks};
use super::water::Water;
use crate::ensemble::StatisticsError;
use crate::model::Scenario;
use crate::money::{Ledger, Missing, SeasonUse};
use crate::root_zone::ground::Ground;
use crate::verdict::{Ranked, rank};
use crate::worth::{Agronomy, Economics, season_use};

/// A search under way.
pub(super) struct Search<'a> {
    scenario: &'a Scenario,
    options: &'a SearchOptions,
    worth: Option<(&'a Agronomy, &'a Economics)>,
    found: Found,
    combos: Vec<Combo>,
    kinds: Vec<Kind>,
    live: Vec<usize>,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        scenario: &'a Scenario,
        options: &'a SearchOptions,
        aim: Aim,
        worth: Option<(&'a Agronomy, &'a Economics)>,
        candidates: Candidates,
    ) -> Self {
        let kinds = Kind::of_all(&candidates.all);
        let entries: Vec<Entry> = candidates.all.into_iter().map(Entry::new).collect();
        let looks = looks(options.first_seasons, options.seasons).len();
        // Without a race all of the allowed error is the ranking's.
        let ranking_level =
            if looks > 1 { 0.5 + 0.5 * options.confidence_level } else { options.confidence_level };
        let least = options.worthwhile.of(aim, worth.map(|(_, economics)| economics));
        let live = (0..entries.len()).collect();
        let race_level = level_of_each(options.confidence_level, entries.len(), looks);
        let found = Found {
            options: options.clone(),
            aim,
            entries,
            ranking: Vec::new(),
            race_level,
            ranking_level,
            least,
            stages: Vec::new(),
            finished: 0,
            combos: Vec::new(),
            kinds: Vec::new(),
            described: candidates.described,
            refused: candidates.refused,
            missing: worth.map_or_else(Vec::new, |(_, economics)| missing_value(economics)),
            interior_margin_m: 0.0,
        };
        Self { scenario, options, worth, found, combos: candidates.combos, kinds, live }
    }

    /// Stage after stage, until all seasons are run or the run is stopped; `show` is shown what is found
    /// after each.
    pub(super) fn race(
        &mut self,
        engine: &Engine<'_>,
        ground: Option<&Ground>,
        mut show: impl FnMut(&Found),
    ) -> Result<(), SearchError> {
        let looks = looks(self.options.first_seasons, self.options.seasons);
        for (stage, until) in looks.iter().enumerate() {
            engine.foresee(self.live.len() * (self.options.seasons - self.found.finished));
            self.extend(engine, ground, *until)?;
            let mut seen =
                Stage { seasons: self.found.finished, ran: self.live.len(), dropped: Vec::new() };
            if self.found.finished < 2 {
                return Err(SearchError::Stopped);
            }
            let is_last = stage + 1 == looks.len() || engine.is_stopped();
            if !is_last {
                seen.dropped = self.beaten()?;
                for dropped in &seen.dropped {
                    self.found.entries[dropped.candidate].dropped_at = Some(stage);
                }
                self.live.retain(|at| self.found.entries[*at].dropped_at.is_none());
            }
            self.found.stages.push(seen);
            if is_last {
                break;
            }
            show(&Found { ranking: self.ranked()?, ..self.found.clone() });
        }
        Ok(())
    }

    /// Runs the candidates in the race up to `until` seasons.
    fn extend(
        &mut self,
        engine: &Engine<'_>,
        ground: Option<&Ground>,
        until: usize,
    ) -> Result<(), SearchError> {
        let wanted = self.found.finished..until;
        if self.found.aim.is_water() {
            let seasons = engine.water(&self.live, wanted)?;
            self.found.finished += seasons.len();
            for season in seasons {
                for (at, water) in self.live.iter().zip(season) {
                    self.found.entries[*at].water.push(water);
                }
            }
        } else {
            let ground = ground.ok_or(SearchError::NoCrop("an aim of yield"))?;
            let seasons = engine.yields(ground, &self.live, wanted)?;
            self.found.finished += seasons.len();
            for season in seasons {
                for (at, crop) in self.live.iter().zip(season) {
                    let entry = &mut self.found.entries[*at];
                    let (cu, du_lq) = (crop.cu, crop.du_lq);
                    entry.water.push(Water { cu, du_lq, du_lq_whole: None });
                    entry.crop.push(crop);
                }
            }
            self.net_returns()?;
            self.keep_to_what_is_known();
        }
        let aim = self.found.aim;
        for at in &self.live {
            let entry = &mut self.found.entries[*at];
            entry.values = entry.values_of(aim);
        }
        Ok(())
    }

    /// Net returns of all entries whose crop has run, in the seasons that the baseline ran too; what
    /// an entry needs a price for that is not known is noted, and its net return left open.
    fn net_returns(&mut self) -> Result<(), SearchError> {
        let Some((_, economics)) = self.worth else { return Ok(()) };
        let area = self.scenario.field.area();
        let baseline = self.found.entries[0].clone();
        let without_value = missing_value(economics);
        let mut missing = without_value.clone();
        for entry in &mut self.found.entries {
            let [own, other] = [&*entry, &baseline].map(|entry| entry.candidate.equipment.clone());
            let ledger = Ledger::new(&economics.prices, area, own, other)?;
            let both = entry.crop.iter().zip(&baseline.crop);
            let uses: Vec<[SeasonUse; 2]> =
                both.map(|(own, other)| [season_use(own), season_use(other)]).collect();
            let unknown = ledger.missing(&uses);
            entry.nets_per_ha.clear();
            if without_value.is_empty() && unknown.is_empty() {
                for [own, other] in &uses {
                    entry.nets_per_ha.push(ledger.season(own, other)?.net_per_area().per_ha());
                }
            }
            missing.extend(unknown);
        }
        missing.sort_unstable();
        missing.dedup();
        self.found.missing = missing;
        Ok(())
    }

    /// Without every candidate's net return the worst tenth of the yield takes its place.
    fn keep_to_what_is_known(&mut self) {
        if self.found.aim == Aim::NetReturn && !self.found.missing.is_empty() {
            self.found.aim = Aim::WorstTenth;
            self.found.least = self.options.worthwhile.of(Aim::WorstTenth, None);
        }
    }

    /// The heats: members in the race of each combination of wheel and spacing, and of each kind.
    fn heats(&self) -> Vec<Vec<usize>> {
        let members = |is_of: &dyn Fn(&Candidate) -> bool| -> Vec<usize> {
            let own = |at: &usize| is_of(&self.found.entries[*at].candidate);
            self.live.iter().copied().filter(own).collect()
        };
        let combos = (0..self.combos.len()).map(|combo| members(&|c| c.combos.contains(&combo)));
        let kinds = self.kinds.iter().map(|kind| members(&|c| kind.holds(c)));
        combos.chain(kinds).collect()
    }

    /// Those beaten in every heat they run in, with the leader that they were furthest behind.
    fn beaten(&self) -> Result<Vec<Dropped>, SearchError> {
        let values: Vec<Vec<f64>> =
            self.found.entries.iter().map(|entry| entry.values.clone()).collect();
        let heats = self.heats();
        let mut defeats: Vec<Dropped> = Vec::new();
        for heat in &heats {
            defeats.extend(beaten(&values, heat, self.found.race_level, self.found.least)?);
        }
        let mut all = Vec::new();
        // The fixed pattern is what all are measured against: it stays.
        for at in self.live.iter().copied().filter(|at| *at != 0) {
            let own = defeats.iter().filter(|defeat| defeat.candidate == at);
            let ran = heats.iter().filter(|heat| heat.contains(&at)).count();
            if own.clone().count() == ran {
                all.extend(own.max_by(|a, b| a.mean_lead.total_cmp(&b.mean_lead)).copied());
            }
        }
        Ok(all)
    }

    /// Yield and money of the best and of the fixed pattern, in the seasons of the race.
    pub(super) fn weigh(
        &mut self,
        engine: &Engine<'_>,
        ground: &Ground,
    ) -> Result<(), SearchError> {
        if self.options.weigh_best == 0 || engine.is_stopped() {
            return Ok(());
        }
        let ranking = self.ranked()?;
        let is_wanted = |place: usize, ranked: &Ranked| {
            place < self.options.weigh_best || (ranked.rank == 1 && ranked.is_leader)
        };
        let best = ranking.iter().enumerate().filter(|(place, ranked)| is_wanted(*place, ranked));
        let mut best: Vec<usize> = best.map(|(_, ranked)| ranked.alternative).collect();
        let kinds = best_of::kinds(&self.found, &self.kinds, &self.live)?;
        best.extend(kinds.iter().flat_map(|kind| [kind.best, kind.simplest]));
        best.push(0);
        best.sort_unstable();
        best.dedup();
        engine.foresee(best.len() * self.found.finished);
        let seasons = engine.yields(ground, &best, 0..self.found.finished)?;
        for season in seasons {
            for (at, crop) in best.iter().zip(season) {
                self.found.entries[*at].crop.push(crop);
            }
        }
        self.net_returns()
    }

    /// The candidates still in the race in order of rank, by place in the entries.
    fn ranked(&self) -> Result<Vec<Ranked>, StatisticsError> {
        let values: Vec<&[f64]> =
            self.live.iter().map(|at| self.found.entries[*at].values.as_slice()).collect();
        let ranking = rank(&values, self.found.ranking_level, self.found.least)?;
        let own = |ranked: Ranked| Ranked { alternative: self.live[ranked.alternative], ..ranked };
        Ok(self.found.simplest_first(ranking.into_iter().map(own).collect()))
    }

    /// The ranking, and the best of each combination and kind.
    pub(super) fn close(mut self, margin_m: f64) -> Result<Found, SearchError> {
        self.found.ranking = self.ranked()?;
        self.found.combos = best_of::combos(&self.found, &self.combos, &self.live)?;
        self.found.kinds = best_of::kinds(&self.found, &self.kinds, &self.live)?;
        self.found.interior_margin_m = margin_m;
        Ok(self.found)
    }
}

/// Prices that are not known without which no yield has a value.
fn missing_value(economics: &Economics) -> Vec<Missing> {
    economics.prices.missing_value().into_iter().map(|price| Missing::Price(price.into())).collect()
}
