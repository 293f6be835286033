//! Crop coefficients for the climate of the place.
//!
//! Tabulated Kc mid and Kc end are for a sub-humid climate: least relative humidity of the day 45 %,
//! wind 2 m/s at 2 m. Elsewhere (Allen et al. 1998, FAO-56, equations 62 and 65):
//! Kc = Kc(table) + [0.04 (u2 − 2) − 0.004 (`RHmin` − 45)] (h/3)^0.3, for u2 of 1–6 m/s, `RHmin` of
//! 20–80 % and plants of 0.1–10 m; means over the stage. Kc end is adjusted only where the table
//! has 0.45 or more; crops left to dry on the field do not feel the climate.

use super::{CropCoefficients, CropProblem};
use crate::range::within;

/// Lowest tabulated Kc end that is adjusted.
const LOWEST_END: f64 = 0.45;

/// Mean climate of a stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageClimate {
    /// Wind at 2 m, m/s.
    pub wind_speed_2_m_s: f64,
    /// Mean of the days' least relative humidity, fraction.
    pub least_humidity: f64,
}

impl StageClimate {
    /// The climate that the tables are for.
    pub const TABLE: Self = Self { wind_speed_2_m_s: 2.0, least_humidity: 0.45 };

    /// What is added to a tabulated Kc for plants so high. Climate outside the equation's range
    /// counts as the end of the range.
    ///
    /// # Errors
    /// A negative or unknown climate, or plants outside 0.1–10 m.
    fn addition(&self, height_m: f64) -> Result<f64, CropProblem> {
        let Self { wind_speed_2_m_s, least_humidity } = *self;
        let ranges = [
            ("wind at 2 m (m/s)", wind_speed_2_m_s, 0.0, 30.0),
            ("least relative humidity (fraction)", least_humidity, 0.0, 1.0),
            ("plant height (m)", height_m, 0.1, 10.0),
        ];
        for (quantity, value, lowest, highest) in ranges {
            within(quantity, value, lowest, highest)?;
        }
        let wind = 0.04 * (wind_speed_2_m_s.clamp(1.0, 6.0) - 2.0);
        let dryness = 0.4 * (least_humidity.clamp(0.2, 0.8) - 0.45);
        Ok((wind - dryness) * libm::pow(height_m / 3.0, 0.3))
    }
}

impl CropCoefficients {
    /// These tabulated coefficients for the climate of mid-season and of the late stage.
    ///
    /// # Errors
    /// A climate that is negative or unknown, or plants outside 0.1–10 m.
    pub fn in_climate(
        &self,
        height_m: f64,
        mid: StageClimate,
        late: StageClimate,
    ) -> Result<Self, CropProblem> {
        let end_addition = late.addition(height_m)?;
        let adjusted_end = if self.end >= LOWEST_END { self.end + end_addition } else { self.end };
        Ok(Self { ini: self.ini, mid: self.mid + mid.addition(height_m)?, end: adjusted_end })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn climate(wind_speed_2_m_s: f64, least_humidity: f64) -> StageClimate {
        StageClimate { wind_speed_2_m_s, least_humidity }
    }

    #[test]
    fn published_fao_56_kc_mid_of_maize_in_two_climates() {
        // Allen et al. 1998, worked example on Kc mid (from memory, confidence high for the values,
        // medium for its number, 27): maize 2 m high. Taipei: 1.3 m/s, 75 %: 1.07. Mocha: 4.6 m/s,
        // 44 %: 1.30.
        let kc = CropCoefficients { ini: 0.3, mid: 1.20, end: 0.35 };
        for (wind_m_s, humidity, published) in [(1.3, 0.75, 1.07), (4.6, 0.44, 1.30)] {
            let here = climate(wind_m_s, humidity);
            let found = kc.in_climate(2.0, here, here).unwrap();
            assert!((found.mid - published).abs() <= 0.005, "{}", found.mid);
            assert_eq!((found.ini, found.end), (0.3, 0.35));
        }
    }

    #[test]
    fn published_fao_56_kc_of_dry_beans() {
        // Allen et al. 1998, the dry bean example of chapter 6 (from memory, confidence medium):
        // 2.2 m/s, 30 %, 0.4 m: Kc mid 1.19; Kc end 0.35 stays.
        let kc = CropCoefficients { ini: 0.4, mid: 1.15, end: 0.35 };
        let here = climate(2.2, 0.30);
        let found = kc.in_climate(0.4, here, here).unwrap();
        assert!((found.mid - 1.19).abs() <= 0.005, "{}", found.mid);
        assert_eq!(found.end, 0.35);
    }

    #[test]
    fn closed_the_tables_own_climate_changes_nothing_and_nonsense_is_refused() {
        let kc = CropCoefficients { ini: 0.5, mid: 1.15, end: 0.75 };
        let table = StageClimate::TABLE;
        assert_eq!(kc.in_climate(0.6, table, table), Ok(kc));
        assert!(kc.in_climate(0.6, climate(f64::NAN, 0.5), table).is_err());
        assert!(kc.in_climate(0.6, table, climate(2.0, 45.0)).is_err());
        assert!(kc.in_climate(0.0, table, table).is_err());
        let windy = kc.in_climate(3.0, table, climate(4.0, 0.45)).unwrap();
        assert!((windy.end - 0.83).abs() < 1e-12);
    }
}
