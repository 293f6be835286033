//! The shortest set under each alternative that keeps the baseline's yield.
//!
//! A more uniform pattern needs less water for the same yield. Of every alternative the set time is
//! shortened, sets starting at the same hours, until its mean yield is the baseline's at its full set,
//! less [`KEPT_WITHIN`], a tenth of a point, the least that is shown: found by halving, each step real
//! seasons of the same weather, up to a resolution of [`RESOLUTION_H`]. The baseline's own set is
//! shortened by the same rule, so that what it could save without any rotation stands beside.
//!
//! Few seasons, everything doubtful taken as used: the answer is a first set time to try, not a
//! guarantee. Not told where passes are called by the crop: shorter sets would then come more often.

use super::climate::seasons_there_are;
use super::inputs::{Agronomy, WorthError};
use crate::model::Scenario;
use crate::schedule::{Plan, SeasonLength};
use crate::season::{self, LandingMapCache, RunControl, SeasonError};
use crate::seasons::{self, SeasonFigures, Seasons, SeasonsControl};

/// Yield that may be lost where a yield is kept, fraction.
pub const KEPT_WITHIN: f64 = 1e-3;
/// How closely a set time is found, h.
pub const RESOLUTION_H: f64 = 0.1;
/// Seasons that are run for each step.
pub const SHORTEST_SET_SEASONS: usize = 4;
/// The shortest share of the set time that is tried.
const LEAST_SHARE: f64 = 0.25;

/// The shortest set of an alternative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShortestSet {
    /// Its set time as planned, h.
    pub planned_h: f64,
    /// The shortest that keeps the baseline's yield, h; `None` where even the planned one does not.
    pub shortest_h: Option<f64>,
    /// Gross water of a season that it saves, mm over the field.
    pub saved_mm: f64,
    /// Mean yield with it, fraction.
    pub yield_fraction: f64,
}

/// What is known of an alternative on the way.
#[derive(Clone, Copy)]
struct Search {
    planned_h: f64,
    /// Longest set known to lose the yield, h.
    loses_h: f64,
    /// Shortest set known to keep it, h, with its yield and gross water.
    keeps: Option<(f64, f64, f64)>,
    full_gross_mm: f64,
}

/// The shortest set of every alternative, in the scenario's order; none where passes are called.
///
/// # Errors
/// As [`super::run`].
pub fn shortest_sets(
    scenario: &Scenario,
    agronomy: &Agronomy,
    control: &RunControl<'_>,
) -> Result<Vec<ShortestSet>, WorthError> {
    if scenario.called.is_some() {
        return Ok(Vec::new());
    }
    let plans = season::plans(scenario)?;
    let first = plans.first().ok_or(SeasonError::NoAlternatives)?;
    let there_are = seasons_there_are(scenario, agronomy)?.unwrap_or(usize::MAX);
    let count = SHORTEST_SET_SEASONS.min(there_are);
    let drawn = Some(scenario.drawn_weather());
    let ground = agronomy.ground(first.midnight.date(), count, drawn)?;
    let maps = LandingMapCache::default();
    let run = |scenario: &Scenario| -> Result<Seasons, WorthError> {
        let inner: SeasonsControl<'_> = control.unwatched().with_landing_maps(&maps);
        let seasons = seasons::run(scenario, &ground, count, inner)?;
        let (done, total) = (seasons.finished(), count);
        if done < total { Err(SeasonError::Stopped { done, total }.into()) } else { Ok(seasons) }
    };
    let full = run(scenario)?;
    let target = mean(&full, 0, |figures| figures.yield_fraction) - KEPT_WITHIN;
    let mut searches: Vec<Search> = (0..scenario.alternatives.len())
        .map(|index| begin(scenario, &full, index, target))
        .collect();
    // Every step halves all spans at once; the widest sets how many there are.
    while searches.iter().any(Search::is_open) {
        let tried: Vec<f64> = searches.iter().map(Search::middle_h).collect();
        let seasons = run(&with_set_times(scenario, &plans, &tried))?;
        for (index, (search, tried_h)) in searches.iter_mut().zip(tried).enumerate() {
            search.narrow(tried_h, &seasons, (index, target));
        }
    }
    Ok(searches.iter().map(Search::close).collect())
}

fn begin(scenario: &Scenario, full: &Seasons, index: usize, target: f64) -> Search {
    let planned_h = scenario.calendar_of(&scenario.alternatives[index]).set_time_h;
    let [reached, full_gross_mm] = [
        mean(full, index, |figures| figures.yield_fraction),
        mean(full, index, SeasonFigures::pumped_mm),
    ];
    let keeps = (reached >= target).then_some((planned_h, reached, full_gross_mm));
    Search { planned_h, loses_h: LEAST_SHARE * planned_h, keeps, full_gross_mm }
}

impl Search {
    fn is_open(&self) -> bool {
        self.keeps.is_some_and(|(keeps_h, ..)| keeps_h - self.loses_h > RESOLUTION_H)
    }

    /// The set time to try next, h; where nothing is left to try, one that is known.
    fn middle_h(&self) -> f64 {
        match self.keeps {
            Some((keeps_h, ..)) if self.is_open() => f64::midpoint(keeps_h, self.loses_h),
            Some((keeps_h, ..)) => keeps_h,
            None => self.planned_h,
        }
    }

    fn narrow(&mut self, tried_h: f64, seasons: &Seasons, (index, target): (usize, f64)) {
        if !self.is_open() {
            return;
        }
        let reached = mean(seasons, index, |figures| figures.yield_fraction);
        if reached >= target {
            let gross_mm = mean(seasons, index, SeasonFigures::pumped_mm);
            self.keeps = Some((tried_h, reached, gross_mm));
        } else {
            self.loses_h = tried_h;
        }
    }

    fn close(&self) -> ShortestSet {
        let (shortest_h, yield_fraction, gross_mm) = match self.keeps {
            Some((shortest_h, reached, gross_mm)) => (Some(shortest_h), reached, gross_mm),
            None => (None, f64::NAN, self.full_gross_mm),
        };
        let saved_mm = self.full_gross_mm - gross_mm;
        ShortestSet { planned_h: self.planned_h, shortest_h, saved_mm, yield_fraction }
    }
}

fn mean(seasons: &Seasons, index: usize, of: impl Fn(&SeasonFigures) -> f64) -> f64 {
    let series = seasons.series(index, of);
    series.iter().sum::<f64>() / series.len().max(1) as f64
}

/// The scenario with these set times, every set of `plans` starting when it did.
fn with_set_times(scenario: &Scenario, plans: &[Plan], set_times_h: &[f64]) -> Scenario {
    let mut shortened = scenario.clone();
    let each = shortened.alternatives.iter_mut().zip(plans).zip(set_times_h);
    for ((alternative, plan), set_time_h) in each {
        let mut calendar = scenario.calendar_of(alternative).clone();
        calendar.move_gap_h += calendar.set_time_h - set_time_h;
        calendar.set_time_h = *set_time_h;
        // A season that lasts until a day must not get a pass more.
        calendar.length = SeasonLength::Passes(plan.passes.len());
        alternative.calendar = Some(calendar);
    }
    shortened
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::worth::tests::{agronomy, season_of};

    #[test]
    fn closed_shorter_sets_start_when_the_long_ones_did() {
        let scenario = season_of([&[0.0], &[0.0, 30.0]]);
        let before = season::plans(&scenario).unwrap();
        let after = season::plans(&with_set_times(&scenario, &before, &[6.0, 4.0])).unwrap();
        for ((before, after), set_time_h) in before.iter().zip(&after).zip([6.0, 4.0]) {
            assert_eq!(before.passes.len(), after.passes.len());
            let sets = |plan: &Plan| -> Vec<(f64, f64)> {
                let sets = plan.passes.iter().flat_map(|pass| &pass.sets);
                sets.map(|set| (set.start_h, set.end_h - set.start_h)).collect()
            };
            for (before, after) in sets(before).into_iter().zip(sets(after)) {
                assert!((before.0 - after.0).abs() < 1e-9, "{before:?} {after:?}");
                assert!((after.1 - set_time_h).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn invariant_the_same_stops_have_the_same_shortest_set_and_water_is_linear_in_it() {
        let scenario = season_of([&[0.0, 30.0], &[0.0, 30.0]]);
        let found = shortest_sets(&scenario, &agronomy(), &RunControl::default()).unwrap();
        assert_eq!(found[0], found[1]);
        let (planned_h, shortest_h) = (found[0].planned_h, found[0].shortest_h.unwrap());
        assert!(shortest_h <= planned_h && shortest_h >= LEAST_SHARE * planned_h, "{found:?}");
        // 6 sets a pass in 18 passes of 0.3142 L/s from 6 sprinklers over 240 × 360 ft.
        let mm_h = 3600.0 * 0.3142 * 6.0 * 6.0 * 18.0 / scenario.field.area().m2();
        let saved_mm = mm_h * (planned_h - shortest_h);
        assert!((found[0].saved_mm - saved_mm).abs() < 1e-6 * mm_h, "{found:?} {saved_mm}");
    }
}
