//! A crop over its season: crop coefficient, root depth and what stress costs it.
//!
//! Single crop coefficient after Allen et al. 1998, FAO-56, chapter 6: Kc ini through the initial
//! stage, a straight line to Kc mid through development, Kc mid through mid-season, a straight line
//! to Kc end through the late stage (equation 66). Days count from 1, the day of planting (or of
//! growth in spring). A crop that is cut runs through several cycles of stages, one per cut.
//!
//! Roots deepen in a straight line from the depth at planting on day 1 to the full depth on the
//! first day of (the first) mid-season. FAO-56 chapter 8 has full depth at the start of mid-season
//! (from memory, confidence medium); the straight line is an assumption.
//!
//! Neglected: that stress slows leaves and roots, that cold or heat moves the stages, and wetting of
//! bare soil by frequent watering (Kc ini is taken as given).

use crate::range::{OutOfRange, within};

pub mod table;

/// Crop coefficients at the three corners of the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CropCoefficients {
    /// Initial stage.
    pub ini: f64,
    /// Mid-season.
    pub mid: f64,
    /// Last day of the late stage.
    pub end: f64,
}

/// Lengths of the four stages, days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StageLengths {
    /// From planting to a tenth of ground cover.
    pub initial_days: u32,
    /// From there to full cover.
    pub development_days: u32,
    /// From there to the start of maturity.
    pub mid_days: u32,
    /// From there to harvest.
    pub late_days: u32,
}

impl StageLengths {
    /// Days in all.
    pub(crate) fn total_days(&self) -> usize {
        let Self { initial_days, development_days, mid_days, late_days } = *self;
        [initial_days, development_days, mid_days, late_days].map(|days| days as usize).iter().sum()
    }
}

/// How deep the roots go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootDepth {
    /// On the day of planting, m.
    pub at_planting_m: f64,
    /// From mid-season on, m.
    pub full_m: f64,
}

/// A crop in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Crop {
    /// Crop coefficients.
    pub kc: CropCoefficients,
    /// Stages, once per cut; most crops have one cycle.
    pub cycles: Vec<StageLengths>,
    /// Root depth.
    pub roots: RootDepth,
    /// Share p of TAW that can be used without stress when the need is 5 mm/day, fraction.
    pub depletion_fraction: f64,
    /// Yield response factor Ky of the whole season (FAO-33).
    pub yield_response: f64,
}

/// What can be wrong with a crop.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CropProblem {
    /// A number outside what is taken.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// No stages, or none that last a day.
    #[error("the crop has no season: its stages last {days} days (1 to {MOST_DAYS} are taken)")]
    SeasonLength {
        /// Days of all stages.
        days: usize,
    },
    /// Roots that shrink.
    #[error("roots are {at_planting_m} m deep at planting, deeper than in mid-season ({full_m} m)")]
    RootsShrink {
        /// Depth at planting, m.
        at_planting_m: f64,
        /// Full depth, m.
        full_m: f64,
    },
}

/// Longest season that is taken, days.
const MOST_DAYS: usize = 366;

impl Crop {
    /// Everything that is wrong with the crop; empty if it can be computed with.
    pub fn problems(&self) -> Vec<CropProblem> {
        let mut problems = Vec::new();
        let ranges = [
            ("Kc ini", self.kc.ini, 0.0, 1.6),
            ("Kc mid", self.kc.mid, 0.05, 1.6),
            ("Kc end", self.kc.end, 0.0, 1.6),
            ("root depth at planting (m)", self.roots.at_planting_m, 0.05, 5.0),
            ("full root depth (m)", self.roots.full_m, 0.05, 5.0),
            ("depletion fraction p", self.depletion_fraction, 0.1, 0.8),
            ("yield response Ky", self.yield_response, 0.0, 3.0),
        ];
        for (quantity, value, lowest, highest) in ranges {
            problems.extend(within(quantity, value, lowest, highest).err().map(CropProblem::from));
        }
        let days = self.season_days();
        if !(1..=MOST_DAYS).contains(&days) {
            problems.push(CropProblem::SeasonLength { days });
        }
        let RootDepth { at_planting_m, full_m } = self.roots;
        if at_planting_m > full_m {
            problems.push(CropProblem::RootsShrink { at_planting_m, full_m });
        }
        problems
    }

    /// Days from planting to harvest (or to the last cut).
    pub fn season_days(&self) -> usize {
        self.cycles.iter().map(StageLengths::total_days).sum()
    }

    /// Kc on `day` (1 is the day of planting); `None` before and after the season.
    pub(crate) fn kc_on(&self, day: usize) -> Option<f64> {
        let mut in_cycle = day;
        for stages in &self.cycles {
            let days = stages.total_days();
            if (1..=days).contains(&in_cycle) {
                return Some(self.kc.on(in_cycle as f64, stages));
            }
            in_cycle = in_cycle.checked_sub(days)?;
        }
        None
    }

    /// Root depth on `day` (1 is the day of planting), m; full depth ever after.
    pub(crate) fn root_depth_m(&self, day: usize) -> f64 {
        let growing =
            self.cycles.first().map_or(0, |first| first.initial_days + first.development_days);
        let RootDepth { at_planting_m, full_m } = self.roots;
        let since = day.saturating_sub(1) as f64;
        if since >= f64::from(growing) {
            return full_m;
        }
        at_planting_m + (full_m - at_planting_m) * since / f64::from(growing)
    }
}

impl CropCoefficients {
    /// Kc at the end of `day` of a cycle (FAO-56 equation 66).
    fn on(&self, day: f64, stages: &StageLengths) -> f64 {
        let developing = day - f64::from(stages.initial_days);
        let full = developing - f64::from(stages.development_days);
        let ripening = full - f64::from(stages.mid_days);
        if developing <= 0.0 {
            self.ini
        } else if full <= 0.0 {
            self.ini + (self.mid - self.ini) * developing / f64::from(stages.development_days)
        } else if ripening <= 0.0 {
            self.mid
        } else {
            self.mid + (self.end - self.mid) * ripening / f64::from(stages.late_days)
        }
    }
}

#[cfg(test)]
#[path = "crop/tests.rs"]
mod tests;
