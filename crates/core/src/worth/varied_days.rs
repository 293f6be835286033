//! Evapotranspiration whose mean is known, day by day, where the wind comes from a climate.

use crate::evapotranspiration::windy_days::WindyDays;
use crate::weather::profile::speed_at_2_m;
use crate::weather::streams::{Purpose, stream};
use crate::weather::{Course, DrawnWeather, Spells, WeatherSource, Wind};
use jiff::ToSpan;
use jiff::civil::Date;

/// Correlation of a day's evapotranspiration, but for the wind, with the next day's: 0.29 in the
/// TMY3 record of Greensboro, May to September.
const NEXT_DAY: f64 = 0.3;
/// Least share of its mean that a day's evapotranspiration falls to.
const LEAST: f64 = 0.1;

/// Evapotranspiration of season number `season`, on days from `from` on whose means are `mean_mm`:
/// with the wind of the day, and up and down by `spread` (a fraction) for sun and warmth.
pub(super) fn varied_et0_mm(
    drawn: DrawnWeather<'_>,
    (from, mut mean_mm): (Date, Vec<f64>),
    spread: f64,
    season: u32,
) -> Vec<f64> {
    let WeatherSource::Generated(climate) = drawn.source else { return mean_mm };
    let until = from.saturating_add((mean_mm.len() as i64).days());
    let first = drawn.midnight.date();
    let hours = until.duration_since(first).as_hours().max(0) as usize;
    let winds = climate.winds((drawn.midnight, drawn.seed, season), hours);
    let winds = &winds[..hours];
    let at_2_m = |speed_m_s| speed_at_2_m(speed_m_s, climate.measured_at_m);
    let mean_m_s = at_2_m(f64::midpoint(climate.day_mean_m_s, climate.night_mean_m_s));
    let memory = Spells { hour_to_hour: NEXT_DAY, share: 0.0, length_h: 24.0 };
    let mut other = Course::new(stream((drawn.seed, season), Purpose::Evapotranspiration));
    let offset = from.duration_since(first).as_hours() / 24;
    for (number, mean) in mean_mm.iter_mut().enumerate() {
        let wind_m_s = day_mean(winds, offset + number as i64).and_then(at_2_m);
        let with_wind = match (wind_m_s, mean_m_s) {
            (Some(wind_m_s), Some(mean_m_s)) => {
                WindyDays { et0_mm: *mean, wind_2_m_s: mean_m_s, air: drawn.air }.at(wind_m_s)
            }
            // Before the drawn wind begins.
            _ => *mean,
        };
        *mean = with_wind * (1.0 + spread * other.next(&memory)).max(LEAST);
    }
    mean_mm
}

/// Mean speed of day number `day` of the drawn winds, m/s.
fn day_mean(winds: &[Option<Wind>], day: i64) -> Option<f64> {
    let first = usize::try_from(24 * day).ok()?;
    let hours = winds.get(first..first + 24)?.iter().flatten();
    Some(hours.map(|wind| wind.speed_m_s).sum::<f64>() / 24.0)
}
