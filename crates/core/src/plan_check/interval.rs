//! Days between two irrigations of the same place, beside what the root zone lasts at peak use.
//!
//! From the start of a set to the start of the next one at the same outlet, an extra set of the same
//! pass left out. Of a plan whose intervals differ, those count that run into the peak week, or all
//! where none does. Full to the allowed depletion lasts RAW / ETc days without rain (FAO-56 chapter 8).

use super::peak::{PEAK_DAYS, PeakUse};
use super::yardstick::Yardstick;
use crate::lateral::Side;
use crate::schedule::Plan;
use std::collections::BTreeMap;

/// Days between irrigations.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Mean, days.
    pub days: f64,
    /// The longest, days.
    pub longest_days: f64,
    /// The longest against what the root zone lasts at peak use, days; `None` without crop and soil.
    pub against_soil: Option<Yardstick>,
}

impl Interval {
    /// Those of `plan`; `None` where no place is watered twice.
    pub(super) fn of(plan: &Plan, peak: Option<&PeakUse>) -> Option<Self> {
        let all = gaps_h(plan);
        let at_peak: Vec<(f64, f64)> = peak.map_or_else(Vec::new, |peak| {
            let first_h = 24.0 * peak.first_day as f64;
            let last_h = first_h + 24.0 * peak.days as f64;
            all.iter().copied().filter(|(from, to)| *from < last_h && *to > first_h).collect()
        });
        let counted = if at_peak.is_empty() { &all } else { &at_peak };
        let days: Vec<f64> = counted.iter().map(|(from, to)| (to - from) / 24.0).collect();
        let longest_days = days.iter().copied().fold(0.0, f64::max);
        // The longer an interval, the likelier it meets the peak: each counts by how seldom its like does.
        let met_days = if at_peak.is_empty() { f64::INFINITY } else { PEAK_DAYS as f64 };
        let weight = |days: f64| if met_days.is_finite() { 1.0 / (days + met_days) } else { 1.0 };
        let weights: f64 = days.iter().map(|days| weight(*days)).sum();
        let mean_days = days.iter().map(|days| weight(*days) * days).sum::<f64>() / weights;
        let lasts_days = peak.map(|peak| peak.raw_mm / peak.etc_mm_d);
        (!counted.is_empty()).then(|| Self {
            days: mean_days,
            longest_days,
            against_soil: lasts_days.map(|lasts| Yardstick::at_most(longest_days, lasts)),
        })
    }
}

/// Start of a set and of the next one at the same outlet, h, for every outlet.
fn gaps_h(plan: &Plan) -> Vec<(f64, f64)> {
    let mut last_h: BTreeMap<(Side, usize), f64> = BTreeMap::new();
    let mut gaps = Vec::new();
    for pass in &plan.passes {
        let mut first_h: BTreeMap<(Side, usize), f64> = BTreeMap::new();
        for set in &pass.sets {
            first_h.entry((set.side, set.outlet)).or_insert(set.start_h);
        }
        for (place, start_h) in first_h {
            if let Some(before_h) = last_h.insert(place, start_h) {
                gaps.push((before_h, start_h));
            }
        }
    }
    gaps
}
