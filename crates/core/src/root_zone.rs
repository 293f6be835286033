//! The daily water balance of a root zone, one cell, written to be obviously right.
//!
//! Depletion Dr is the water missing to field capacity, mm (Allen et al. 1998, FAO-56, chapter 8):
//! - Dr,i = Dr,i−1 − P − I + ETc adj + DP (equation 85, without runoff and capillary rise);
//! - ETc adj = Ks Kc ET0, Ks = (TAW − Dr) / (TAW − RAW) once Dr > RAW, else 1 (equations 80, 84);
//! - water beyond field capacity percolates the same day (equation 88).
//!
//! Order within a day, that of FAO-56 Example 38 ("irrigation and rain come early in the day"): roots
//! reach new soil, which is at field capacity; rain and irrigation come and the excess percolates;
//! then the crop draws, with Ks for the depletion after that water. Taken literally, equation 88
//! lets the day's ETc use the excess first; that percolates up to one ETc less per watering and does
//! not give Example 38's numbers.
//!
//! Conservation: rain + irrigation + water gained with new roots = ETc adj + percolation + change
//! of the available water TAW − Dr. New soil at field capacity leaves Dr as it is.
//!
//! Neglected: runoff, capillary rise, water that drains for more than a day, evaporation of wet bare
//! soil apart from the crop's (single crop coefficient), and that percolation wets what roots reach
//! later.

pub mod calling;
pub(crate) mod cells;
pub mod ground;
pub mod inputs;
pub(crate) mod lines;
#[cfg(test)]
pub(crate) mod plain;
pub mod season;
pub mod yields;

/// What a day brings to every cell alike; irrigation alone differs by cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CropDay {
    /// Crop water need without stress, Kc ET0, mm.
    pub etc_mm: f64,
    /// Rain, mm.
    pub rain_mm: f64,
    /// Total available water of today's root zone, mm.
    pub taw_mm: f64,
    /// Readily available part of it, mm.
    pub raw_mm: f64,
    /// Water that roots gained by reaching new soil today, mm.
    pub rooted_mm: f64,
    /// 1 / (TAW − RAW), 1/mm: both ways of stepping must use the same bits.
    stress_slope: f64,
}

impl CropDay {
    /// Lowest and highest depletion fraction p (FAO-56, below Table 22).
    const DEPLETION_FRACTION_RANGE: (f64, f64) = (0.1, 0.8);

    /// A day with depletion fraction `p` for 5 mm/day, which is corrected for the day's need:
    /// p + 0.04 (5 − ETc), held within 0.1–0.8 (FAO-56, below Table 22).
    ///
    /// `taw_before_mm` is yesterday's TAW (today's on the first day). Numbers are the caller's to
    /// check: TAW positive, not falling; the rest not negative.
    pub fn new(etc_mm: f64, rain_mm: f64, p: f64, taw_mm: f64, taw_before_mm: f64) -> Self {
        Self::with_fraction(etc_mm, rain_mm, corrected_fraction(p, etc_mm), taw_mm, taw_before_mm)
    }

    /// A day whose depletion fraction is `p` as it stands (at most 0.8), without correction.
    pub(crate) fn with_fraction(
        etc_mm: f64,
        rain_mm: f64,
        p: f64,
        taw_mm: f64,
        taw_before_mm: f64,
    ) -> Self {
        let raw_mm = p * taw_mm;
        let rooted_mm = taw_mm - taw_before_mm;
        let stress_slope = 1.0 / (taw_mm - raw_mm);
        Self { etc_mm, rain_mm, taw_mm, raw_mm, rooted_mm, stress_slope }
    }
}

/// p + 0.04 (5 − ETc), held within [`CropDay::DEPLETION_FRACTION_RANGE`].
fn corrected_fraction(p: f64, etc_mm: f64) -> f64 {
    let (lowest, highest) = CropDay::DEPLETION_FRACTION_RANGE;
    (p + 0.04 * (5.0 - etc_mm)).clamp(lowest, highest)
}

/// The root zone of one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct RootZone {
    /// Water missing to field capacity, mm; from 0 to TAW.
    pub depletion_mm: f64,
}

/// What one day did to one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct DayWater {
    /// Water the crop used, ETc adj, mm.
    pub et_mm: f64,
    /// Water lost below the roots, mm.
    pub percolation_mm: f64,
    /// Stress coefficient Ks, 0 to 1.
    pub ks: f64,
}

impl RootZone {
    /// One day with `irrigation_mm` of net irrigation.
    pub(crate) fn step(&mut self, day: &CropDay, irrigation_mm: f64) -> DayWater {
        let missing_mm = self.depletion_mm - (day.rain_mm + irrigation_mm);
        let percolation_mm = if missing_mm < 0.0 { -missing_mm } else { 0.0 };
        let depletion_mm = if missing_mm < 0.0 { 0.0 } else { missing_mm };

        let left_mm = day.taw_mm - depletion_mm;
        let ks =
            if depletion_mm > day.raw_mm { (left_mm * day.stress_slope).min(1.0) } else { 1.0 };
        // A need beyond what is left (a thin root zone on a hot day) takes just that.
        let et_mm = (ks * day.etc_mm).min(left_mm);
        self.depletion_mm = depletion_mm + et_mm;
        DayWater { et_mm, percolation_mm, ks }
    }
}

#[cfg(test)]
#[path = "root_zone/tests.rs"]
mod tests;
