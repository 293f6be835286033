//! ET0 by the day from a record of hours.
//!
//! The hours of a clock day give its greatest and least temperature, its actual vapor pressure (the
//! mean over the hours of RH · e°(T), FAO-56 equation 54 by the hour), and its mean wind, brought to
//! 2 m by equation 47. Radiation is the record's own, or worked out from the range of
//! temperature (Hargreaves, equation 50). A day with known temperature in fewer than
//! `HOURS_NEEDED` hours is refused; humidity may be missing all day (the dew point is then the
//! least temperature) but not in part of it.
//!
//! Neglected: that extremes between full hours are a little wider, and that radiation from
//! temperatures misses single days by a fifth or more (means over ten days are sound).

use super::air::{Humidity, saturation_kpa};
use super::penman_monteith::DayWeather;
use super::radiation::Radiation;
use super::{EtProblem, HOURS_NEEDED, Site, hargreaves};
use crate::range::OutOfRange;
use crate::range::within;
use crate::weather::daily::DailySeries;
use crate::weather::profile::speed_at_2_m;
use crate::weather::{WeatherHour, WeatherRecord};
use jiff::civil::Date;

/// How a record's days are turned into ET0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RecordMethod {
    /// FAO Penman–Monteith with the record's own solar radiation.
    PenmanMonteithSolar,
    /// FAO Penman–Monteith with radiation from this (solar radiation and sunshine are of one day
    /// and make no sense here; take [`Radiation::INLAND`] or [`Radiation::COAST`]).
    PenmanMonteith(Radiation),
    /// Hargreaves, from temperatures alone.
    Hargreaves,
}

/// ET0 of every day of the record, mm; days that it does not hold well enough are missing.
pub fn et0_series(record: &WeatherRecord, site: &Site, method: RecordMethod) -> DailySeries {
    record.by_day(|record, day| et0_of_day(record, site, method, day).ok())
}

fn et0_of_day(
    record: &WeatherRecord,
    site: &Site,
    method: RecordMethod,
    day: Date,
) -> Result<f64, EtProblem> {
    let hours: Vec<WeatherHour> =
        (0..24).filter_map(|hour| record.hour_at(day.at(hour, 0, 0, 0))).collect();
    let weather = day_weather(&hours, record.measured_at_m, day)?;
    match method {
        RecordMethod::PenmanMonteithSolar => {
            let radiation = Radiation::Solar(solar_mj_m2(record, day)?);
            DayWeather { radiation, ..weather }.et0_mm(site)
        }
        RecordMethod::PenmanMonteith(radiation) => DayWeather { radiation, ..weather }.et0_mm(site),
        RecordMethod::Hargreaves => {
            hargreaves::et0_mm(site, weather.day_of_year, weather.t_max_c, weather.t_min_c)
        }
    }
}

/// A day's weather from its known hours; radiation from temperatures, inland.
///
/// # Errors
/// Temperature known in fewer than [`HOURS_NEEDED`] hours, humidity in some but fewer, wind
/// that cannot be brought to 2 m.
fn day_weather(
    hours: &[WeatherHour],
    measured_at_m: f64,
    day: Date,
) -> Result<DayWeather, EtProblem> {
    let temperatures: Vec<f64> = hours.iter().filter_map(|hour| hour.air_temperature_c).collect();
    let enough = |quantity, hours: usize| {
        if hours >= HOURS_NEEDED {
            Ok(())
        } else {
            Err(EtProblem::FewHours { day, quantity, hours })
        }
    };
    enough("air temperature", temperatures.len())?;
    for &temperature_c in &temperatures {
        within("air temperature (°C)", temperature_c, -50.0, 60.0)?;
    }
    let vapors_kpa: Vec<f64> = hours.iter().filter_map(vapor_kpa).collect();
    let humidity = if vapors_kpa.is_empty() {
        Humidity::Unknown
    } else {
        enough("relative humidity", vapors_kpa.len())?;
        Humidity::VaporPressure(mean(&vapors_kpa))
    };
    let speeds_m_s: Vec<f64> = hours.iter().map(|hour| hour.wind.speed_m_s).collect();
    let speed_m_s = mean(&speeds_m_s);
    let wind_speed_2_m_s = speed_at_2_m(speed_m_s, measured_at_m).ok_or(OutOfRange {
        quantity: "wind (m/s) or the height it was measured at",
        value: speed_m_s,
        lowest: 0.0,
        highest: 50.0,
    })?;
    Ok(DayWeather {
        day_of_year: u16::try_from(day.day_of_year()).unwrap_or(1),
        t_max_c: temperatures.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        t_min_c: temperatures.iter().copied().fold(f64::INFINITY, f64::min),
        humidity,
        wind_speed_2_m_s,
        radiation: Radiation::INLAND,
        soil_heat_mj_m2: 0.0,
    })
}

/// Solar radiation of a day, MJ/m².
fn solar_mj_m2(record: &WeatherRecord, day: Date) -> Result<f64, EtProblem> {
    let known: Vec<f64> =
        (0..24).filter_map(|hour| record.sky_at(day.at(hour, 0, 0, 0))?.solar_w_m2).collect();
    if known.len() < 24 {
        return Err(EtProblem::FewSunHours { day, hours: known.len() });
    }
    // An hour at 1 W/m² brings 3600 J/m².
    Ok(known.iter().sum::<f64>() * 3600.0 / 1e6)
}

fn vapor_kpa(hour: &WeatherHour) -> Option<f64> {
    Some(hour.relative_humidity? * saturation_kpa(hour.air_temperature_c?))
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

#[cfg(test)]
#[path = "record_tests.rs"]
mod tests;
