//! Day and night as they fall on the sets of a season, and clock lock.
//!
//! A set belongs to the half of the day in which at least two thirds of it run; one that is spread
//! more evenly belongs to neither. The clock is locked when every place meets the same half in
//! every pass: day and night winds then never even out between places.

use super::passes::{PassPlan, SetPlan};
use crate::clock::DAY_HOURS;
use crate::lateral::Side;
use std::collections::BTreeSet;

/// How the sets of a season fell by day and night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayNight {
    /// Share of the set hours between 06:00 and 18:00.
    pub day_share: f64,
    /// Places (outlets, and the sides of the mainline that they serve) that met the same half of the day in every pass.
    pub locked_places: usize,
    /// All places.
    pub places: usize,
}

impl DayNight {
    /// Every place always met the same half of the day: clock lock. Never so with one pass.
    pub fn is_locked(&self) -> bool {
        self.locked_places == self.places && self.places > 0
    }
}

impl SetPlan {
    /// Share of the set that runs in the day half.
    pub fn day_share(&self) -> f64 {
        let (first_day, last_day) = ((self.start_h / 24.0).floor(), (self.end_h / 24.0).floor());
        let mut day_h = 0.0;
        let mut day = first_day;
        while day <= last_day {
            let from_h = (24.0 * day + DAY_HOURS.0).max(self.start_h);
            let to_h = (24.0 * day + DAY_HOURS.1).min(self.end_h);
            day_h += (to_h - from_h).max(0.0);
            day += 1.0;
        }
        day_h / (self.end_h - self.start_h)
    }
}

/// Which half of the day a set belongs to: two thirds of it or more.
#[derive(Clone, Copy, PartialEq)]
enum Half {
    Day,
    Night,
    Both,
}

impl DayNight {
    /// Counts how the sets of `passes` fell.
    pub(super) fn of(passes: &[PassPlan]) -> Self {
        let half = |set: &SetPlan| match set.day_share() {
            share if share >= 2.0 / 3.0 => Half::Day,
            share if share <= 1.0 / 3.0 => Half::Night,
            _ => Half::Both,
        };
        let sets: Vec<f64> =
            passes.iter().flat_map(|pass| &pass.sets).map(SetPlan::day_share).collect();
        let all = || passes.iter().flat_map(|pass| &pass.sets);
        let places: BTreeSet<_> = all().map(|set| (set.side, set.outlet)).collect();
        // A set more at an edge belongs to the outlet that feeds it.
        let locked = |place: &&(Side, usize)| {
            let mut halves = all().filter(|set| (set.side, set.outlet) == **place).map(half);
            let first = halves.next().unwrap_or(Half::Both);
            first != Half::Both && halves.all(|half| half == first)
        };
        let locked_places = if passes.len() < 2 { 0 } else { places.iter().filter(locked).count() };
        Self {
            day_share: sets.iter().sum::<f64>() / sets.len().max(1) as f64,
            locked_places,
            places: places.len(),
        }
    }
}
