//! FAO Penman–Monteith by the day (Allen et al. 1998, FAO-56, equation 6):
//!
//! ET0 = [0.408 Δ (Rn − G) + γ 900/(T + 273) u2 (es − ea)] / [Δ + γ (1 + 0.34 u2)], mm a day,
//!
//! with T the mean of the day's extremes. The soil's heat G is nothing over a day (equation 42) and
//! 0.14 times the rise of the mean temperature from month to month (equation 44).
//!
//! Valid for days and longer over watered grass. Neglected: the stability of the air, and that
//! stations over dry ground read too hot and dry.

use super::air::{self, Humidity};
use super::radiation::{Radiation, Sun, net_mj_m2};
use super::{EtProblem, Site};
use crate::range::within;

/// The weather of one day (or the mean day of a month).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayWeather {
    /// Day of the year, 1 to 366.
    pub day_of_year: u16,
    /// Greatest air temperature, °C.
    pub t_max_c: f64,
    /// Least air temperature, °C.
    pub t_min_c: f64,
    /// Humidity.
    pub humidity: Humidity,
    /// Mean wind at 2 m above ground, m/s (see [`crate::weather::profile`]).
    pub wind_speed_2_m_s: f64,
    /// Radiation.
    pub radiation: Radiation,
    /// Heat that goes into the soil G, MJ/m²; 0 for a day.
    pub soil_heat_mj_m2: f64,
}

impl DayWeather {
    /// Whether the numbers make a day.
    ///
    /// # Errors
    /// The first value outside what is taken.
    pub fn check(&self) -> Result<(), EtProblem> {
        within("day of the year", f64::from(self.day_of_year), 1.0, 366.0)?;
        check_temperatures(self.t_max_c, self.t_min_c)?;
        within("wind at 2 m (m/s)", self.wind_speed_2_m_s, 0.0, 50.0)?;
        within("soil heat (MJ/m²)", self.soil_heat_mj_m2, -20.0, 20.0)?;
        let fraction = |name, value| within(name, value, 0.0, 1.0);
        match self.humidity {
            Humidity::VaporPressure(kpa) => within("vapor pressure (kPa)", kpa, 0.0, 10.0)?,
            Humidity::DewPoint(c) => within("dew point (°C)", c, -60.0, 50.0)?,
            Humidity::Mean(mean) => fraction("mean relative humidity (fraction)", mean)?,
            Humidity::Range { greatest, least } => {
                fraction("greatest relative humidity (fraction)", greatest)?;
                fraction("least relative humidity (fraction)", least)?;
            }
            Humidity::Unknown => {}
        }
        match self.radiation {
            Radiation::Solar(mj_m2) => Ok(within("solar radiation (MJ/m²)", mj_m2, 0.0, 50.0)?),
            Radiation::Sunshine(hours) => Ok(within("sunshine (h)", hours, 0.0, 24.0)?),
            Radiation::FromTemperatures { k_rs } => Ok(within("kRs", k_rs, 0.1, 0.25)?),
        }
    }

    /// ET0 of the day, mm; not under 0 (on cold still nights the equation may give dew).
    ///
    /// # Errors
    /// A site or a day with values outside what is taken.
    pub fn et0_mm(&self, site: &Site) -> Result<f64, EtProblem> {
        site.check()?;
        self.check()?;
        let &Self { t_max_c, t_min_c, wind_speed_2_m_s: wind, .. } = self;
        let mean_c = f64::midpoint(t_max_c, t_min_c);
        let saturation = air::saturation_of_day_kpa(t_max_c, t_min_c);
        let vapor = self.humidity.vapor_kpa(t_max_c, t_min_c).min(saturation);
        let slope = air::saturation_slope_kpa_c(mean_c);
        let gamma = air::psychrometric_kpa_c(air::pressure_kpa(site.elevation_m));

        let sun = Sun::on(self.day_of_year, site.latitude_deg);
        let solar = self.radiation.solar_mj_m2(&sun, site, t_max_c, t_min_c);
        let clear = sun.clear_sky_mj_m2(site.elevation_m);
        let net = net_mj_m2(solar, clear, t_max_c, t_min_c, vapor);

        let by_radiation = 0.408 * slope * (net - self.soil_heat_mj_m2);
        let by_air = gamma * 900.0 / (mean_c + 273.0) * wind * (saturation - vapor);
        Ok(((by_radiation + by_air) / (slope + gamma * (1.0 + 0.34 * wind))).max(0.0))
    }
}

/// Whether two temperatures can be a day's extremes.
pub(super) fn check_temperatures(t_max_c: f64, t_min_c: f64) -> Result<(), EtProblem> {
    within("greatest temperature (°C)", t_max_c, -40.0, 60.0)?;
    within("least temperature (°C)", t_min_c, -50.0, 50.0)?;
    if t_max_c < t_min_c {
        return Err(EtProblem::TemperaturesCrossed { t_max_c, t_min_c });
    }
    Ok(())
}

#[cfg(test)]
#[path = "penman_monteith_tests.rs"]
mod tests;
