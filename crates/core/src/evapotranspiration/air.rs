//! Water vapor and pressure of the air (Allen et al. 1998, FAO-56, chapter 3).
//!
//! Valid for the lower air and −40 to 60 °C.

use libm::{exp, pow};

/// Mean air pressure at a height above the sea, kPa (equation 7).
pub fn pressure_kpa(elevation_m: f64) -> f64 {
    101.3 * pow((293.0 - 0.0065 * elevation_m) / 293.0, 5.26)
}

/// Psychrometric constant γ, kPa/°C (equation 8).
pub(super) fn psychrometric_kpa_c(pressure_kpa: f64) -> f64 {
    0.665e-3 * pressure_kpa
}

/// Vapor pressure of saturated air e°(T), kPa (equation 11).
pub(super) fn saturation_kpa(temperature_c: f64) -> f64 {
    0.6108 * exp(17.27 * temperature_c / (temperature_c + 237.3))
}

/// Slope Δ of that curve, kPa/°C (equation 13).
pub(super) fn saturation_slope_kpa_c(temperature_c: f64) -> f64 {
    let above = temperature_c + 237.3;
    4098.0 * saturation_kpa(temperature_c) / (above * above)
}

/// Saturation vapor pressure of a day es, the mean over both extremes, kPa (equation 12).
pub(super) fn saturation_of_day_kpa(t_max_c: f64, t_min_c: f64) -> f64 {
    f64::midpoint(saturation_kpa(t_max_c), saturation_kpa(t_min_c))
}

/// What is known of the day's humidity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Humidity {
    /// Actual vapor pressure ea, kPa.
    VaporPressure(f64),
    /// Dew point, °C (equation 14).
    DewPoint(f64),
    /// Greatest and least relative humidity, fractions (equation 17).
    Range {
        /// Greatest, near dawn.
        greatest: f64,
        /// Least, in the afternoon.
        least: f64,
    },
    /// Mean relative humidity, fraction (equation 19).
    Mean(f64),
    /// Nothing: the dew point is taken as the least temperature (equation 48). Too moist in dry
    /// climates, where 2–3 °C less is right (FAO-56 annex 6).
    Unknown,
}

impl Humidity {
    /// Actual vapor pressure ea of the day, kPa.
    pub(super) fn vapor_kpa(&self, t_max_c: f64, t_min_c: f64) -> f64 {
        match *self {
            Self::VaporPressure(kpa) => kpa,
            Self::DewPoint(dew_point_c) => saturation_kpa(dew_point_c),
            Self::Range { greatest, least } => {
                f64::midpoint(saturation_kpa(t_min_c) * greatest, saturation_kpa(t_max_c) * least)
            }
            Self::Mean(mean) => mean * saturation_of_day_kpa(t_max_c, t_min_c),
            Self::Unknown => saturation_kpa(t_min_c),
        }
    }
}

#[cfg(test)]
mod tests {
    // Worked examples of Allen et al. 1998, all from memory, confidence high.
    use super::*;

    #[test]
    fn published_fao_56_example_2() {
        // 1800 m: 81.8 kPa, γ 0.054 kPa/°C.
        let pressure = pressure_kpa(1800.0);
        assert!((pressure - 81.8).abs() <= 0.05, "{pressure}");
        assert!((psychrometric_kpa_c(pressure) - 0.054).abs() <= 0.0005);
    }

    #[test]
    fn published_fao_56_example_3() {
        // 24.5 and 15.0 °C: 3.075 and 1.705 kPa, mean 2.39; at the mean temperature 2.30.
        assert!((saturation_kpa(24.5) - 3.075).abs() <= 0.0005);
        assert!((saturation_kpa(15.0) - 1.705).abs() <= 0.0005);
        assert!((saturation_of_day_kpa(24.5, 15.0) - 2.39).abs() <= 0.005);
        assert!((saturation_kpa(19.75) - 2.30).abs() <= 0.005);
    }

    #[test]
    fn published_fao_56_examples_5_and_6() {
        // 18 °C with 82 %, 25 °C with 54 %: ea 1.70 kPa, deficit 0.91 kPa; from the mean humidity of
        // 68 % 1.78 kPa.
        let range = Humidity::Range { greatest: 0.82, least: 0.54 }.vapor_kpa(25.0, 18.0);
        assert!((range - 1.70).abs() <= 0.005, "{range}");
        assert!((saturation_of_day_kpa(25.0, 18.0) - range - 0.91).abs() <= 0.005);
        let mean = Humidity::Mean(0.68).vapor_kpa(25.0, 18.0);
        assert!((mean - 1.78).abs() <= 0.005, "{mean}");
    }

    #[test]
    fn closed_unknown_humidity_is_a_dew_point_at_the_least_temperature() {
        let unknown = Humidity::Unknown.vapor_kpa(30.0, 12.0);
        assert_eq!(unknown, Humidity::DewPoint(12.0).vapor_kpa(30.0, 12.0));
        assert_eq!(Humidity::VaporPressure(1.2).vapor_kpa(30.0, 12.0), 1.2);
    }

    #[test]
    fn reference_slope_is_the_derivative() {
        for t in [-5.0, 10.0, 25.0, 40.0] {
            let step = 1e-4;
            let found = (saturation_kpa(t + step) - saturation_kpa(t - step)) / (2.0 * step);
            // 4098 in the source is 17.27 · 237.3 = 4098.17 rounded.
            assert!((found / saturation_slope_kpa_c(t) - 1.0).abs() < 1e-4, "{t}");
        }
    }
}
