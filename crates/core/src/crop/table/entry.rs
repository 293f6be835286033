//! A crop of the tables: what one row holds, and the crop that is made of it.

use crate::crop::{Crop, CropCoefficients, RootDepth, StageLengths};

/// One crop of the tables.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CropEntry {
    /// Name.
    pub name: &'static str,
    /// Table 12, at 2 m/s and 45 % least humidity.
    pub kc: CropCoefficients,
    /// Table 12, greatest height, m.
    pub height_m: f64,
    /// Whether one curve stands for all cuts, so that on average the stand is half grown.
    pub averages_cuts: bool,
    /// Table 22, range of the greatest root depth, m.
    pub full_root_depth_m: (f64, f64),
    /// Assumed root depth at planting, m.
    pub root_depth_at_planting_m: f64,
    /// Table 22, p at 5 mm/day.
    pub depletion_fraction: f64,
    /// Table 11, one entry per cut.
    pub cycles: &'static [StageLengths],
    /// Where those stage lengths are from.
    pub region: &'static str,
    /// Table 24, whole season.
    pub yield_response: f64,
    /// What was chosen or assumed beyond the tables; empty if nothing.
    pub note: &'static str,
}

impl CropEntry {
    /// The crop with the smaller full root depth.
    pub fn crop(&self) -> Crop {
        let full_m = self.full_root_depth_m.0;
        let at_planting_m = self.root_depth_at_planting_m.min(full_m);
        Crop {
            kc: self.kc,
            cycles: self.cycles.to_vec(),
            roots: RootDepth { at_planting_m, full_m },
            depletion_fraction: self.depletion_fraction,
            yield_response: self.yield_response,
        }
    }
}

pub(super) const fn kc(ini: f64, mid: f64, end: f64) -> CropCoefficients {
    CropCoefficients { ini, mid, end }
}

pub(super) const fn stages(
    initial_days: u32,
    development_days: u32,
    mid_days: u32,
    late_days: u32,
) -> StageLengths {
    StageLengths { initial_days, development_days, mid_days, late_days }
}
