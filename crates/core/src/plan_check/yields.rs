//! What of the full yield a plan misses, and why.
//!
//! The parts are differences between yields of the daily balance (FAO-56 chapter 8, yield by FAO-33),
//! each with one fault less, so that they add up to what is missed:
//! - **edges**: the interior's simulated yield less the whole field's;
//! - **unevenness**: that of the plan's water laid evenly, less the interior's;
//! - **season too short**: that of the same sets at the same intervals over all of the crop's days,
//!   less the plan's, both even;
//! - **sets too large**: that of the same water by the day, a little every day, less the former;
//! - **water short**: what is still missed then.
//!
//! Even water is the mean net depth of a set on the strip that it serves, place by place on the days on
//! which the plan waters it. Means over the seasons that ran, under what was drawn for each. A part may
//! come out slightly below zero: a fault that does no harm. Where passes are called by the crop they
//! have no interval: season and sets are then held to cost nothing, and the rest is water short.

use crate::model::{Alternative, Scenario};
use crate::root_zone::RootZone;
use crate::root_zone::ground::Ground;
use crate::root_zone::yields::yield_fraction;
use crate::schedule::Plan;
use crate::season::{SeasonError, plans_in};
use crate::seasons::{SeasonFigures, Seasons, Subject};
use std::borrow::Cow;

/// A plan's yield of the full yield, and the parts that it misses; fractions, means over the seasons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanYield {
    /// Yield of the whole field.
    pub reached: f64,
    /// Missed because the crop's need is more than the plan brings.
    pub water_short: f64,
    /// Missed because sets are larger than the root zone can hold until the next one.
    pub sets_too_large: f64,
    /// Missed because water starts too late or ends too early.
    pub season_too_short: f64,
    /// Missed in the interior because water is uneven: what a rotation can change.
    pub unevenness: f64,
    /// Missed because the field's edges get less.
    pub edges: f64,
    /// Water lost below the roots, mm.
    pub percolation_mm: f64,
    /// Water that falls off the field, mm over the field.
    pub off_field_mm: f64,
}

impl PlanYield {
    /// What is missed in all.
    pub fn missed(&self) -> f64 {
        1.0 - self.reached
    }
}

/// Yields of even water in a season: by the day, at the plan's intervals all season, as planned.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct EvenYields {
    daily: f64,
    all_season: f64,
    planned: f64,
}

/// That of every alternative, from the seasons that ran; `ground` and doubts are those that they ran
/// on.
///
/// # Errors
/// A schedule that cannot be made.
pub(crate) fn plan_yields(
    subject: Subject<'_>,
    seasons: &Seasons,
) -> Result<Vec<PlanYield>, SeasonError> {
    let scenario = subject.scenario;
    let mut even = vec![EvenYields::default(); scenario.alternatives.len()];
    // Without calls every season has the same schedule.
    let fixed = match scenario.called {
        None => Some(plans_in(scenario, Some(subject.ground), 0)?),
        Some(_) => None,
    };
    for (season, figures) in (seasons.first..).zip(&seasons.figures) {
        let ground = match subject.doubts {
            Some(doubts) => doubts.drawn(season).ground(subject.ground, season),
            None => subject.ground.clone(),
        };
        let plans = match &fixed {
            Some(plans) => Cow::Borrowed(plans),
            None => Cow::Owned(plans_in(scenario, Some(subject.ground), season as u32)?),
        };
        let all = scenario.alternatives.iter().zip(plans.iter()).zip(figures);
        for (sum, ((alternative, plan), figures)) in even.iter_mut().zip(all) {
            let net_mm = net_of_set_mm(scenario, alternative, figures);
            let found = even_yields(plan, net_mm, (&ground, season), scenario.called.is_some());
            sum.daily += found.daily;
            sum.all_season += found.all_season;
            sum.planned += found.planned;
        }
    }
    let count = seasons.finished().max(1) as f64;
    let of = |(index, sum): (usize, &EvenYields)| {
        let mean =
            |of: fn(&SeasonFigures) -> f64| seasons.series(index, of).iter().sum::<f64>() / count;
        let (reached, interior) = (mean(|f| f.yield_fraction), mean(|f| f.yield_interior));
        let [daily, all_season, planned] =
            [sum.daily, sum.all_season, sum.planned].map(|sum| sum / count);
        PlanYield {
            reached,
            water_short: 1.0 - daily,
            sets_too_large: daily - all_season,
            season_too_short: all_season - planned,
            unevenness: planned - interior,
            edges: interior - reached,
            percolation_mm: mean(|f| f.percolation_mm),
            off_field_mm: mean(|f| f.off_field_mm),
        }
    };
    Ok(even.iter().enumerate().map(of).collect())
}

/// Mean net depth of a set on the strip that it serves, mm.
fn net_of_set_mm(scenario: &Scenario, alternative: &Alternative, figures: &SeasonFigures) -> f64 {
    let lateral = &alternative.lateral;
    let length_m = lateral.sprinklers as f64 * lateral.sprinkler_spacing_m;
    let strip_m2 = length_m * alternative.outlets.spacing_m;
    let net_mm = figures.gross_mm - figures.losses_mm;
    net_mm * scenario.field.area().m2() / (f64::from(figures.moves).max(1.0) * strip_m2)
}

/// Yields of even water, `net_mm` a set, means over the places of `plan`.
fn even_yields(
    plan: &Plan,
    net_mm: f64,
    (ground, season): (&Ground, usize),
    is_called: bool,
) -> EvenYields {
    let places = days_watered(plan);
    let count = places.len().max(1) as f64;
    let mut sum = EvenYields::default();
    for days in &places {
        let planned = yield_of(ground, season, |day| net_mm * count_on(days, day));
        let [daily, all_season] = match interval_days(days) {
            Some(interval) if !is_called => {
                let longer = all_season(days, interval, ground, season);
                let all_season = yield_of(ground, season, |day| net_mm * count_on(&longer, day));
                [yield_of(ground, season, |_| net_mm / interval), all_season]
            }
            _ => [planned; 2],
        };
        sum.planned += planned / count;
        sum.all_season += all_season / count;
        sum.daily += daily / count;
    }
    sum
}

/// Per outlet, the days of the season on which it is watered, a set of each pass.
fn days_watered(plan: &Plan) -> Vec<Vec<i64>> {
    let outlets = plan.passes.iter().flat_map(|pass| &pass.sets).map(|set| set.outlet + 1).max();
    let mut places: Vec<Vec<i64>> = vec![Vec::new(); outlets.unwrap_or(0)];
    for pass in &plan.passes {
        let mut is_done = vec![false; places.len()];
        for set in &pass.sets {
            if !std::mem::replace(&mut is_done[set.outlet], true) {
                places[set.outlet].push((set.start_h / 24.0).floor() as i64);
            }
        }
    }
    places.retain(|days| !days.is_empty());
    places
}

fn count_on(days: &[i64], day: i64) -> f64 {
    days.iter().filter(|watered| **watered == day).count() as f64
}

/// Mean days from one watering to the next.
fn interval_days(days: &[i64]) -> Option<f64> {
    let (first, last) = (days.first()?, days.last()?);
    let interval = (last - first) as f64 / (days.len() - 1) as f64;
    (interval > 0.0).then_some(interval)
}

/// The same at that interval before and after, over all of the crop's days.
fn all_season(days: &[i64], interval: f64, ground: &Ground, season: usize) -> Vec<i64> {
    let ends = (ground.first_day, ground.first_day + ground.days_of(season).len() as i64);
    let (first, last) = (days.first().copied(), days.last().copied());
    let steps = |from: i64, sign: f64| {
        let step = move |k: i64| (from as f64 + sign * interval * k as f64).floor() as i64;
        (1..).map(step).take_while(move |day| (ends.0..ends.1).contains(day))
    };
    let before = first.into_iter().flat_map(|first| steps(first, -1.0));
    let after = last.into_iter().flat_map(|last| steps(last, 1.0));
    days.iter().copied().chain(before).chain(after).collect()
}

/// Yield under `irrigation_mm` by day of the season.
fn yield_of(ground: &Ground, season: usize, irrigation_mm: impl Fn(i64) -> f64) -> f64 {
    let mut zone = RootZone { depletion_mm: ground.depletion_mm };
    let days = ground.days_of(season);
    let used = days.iter().zip(ground.first_day..);
    let used_mm: f64 = used.map(|(day, number)| zone.step(day, irrigation_mm(number)).et_mm).sum();
    yield_fraction(ground.ky, used_mm, days.iter().map(|day| day.etc_mm).sum())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::root_zone::CropDay;

    /// 5 mm a day for `days`, RAW 50 of 100 mm, full at the start.
    fn ground(days: usize) -> Ground {
        let day = CropDay::with_fraction(5.0, 0.0, 0.5, 100.0, 100.0);
        Ground { first_day: 0, days: vec![vec![day; days]], depletion_mm: 0.0, ky: 1.0 }
    }

    #[test]
    fn closed_enough_water_in_time_misses_nothing() {
        let ground = ground(60);
        // 40 mm every 8 days from day 4 on meet 5 mm a day and fit into RAW.
        let days: Vec<i64> = (0..7).map(|k| 4 + 8 * k).collect();
        assert!((yield_of(&ground, 0, |day| 40.0 * count_on(&days, day)) - 1.0).abs() < 1e-12);
        assert_eq!(interval_days(&days), Some(8.0));
        // The same interval before day 4 finds no day of the crop, after day 52 none within 60.
        assert_eq!(all_season(&days, 8.0, &ground, 0), days);
        let early = &days[..3];
        assert_eq!(all_season(early, 8.0, &ground, 0), days);
        assert_eq!(interval_days(&[5]), None);
    }

    #[test]
    fn closed_large_sets_far_apart_lose_what_the_same_water_by_the_day_keeps() {
        // 150 mm every 30 days is 5 mm a day, but the root zone holds 100: by the day nothing is missed.
        let ground = ground(90);
        let days = [0, 30, 60];
        assert!((yield_of(&ground, 0, |_| 5.0) - 1.0).abs() < 1e-12);
        let large = yield_of(&ground, 0, |day| 150.0 * count_on(&days, day));
        // Each spell: 11 days at 5 mm (the stress sets in over a depletion of 50), then the rest falls by
        // a tenth a day: 100 − 45 · 0.9^19 = 93.9 mm of 150 used.
        assert!((large - 93.9 / 150.0).abs() < 1e-3, "{large}");
    }

    #[test]
    fn closed_half_the_water_is_water_short() {
        // 2.5 mm a day: the depletion settles where Ks is a half, after the store has been drawn down.
        let found = yield_of(&ground(2000), 0, |_| 2.5);
        assert!((found - 0.5).abs() < 0.025, "{found}");
    }
}
