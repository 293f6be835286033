//! A climate fitted to a record: the law of every clock hour and month, and how long winds last.
//!
//! For each month the hours of all days within [`WINDOW_DAYS`] of its middle count. The
//! prevailing direction is that of their mean vector; in its axes each clock hour gets its mean, its
//! covariance and its own speeds; what is left, scaled to variance 1, gives the correlations over 1
//! to 24 h along and across, to which [`Spells`] are fitted. Gaps are left out pair by pair.
//! Neglected: what lasts longer than some days, and any link of the memory to the wind's strength.

use super::generator::root_of;
use super::hour::Wind;
use super::hourly::{HourLaw, HourlyClimate, MonthLaw, SpeedLaw};
use super::record::WeatherRecord;
use super::record_days::apart;
use super::spells::{LAGS_H, Spells};
use jiff::ToSpan;
use jiff::civil::{Date, date};

/// Days around a month's middle whose hours count.
const WINDOW_DAYS: i32 = 45;
/// Fewest days with each clock hour.
const FEWEST_DAYS: usize = 20;

/// The climate of a record; months with too few hours are left out.
pub fn climate_of(record: &WeatherRecord) -> HourlyClimate {
    let months = (1..=12).map(|month| month_law(record, date(2001, month, 15))).collect();
    HourlyClimate { months, measured_at_m: record.measured_at_m }
}

/// The record's hours in order, those outside the window and gaps as `None`: (clock hour, wind).
fn hours_near(record: &WeatherRecord, middle: Date) -> Vec<Option<(usize, Wind)>> {
    let mut near: Option<(Date, bool)> = None;
    record
        .hours
        .iter()
        .enumerate()
        .map(|(index, hour)| {
            let at = record.first_hour.saturating_add((index as i64).hours());
            let day = at.date();
            let is_near = match near {
                Some((known, is_near)) if known == day => is_near,
                _ => apart(day, middle) <= WINDOW_DAYS,
            };
            near = Some((day, is_near));
            let wind = hour.as_ref().filter(|_| is_near)?.wind;
            Some((usize::from(at.hour().unsigned_abs()), wind))
        })
        .collect()
}

fn month_law(record: &WeatherRecord, middle: Date) -> Option<MonthLaw> {
    let hours = hours_near(record, middle);
    let prevailing_from_deg = prevailing(hours.iter().flatten().map(|(_, wind)| *wind));
    let vectors: Vec<Option<(usize, [f64; 2])>> = hours
        .iter()
        .map(|hour| hour.map(|(clock, wind)| (clock, in_axes(wind, prevailing_from_deg))))
        .collect();
    let law = |clock: usize| -> Option<HourLaw> {
        let of_clock = hours.iter().flatten().filter(|(at, _)| *at == clock);
        let mut speeds: Vec<f64> = of_clock.map(|(_, wind)| wind.speed_m_s).collect();
        if speeds.len() < FEWEST_DAYS {
            return None;
        }
        speeds.sort_by(f64::total_cmp);
        let known = vectors.iter().flatten().filter(|(at, _)| *at == clock);
        let (mean, covariance) = moments(known.map(|(_, vector)| *vector));
        Some(HourLaw::new(mean, root_of(covariance), SpeedLaw::Seen(speeds)))
    };
    let laws: Vec<HourLaw> = (0..24).map(law).collect::<Option<_>>()?;
    let scores: Vec<Option<[f64; 2]>> = vectors
        .iter()
        .map(|hour| hour.map(|(clock, vector)| score(&laws[clock], vector)))
        .collect();
    let spells = |of: usize| Spells::nearest_to(&correlations(&scores, of));
    Some(MonthLaw { prevailing_from_deg, along: spells(0), across: spells(1), hours: laws })
}

/// Direction of the mean vector, degrees.
fn prevailing(winds: impl Iterator<Item = Wind>) -> f64 {
    let mean =
        winds.map(|wind| in_axes(wind, 0.0)).fold([0.0; 2], |s, v| [s[0] + v[0], s[1] + v[1]]);
    libm::atan2(mean[1], mean[0]).to_degrees().rem_euclid(360.0)
}

/// The vector along and across the direction `from_deg`.
fn in_axes(wind: Wind, from_deg: f64) -> [f64; 2] {
    let turned = (wind.from_deg - from_deg).to_radians();
    [wind.speed_m_s * libm::cos(turned), wind.speed_m_s * libm::sin(turned)]
}

/// Mean, and covariance [along, both, across].
fn moments(vectors: impl Iterator<Item = [f64; 2]>) -> ([f64; 2], [f64; 3]) {
    let all: Vec<[f64; 2]> = vectors.collect();
    let mean_of =
        |of: &dyn Fn(&[f64; 2]) -> f64| all.iter().map(of).sum::<f64>() / all.len() as f64;
    let mean = [mean_of(&|v| v[0]), mean_of(&|v| v[1])];
    let product = |i: usize, j: usize| mean_of(&|v| (v[i] - mean[i]) * (v[j] - mean[j]));
    (mean, [product(0, 0), product(0, 1), product(1, 1)])
}

/// The standard normal numbers that make a vector of its hour's law.
fn score(law: &HourLaw, vector: [f64; 2]) -> [f64; 2] {
    let [a, b, c] = law.root_m_s;
    let over = |value: f64, root: f64| if root > 0.0 { value / root } else { 0.0 };
    let first = over(vector[0] - law.mean_m_s[0], a);
    [first, over(vector[1] - law.mean_m_s[1] - b * first, c)]
}

/// Correlations over 1, 2, … hours, of pairs of known hours.
fn correlations(scores: &[Option<[f64; 2]>], of: usize) -> Vec<f64> {
    let known = |hour: &Option<[f64; 2]>| hour.map(|pair| pair[of]);
    (1..=LAGS_H)
        .map(|lag| {
            let pairs = scores.iter().zip(&scores[lag.min(scores.len())..]);
            let (mut sum, mut squares) = (0.0, 0.0);
            for (one, other) in pairs.filter_map(|(one, other)| known(one).zip(known(other))) {
                sum += one * other;
                squares += 0.5 * (one * one + other * other);
            }
            if squares > 0.0 { sum / squares } else { 0.0 }
        })
        .collect()
}
