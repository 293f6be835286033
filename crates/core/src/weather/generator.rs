//! A wind climate in a few numbers, as people know it: means by day and night, the prevailing
//! direction, how much it varies and how long it lasts.
//!
//! - Speed: Weibull with the climate's shape k; scale c = mean / Γ(1 + 1/k), with one mean by day
//!   and one by night (Justus et al. 1978, J. Appl. Meteorol. 17:350–353; from memory, high).
//! - Direction: about the prevailing one of the day or of the night, with the moments of a wrapped
//!   normal of the stated spread σ about it, whatever the speed: with s the speed, the mean along
//!   is ⟨s⟩·e^(−σ²/2), and ⟨s²⟩·(1 ± e^(−2σ²))/2 are the mean squares along and across.
//! - Memory: [`super::spells`]; the correlation from one hour to the next is given for the speed
//!   (along the prevailing direction) and for the direction (across it), share and length of spells
//!   for both.
//!
//! Neglects gusts within the hour, fronts, and any change in the course of the season.
//! Reproducible: one stream per purpose; logarithms and powers from `libm`, so that the digits do
//! not depend on the platform.

use super::hourly::{HourLaw, HourlyClimate, MonthLaw, SpeedLaw};
use super::kept_winds::{KeptWinds, Numbers, Of, Winds};
use super::spells::Spells;
use crate::clock::DAY_HOURS;
use statrs::function::gamma::gamma;

/// A seeded wind climate.
#[derive(Clone, Debug, PartialEq)]
pub struct WindClimate {
    /// Mean speed by day, m/s.
    pub day_mean_m_s: f64,
    /// Mean speed by night, m/s.
    pub night_mean_m_s: f64,
    /// Weibull shape of the hourly speeds, the same day and night.
    pub weibull_shape: f64,
    /// Direction it mostly blows from by day, degrees clockwise from north.
    pub prevailing_from_deg: f64,
    /// Direction it mostly blows from by night, degrees clockwise from north.
    pub night_prevailing_from_deg: f64,
    /// Spread of the direction about the prevailing one: standard deviation, degrees.
    pub direction_spread_deg: f64,
    /// Correlation of the speed from one hour to the next, 0–1.
    pub speed_persistence: f64,
    /// Correlation of the direction's deviation from one hour to the next, 0–1.
    pub direction_persistence: f64,
    /// Share of the wind's variance that comes in spells of days, 0–1.
    pub spell_share: f64,
    /// Time in which the correlation within spells falls to 1/e, h.
    pub spell_length_h: f64,
    /// Height the speeds are given for, m above ground.
    pub measured_at_m: f64,
    /// Where its drawn winds are kept; a new store keeps its own.
    pub kept: KeptWinds,
}

impl WindClimate {
    /// At least `hours` hourly winds of a season (first midnight, seed, number), as its law by clock hour
    /// draws them.
    pub(crate) fn winds(&self, of: Of, hours: usize) -> Winds {
        self.kept.winds(self.numbers(), of, hours, || self.hourly())
    }

    fn numbers(&self) -> Numbers {
        [
            self.day_mean_m_s,
            self.night_mean_m_s,
            self.weibull_shape,
            self.prevailing_from_deg,
            self.night_prevailing_from_deg,
            self.direction_spread_deg,
            self.speed_persistence,
            self.direction_persistence,
            self.spell_share,
            self.spell_length_h,
            self.measured_at_m,
        ]
        .map(f64::to_bits)
    }

    /// The law by clock hour, the same all year.
    pub fn hourly(&self) -> HourlyClimate {
        let spells = |hour_to_hour| Spells {
            hour_to_hour,
            share: self.spell_share,
            length_h: self.spell_length_h,
        };
        let (day, night) = (self.law(true), self.law(false));
        let by_day = |hour: f64| hour >= DAY_HOURS.0 && hour < DAY_HOURS.1;
        let hours = (0..24)
            .map(|hour| if by_day(f64::from(hour)) { day.clone() } else { night.clone() })
            .collect();
        let month = MonthLaw {
            prevailing_from_deg: self.prevailing_from_deg,
            along: spells(self.speed_persistence),
            across: spells(self.direction_persistence),
            hours,
        };
        HourlyClimate { months: vec![Some(month)], measured_at_m: self.measured_at_m }
    }

    /// The law of an hour by day or by night, in the axes of the prevailing direction by day.
    fn law(&self, by_day: bool) -> HourLaw {
        let (mean_m_s, from_deg) = if by_day {
            (self.day_mean_m_s, self.prevailing_from_deg)
        } else {
            (self.night_mean_m_s, self.night_prevailing_from_deg)
        };
        let scale_m_s = mean_m_s / gamma(1.0 + 1.0 / self.weibull_shape);
        let square = scale_m_s * scale_m_s * gamma(1.0 + 2.0 / self.weibull_shape);
        let spread = self.direction_spread_deg.to_radians();
        let resultant = libm::exp(-0.5 * spread * spread);
        let twice = libm::exp(-2.0 * spread * spread);
        let mean = mean_m_s * resultant;
        let along = (0.5 * square * (1.0 + twice) - mean * mean).max(0.0);
        let across = (0.5 * square * (1.0 - twice)).max(0.0);
        // Turned from the hour's own prevailing direction into that of the day.
        let turn = (from_deg - self.prevailing_from_deg).to_radians();
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let covariance = [
            along * cos * cos + across * sin * sin,
            (along - across) * sin * cos,
            along * sin * sin + across * cos * cos,
        ];
        let speeds = SpeedLaw::Weibull { scale_m_s, shape: self.weibull_shape };
        HourLaw::new([mean * cos, mean * sin], root_of(covariance), speeds)
    }
}

/// Cholesky's root of a covariance [along, both, across], of rank 2, 1 or 0.
pub(super) fn root_of([along, both, across]: [f64; 3]) -> [f64; 3] {
    let a = along.max(0.0).sqrt();
    let b = if a > 0.0 { both / a } else { 0.0 };
    [a, b, (across - b * b).max(0.0).sqrt()]
}

#[cfg(test)]
#[path = "generator_tests.rs"]
mod tests;
