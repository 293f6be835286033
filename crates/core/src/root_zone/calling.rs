//! When to irrigate: water called by depletion instead of the calendar.
//!
//! The rule of FAO-56 Example 38: water comes early on the first day by whose evening the depletion
//! would otherwise have passed RAW (or a share of it), so that stress never starts. It is followed
//! for one representative cell, the one that gets the mean depth; drier cells of an uneven field
//! are stressed before the call, and that is what the season's run shows.
//!
//! Neglected: that a pass takes days to reach the whole field, forecasts of rain, and rights or
//! turns of water. A lateral that cannot start anew before a pass is over sets the least interval.

use super::season::SeasonWater;
use super::{CropDay, RootZone};

/// How water is called.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CallRule {
    /// Net depth of one watering, mm.
    pub depth_mm: f64,
    /// Depletion that calls, as a share of RAW; 1 is the start of stress.
    pub share_of_raw: f64,
    /// Days from one call to the next at the least.
    pub least_days_between: usize,
}

/// What is wrong with a rule.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{quantity} is {value}; it must lie between {lowest} and {highest}")]
pub struct CallProblem {
    quantity: &'static str,
    value: f64,
    lowest: f64,
    highest: f64,
}

/// One watering that was called.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Call {
    /// Day of the season (1 is the day of planting).
    pub day: usize,
    /// Depletion before the water came, mm.
    pub depletion_mm: f64,
    /// RAW of that day, mm.
    pub raw_mm: f64,
}

impl CallRule {
    /// Everything that is wrong with the rule.
    pub fn problems(&self) -> Vec<CallProblem> {
        let ranges = [
            ("depth of a called watering (mm)", self.depth_mm, 0.1, 500.0),
            ("share of RAW that calls", self.share_of_raw, 0.05, 3.0),
            ("least days between calls", self.least_days_between as f64, 1.0, 366.0),
        ];
        ranges
            .into_iter()
            .filter(|&(_, value, lowest, highest)| !(value >= lowest && value <= highest))
            .map(|(quantity, value, lowest, highest)| CallProblem {
                quantity,
                value,
                lowest,
                highest,
            })
            .collect()
    }

    /// Whether `zone` calls for water on the morning of `day`.
    pub fn is_due(&self, zone: RootZone, day: &CropDay) -> bool {
        let mut unwatered = zone;
        unwatered.step(day, 0.0);
        unwatered.depletion_mm > self.share_of_raw * day.raw_mm
    }
}

impl SeasonWater {
    /// First day from `from_day` on (1 is the day of planting) on which `zone`, left without
    /// irrigation, calls for water, and the zone on that morning; `None` if it never does.
    pub fn next_call(
        &self,
        zone: RootZone,
        from_day: usize,
        rule: &CallRule,
    ) -> Option<(usize, RootZone)> {
        let mut zone = zone;
        for (i, day) in self.days().iter().enumerate().skip(from_day.saturating_sub(1)) {
            if rule.is_due(zone, day) {
                return Some((i + 1, zone));
            }
            zone.step(day, 0.0);
        }
        None
    }

    /// All calls of a season in which the representative cell gets the rule's depth at every call.
    ///
    /// # Errors
    /// Everything that is wrong with the rule, at once.
    pub fn calls(&self, rule: &CallRule) -> Result<Vec<Call>, Vec<CallProblem>> {
        let problems = rule.problems();
        if !problems.is_empty() {
            return Err(problems);
        }
        let (mut calls, mut free_from) = (Vec::new(), 1);
        let mut zone = self.at_planting();
        for (i, day) in self.days().iter().enumerate() {
            let called = i + 1 >= free_from && rule.is_due(zone, day);
            if called {
                calls.push(Call {
                    day: i + 1,
                    depletion_mm: zone.depletion_mm,
                    raw_mm: day.raw_mm,
                });
                free_from = i + 1 + rule.least_days_between;
            }
            zone.step(day, if called { rule.depth_mm } else { 0.0 });
        }
        Ok(calls)
    }
}

#[cfg(test)]
#[path = "calling_tests.rs"]
mod tests;
