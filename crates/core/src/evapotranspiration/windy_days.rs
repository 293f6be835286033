//! What a windier day does to evapotranspiration whose mean is known.
//!
//! The Penman–Monteith equation (FAO-56, equation 6) is solved for the radiation that gives the mean
//! ET0 at the mean wind in the assumed air, and evaluated with that radiation at another wind. Where
//! the assumed air alone would give more than the mean, all of it is put down to the air. Pressure
//! is that at sea level. Neglected: that windy days have other air and other sun; in humid places
//! their effects have been seen to cancel the wind's.

use super::air::{pressure_kpa, psychrometric_kpa_c, saturation_kpa, saturation_slope_kpa_c};
use crate::weather::AssumedAir;

/// Days whose mean is known.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WindyDays {
    /// Mean ET0, mm a day.
    pub(crate) et0_mm: f64,
    /// Mean wind at 2 m, m/s.
    pub(crate) wind_2_m_s: f64,
    /// Their air.
    pub(crate) air: AssumedAir,
}

impl WindyDays {
    /// ET0 of a day with a mean wind of `wind_2_m_s` at 2 m, mm.
    pub(crate) fn at(&self, wind_2_m_s: f64) -> f64 {
        let temperature_c = self.air.temperature_c;
        let slope = saturation_slope_kpa_c(temperature_c);
        let gamma = psychrometric_kpa_c(pressure_kpa(0.0));
        let deficit = saturation_kpa(temperature_c) * (1.0 - self.air.relative_humidity);
        let by_air = |wind: f64| gamma * 900.0 / (temperature_c + 273.0) * wind * deficit;
        let below = |wind: f64| slope + gamma * (1.0 + 0.34 * wind);
        let mean = self.et0_mm * below(self.wind_2_m_s);
        let by_radiation = (mean - by_air(self.wind_2_m_s)).max(0.0);
        // 1 where the air leaves room for radiation.
        let scale = mean / (by_radiation + by_air(self.wind_2_m_s)).max(f64::MIN_POSITIVE);
        scale * (by_radiation + by_air(wind_2_m_s)) / below(wind_2_m_s)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_the_mean_wind_gives_the_mean_and_dry_air_answers_to_wind() {
        let air = AssumedAir { temperature_c: 25.0, relative_humidity: 0.3 };
        let days = WindyDays { et0_mm: 7.0, wind_2_m_s: 2.0, air };
        assert!((days.at(2.0) - 7.0).abs() < 1e-12);
        // By hand at 25 °C: Δ 0.1888, γ 0.0674 kPa/°C, deficit 0.7·3.168 = 2.217 kPa. At 2 m/s the air
        // adds 0.0674·900/298·2·2.217 = 0.902 over 0.3020, at 3 m/s 1.353 over 0.3249; radiation adds
        // 7·0.3020 − 0.902 = 1.212; (1.212 + 1.353)/0.3249 = 7.89.
        assert!((days.at(3.0) - 7.89).abs() < 0.02, "{}", days.at(3.0));
        let humid = AssumedAir { relative_humidity: 0.95, ..air };
        assert!(WindyDays { air: humid, ..days }.at(3.0) < 7.0);
        // Air so dry that it alone would evaporate more than 3 mm.
        let dry = WindyDays { et0_mm: 2.0, ..days };
        assert!((dry.at(2.0) - 2.0).abs() < 1e-12 && dry.at(0.0).abs() < 1e-12);
    }
}
