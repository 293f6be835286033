//! What lies under the water: the crop's days and the soil it starts from.

use super::CropDay;

/// Crop and soil of a field, ready for the daily balance.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// Day of the season (0 = the day of the first set) on which the crop's first day falls.
    pub first_day: i64,
    /// The crop's days; one list for all seasons, or one per season.
    pub days: Vec<Vec<CropDay>>,
    /// Depletion of the root zone at the start, mm.
    pub depletion_mm: f64,
    /// Yield response factor Ky of the whole season.
    pub ky: f64,
}

impl Ground {
    /// The crop's days in season number `season`.
    pub fn days_of(&self, season: usize) -> &[CropDay] {
        self.days.get(season % self.days.len().max(1)).map_or(&[], Vec::as_slice)
    }

    /// What the crop would use without stress, mm.
    pub fn need_mm(&self, season: usize) -> f64 {
        self.days_of(season).iter().map(|day| day.etc_mm).sum()
    }

    /// Season number `season` alone, on a soil that holds `storage` times as much for the roots, for
    /// a crop whose yield responds `response` times as strongly; what is missing at the start is the
    /// same share of what the soil holds.
    pub(crate) fn with_storage(&self, season: usize, storage: f64, response: f64) -> Self {
        let day = |day: &CropDay| {
            let (taw_mm, before_mm) =
                (day.taw_mm * storage, (day.taw_mm - day.rooted_mm) * storage);
            let fraction = day.raw_mm / day.taw_mm;
            CropDay::with_fraction(day.etc_mm, day.rain_mm, fraction, taw_mm, before_mm)
        };
        Self {
            first_day: self.first_day,
            days: vec![self.days_of(season).iter().map(day).collect()],
            depletion_mm: self.depletion_mm * storage,
            ky: self.ky * response,
        }
    }
}
