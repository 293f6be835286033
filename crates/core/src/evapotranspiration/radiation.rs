//! Sun and sky: radiation of a day, MJ/m² (Allen et al. 1998, FAO-56, chapter 3).
//!
//! Valid up to 65° of latitude (the sun must rise and set). Neglected: slopes, horizons, haze;
//! Ångström's coefficients are FAO-56's defaults 0.25 and 0.50.

use super::Site;
use libm::{acos, cos, sin, sqrt, tan};
use std::f64::consts::PI;

/// Solar constant, MJ/m² a minute.
const SOLAR_MJ_M2_MIN: f64 = 0.0820;
/// Stefan–Boltzmann constant, MJ/m² a day per K⁴.
const STEFAN_BOLTZMANN: f64 = 4.903e-9;
/// Albedo of the reference grass.
const ALBEDO: f64 = 0.23;

/// The sun over a place on one day of the year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sun {
    /// Extraterrestrial radiation Ra, MJ/m² (equation 21).
    pub outside_mj_m2: f64,
    /// Daylight hours N, h (equation 34).
    pub daylight_h: f64,
}

impl Sun {
    /// The sun on `day_of_year` (1 is 1 January); for a month, its 15th.
    pub fn on(day_of_year: u16, latitude_deg: f64) -> Self {
        let season = 2.0 * PI / 365.0 * f64::from(day_of_year);
        let nearness = 1.0 + 0.033 * cos(season); // equation 23
        let declination = 0.409 * sin(season - 1.39); // equation 24
        let latitude = latitude_deg * PI / 180.0;
        // Equation 25; held where the sun stays up or down all day.
        let sunset = acos((-tan(latitude) * tan(declination)).clamp(-1.0, 1.0));
        let height = sunset * sin(latitude) * sin(declination)
            + cos(latitude) * cos(declination) * sin(sunset);
        Self {
            outside_mj_m2: 24.0 * 60.0 / PI * SOLAR_MJ_M2_MIN * nearness * height,
            daylight_h: 24.0 / PI * sunset,
        }
    }

    /// Radiation on the ground under a clear sky Rso, MJ/m² (equation 37).
    pub(super) fn clear_sky_mj_m2(&self, elevation_m: f64) -> f64 {
        (0.75 + 2e-5 * elevation_m) * self.outside_mj_m2
    }
}

/// What is known of the day's radiation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Radiation {
    /// Solar radiation Rs as measured, MJ/m².
    Solar(f64),
    /// Hours of bright sunshine n, h (Ångström, equation 35).
    Sunshine(f64),
    /// From the range of temperature (Hargreaves, equation 50): kRs 0.16 inland, 0.19 on coasts.
    FromTemperatures {
        /// Coefficient kRs, °C^−0.5.
        k_rs: f64,
    },
}

impl Radiation {
    /// kRs inland.
    pub const INLAND: Self = Self::FromTemperatures { k_rs: 0.16 };
    /// kRs on coasts.
    pub const COAST: Self = Self::FromTemperatures { k_rs: 0.19 };

    /// Solar radiation Rs, MJ/m²; never over a clear sky's where it is worked out from temperatures.
    pub(super) fn solar_mj_m2(&self, sun: &Sun, site: &Site, t_max_c: f64, t_min_c: f64) -> f64 {
        match *self {
            Self::Solar(mj_m2) => mj_m2,
            Self::Sunshine(hours) => {
                let share = (hours / sun.daylight_h).min(1.0);
                (0.25 + 0.50 * share) * sun.outside_mj_m2
            }
            Self::FromTemperatures { k_rs } => {
                (k_rs * sqrt((t_max_c - t_min_c).max(0.0)) * sun.outside_mj_m2)
                    .min(sun.clear_sky_mj_m2(site.elevation_m))
            }
        }
    }
}

/// Radiation that the grass keeps Rn = Rns − Rnl, MJ/m² (equations 38 to 40).
///
/// Solar over clear-sky radiation counts as 1 at the most.
pub(super) fn net_mj_m2(
    solar_mj_m2: f64,
    clear_sky_mj_m2: f64,
    t_max_c: f64,
    t_min_c: f64,
    vapor_kpa: f64,
) -> f64 {
    (1.0 - ALBEDO) * solar_mj_m2
        - net_longwave_mj_m2(solar_mj_m2 / clear_sky_mj_m2, t_max_c, t_min_c, vapor_kpa)
}

/// Net outgoing longwave radiation Rnl, MJ/m² (equation 39).
fn net_longwave_mj_m2(clearness: f64, t_max_c: f64, t_min_c: f64, vapor_kpa: f64) -> f64 {
    let fourth = |t_c: f64| {
        let square = (t_c + 273.16) * (t_c + 273.16);
        square * square
    };
    let black_body = STEFAN_BOLTZMANN * f64::midpoint(fourth(t_max_c), fourth(t_min_c));
    black_body * (0.34 - 0.14 * sqrt(vapor_kpa)) * (1.35 * clearness.min(1.0) - 0.35)
}

#[cfg(test)]
mod tests {
    // Worked examples of Allen et al. 1998, all from memory, confidence high.
    use super::*;

    /// Rio de Janeiro, 22°54' S, May.
    fn rio() -> Sun {
        Sun::on(135, -(22.0 + 54.0 / 60.0))
    }

    #[test]
    fn published_fao_56_examples_8_and_9() {
        // 3 September, 20° S: Ra 32.2 MJ/m², N 11.7 h.
        let sun = Sun::on(246, -20.0);
        assert!((sun.outside_mj_m2 - 32.2).abs() <= 0.05, "{}", sun.outside_mj_m2);
        assert!((sun.daylight_h - 11.7).abs() <= 0.05, "{}", sun.daylight_h);
    }

    #[test]
    fn published_fao_56_example_10() {
        // Rio, 220 h of sun in May: Ra 25.1, N 10.9 h, Rs 14.5 MJ/m².
        let sun = rio();
        assert!((sun.outside_mj_m2 - 25.1).abs() <= 0.05, "{}", sun.outside_mj_m2);
        assert!((sun.daylight_h - 10.9).abs() <= 0.05);
        let site = Site { latitude_deg: -22.9, elevation_m: 0.0 };
        let solar = Radiation::Sunshine(220.0 / 31.0).solar_mj_m2(&sun, &site, 25.1, 19.1);
        // Exact 14.45: the source rounds n/N = 7.1/10.9 on the way.
        assert!((solar - 14.5).abs() <= 0.06, "{solar}");
    }

    #[test]
    fn published_fao_56_examples_11_and_12() {
        // Rio again: 25.1 and 19.1 °C, ea 2.1 kPa, Rso 18.8: Rnl 3.5 and Rn 7.6 MJ/m².
        let clear = rio().clear_sky_mj_m2(0.0);
        assert!((clear - 18.8).abs() <= 0.05, "{clear}");
        let longwave = net_longwave_mj_m2(14.5 / 18.8, 25.1, 19.1, 2.1);
        assert!((longwave - 3.5).abs() <= 0.05, "{longwave}");
        let net = net_mj_m2(14.5, 18.8, 25.1, 19.1, 2.1);
        assert!((net - 7.6).abs() <= 0.05, "{net}");
    }

    #[test]
    fn published_fao_56_example_15() {
        // Lyon, 45°43' N, 200 m, July, 26.6 and 14.8 °C, inland: Ra 40.6, Rs 22.3 MJ/m².
        let sun = Sun::on(196, 45.0 + 43.0 / 60.0);
        assert!((sun.outside_mj_m2 - 40.6).abs() <= 0.06, "{}", sun.outside_mj_m2);
        let site = Site { latitude_deg: 45.72, elevation_m: 200.0 };
        let solar = Radiation::INLAND.solar_mj_m2(&sun, &site, 26.6, 14.8);
        assert!((solar - 22.3).abs() <= 0.05, "{solar}");
    }

    #[test]
    fn published_fao_56_example_16_as_far_as_known() {
        // Bangkok, 13°44' N, April, 34.8 and 25.6 °C, coast (confidence medium; the net radiation
        // it ends with is not remembered and is left out): Ra 38.1, Rs 21.9, Rso 28.5 MJ/m².
        let site = Site { latitude_deg: 13.0 + 44.0 / 60.0, elevation_m: 0.0 };
        let sun = Sun::on(105, site.latitude_deg);
        assert!((sun.outside_mj_m2 - 38.1).abs() <= 0.05, "{}", sun.outside_mj_m2);
        let solar = Radiation::COAST.solar_mj_m2(&sun, &site, 34.8, 25.6);
        assert!((solar - 21.9).abs() <= 0.05, "{solar}");
        let clear = sun.clear_sky_mj_m2(0.0);
        assert!((clear - 28.5).abs() <= 0.05, "{clear}");
    }

    #[test]
    fn closed_the_equator_has_twelve_hours_and_no_sky_is_clearer_than_clear() {
        assert!((Sun::on(80, 0.0).daylight_h - 12.0).abs() < 1e-12);
        let (sun, site) = (Sun::on(180, 40.0), Site { latitude_deg: 40.0, elevation_m: 0.0 });
        let desert = Radiation::COAST.solar_mj_m2(&sun, &site, 45.0, 5.0);
        assert_eq!(desert, sun.clear_sky_mj_m2(0.0));
    }
}
