//! When to irrigate: water called by depletion instead of the calendar.
//!
//! The rule of FAO-56 Example 38: water comes early on the first day by whose evening the depletion
//! would otherwise have passed RAW (or a share of it), so that stress never starts. It is followed
//! for one representative root zone, that of the field's mean depth; drier cells of an uneven field
//! are stressed before the call, and that is what the season's run shows. Rain puts the call off.
//!
//! A pass takes days: its water reaches the mean day by day, and no pass is called before the last
//! one is over. Neglected: forecasts of rain, and rights or turns of water.

use super::{CropDay, RootZone};

/// How water is called.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct CallRule {
    /// Depletion that calls, as a share of RAW; 1 is the start of stress.
    pub share_of_raw: f64,
}

/// The watering that a call brings. Days count from 1, the day of planting.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CalledPass {
    /// Mean net depth by day, mm.
    pub depths_mm: Vec<(usize, f64)>,
    /// First day on which the next call can be followed.
    pub free_from: usize,
}

/// One call that was followed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Call {
    /// Day of the season (1 is the day of planting).
    pub day: usize,
    /// Depletion before the water came, mm.
    pub depletion_mm: f64,
    /// RAW of that day, mm.
    pub raw_mm: f64,
}

impl CallRule {
    /// Whether `zone` calls for water on the morning of `day`.
    fn is_due(self, zone: RootZone, day: &CropDay) -> bool {
        let mut unwatered = zone;
        unwatered.step(day, 0.0);
        unwatered.depletion_mm > self.share_of_raw * day.raw_mm
    }

    /// All calls of a season of `days` from day `from_day` on, for a root zone that starts as
    /// `zone`. `pass` is asked for the watering of a call; `None` ends the calls.
    pub(crate) fn calls(
        self,
        days: &[CropDay],
        zone: RootZone,
        from_day: usize,
        mut pass: impl FnMut(usize) -> Option<CalledPass>,
    ) -> Vec<Call> {
        let (mut calls, mut free_from, mut over) = (Vec::new(), from_day, false);
        let mut water_mm = vec![0.0; days.len()];
        let mut zone = zone;
        for (i, day) in days.iter().enumerate() {
            let number = i + 1;
            if !over && number >= free_from && self.is_due(zone, day) {
                if let Some(called) = pass(number) {
                    for (on, depth_mm) in called.depths_mm {
                        // What falls after harvest reaches no crop.
                        if let Some(sum) = water_mm.get_mut(on.saturating_sub(1)) {
                            *sum += depth_mm;
                        }
                    }
                    free_from = called.free_from.max(number + 1);
                    let (depletion_mm, raw_mm) = (zone.depletion_mm, day.raw_mm);
                    calls.push(Call { day: number, depletion_mm, raw_mm });
                } else {
                    over = true;
                }
            }
            zone.step(day, water_mm[i]);
        }
        calls
    }
}

#[cfg(test)]
#[path = "calling_tests.rs"]
mod tests;
