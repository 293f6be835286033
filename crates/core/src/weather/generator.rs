//! A seeded wind: hourly speeds and directions of a season drawn from a climate.
//!
//! - Speed: Weibull with the climate's shape k; scale c = mean / Γ(1 + 1/k), with one mean by day
//!   and one by night (Justus et al. 1978, J. Appl. Meteorol. 17:350–353; from memory, high).
//! - Persistence: the normal score of the speed is a first-order autoregression,
//!   z(h) = ρ z(h−1) + √(1−ρ²) ε (Brett & Tuller 1991, J. Appl. Meteorol. 30:823–832; from memory,
//!   medium). Independent draws would overstate how well a season evens out a fixed pattern.
//! - Direction: a wrapped normal about the prevailing direction, its deviation autoregressive too.
//!
//! Neglects gusts within the hour, any link of speed to direction, weather fronts and seasons.
//! Reproducible: `ChaCha8` with one stream per purpose; logarithms and powers from `libm`, so that
//! the digits do not depend on the platform.

use super::hour::Wind;
use crate::clock::DAY_HOURS;
use crate::statistics::normal_cdf;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};
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
    /// Direction it mostly blows from, degrees clockwise from north.
    pub prevailing_from_deg: f64,
    /// Spread of the direction about the prevailing one: standard deviation, degrees.
    pub direction_spread_deg: f64,
    /// Correlation of the (normal-scored) speed from one hour to the next, 0–1.
    pub speed_persistence: f64,
    /// Correlation of the direction's deviation from one hour to the next, 0–1.
    pub direction_persistence: f64,
    /// Height the speeds are given for, m above ground.
    pub measured_at_m: f64,
}

/// Streams of random numbers, one per purpose, so that one more draw for one purpose never moves
/// another.
#[derive(Clone, Copy, Debug)]
enum Purpose {
    Speed = 1,
    Direction = 2,
}

/// The stream of one season and purpose: seasons never share a number, nor do purposes.
fn stream((seed, season): (u64, u32), purpose: Purpose) -> ChaCha8Rng {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    rng.set_stream(u64::from(season) << 8 | purpose as u64);
    rng
}

/// `hours` hourly winds of season number `season` (from 0), from midnight of its first day on.
pub fn winds(climate: &WindClimate, hours: usize, seed: u64, season: u32) -> Vec<Wind> {
    let seed = (seed, season);
    let mut speed_scores =
        Autoregression::new(climate.speed_persistence, stream(seed, Purpose::Speed));
    let mut direction_scores =
        Autoregression::new(climate.direction_persistence, stream(seed, Purpose::Direction));
    let scale_per_mean = 1.0 / gamma(1.0 + 1.0 / climate.weibull_shape);
    (0..hours)
        .map(|hour| {
            let clock_h = (hour % 24) as f64;
            let by_day = clock_h >= DAY_HOURS.0 && clock_h < DAY_HOURS.1;
            let mean = if by_day { climate.day_mean_m_s } else { climate.night_mean_m_s };
            let exceeded = normal_cdf(-speed_scores.next());
            let speed_m_s = mean * scale_per_mean * weibull(exceeded, climate.weibull_shape);
            let deviation_deg = climate.direction_spread_deg * direction_scores.next();
            let from_deg = (climate.prevailing_from_deg + deviation_deg).rem_euclid(360.0);
            Wind { speed_m_s, from_deg }
        })
        .collect()
}

/// The unit-scale Weibull speed that is exceeded with probability `exceeded`.
fn weibull(exceeded: f64, shape: f64) -> f64 {
    libm::pow(-libm::log(exceeded.max(f64::MIN_POSITIVE)), 1.0 / shape)
}

/// A first-order autoregression of standard normal numbers.
struct Autoregression {
    persistence: f64,
    state: Option<f64>,
    rng: ChaCha8Rng,
}

impl Autoregression {
    fn new(persistence: f64, rng: ChaCha8Rng) -> Self {
        Self { persistence, state: None, rng }
    }

    fn next(&mut self) -> f64 {
        let draw: f64 = StandardNormal.sample(&mut self.rng);
        let next = match self.state {
            None => draw,
            Some(state) => {
                let rest = (1.0 - self.persistence * self.persistence).sqrt();
                self.persistence * state + rest * draw
            }
        };
        self.state = Some(next);
        next
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn climate() -> WindClimate {
        WindClimate {
            day_mean_m_s: 3.6,
            night_mean_m_s: 2.1,
            weibull_shape: 2.0,
            prevailing_from_deg: 250.0,
            direction_spread_deg: 40.0,
            speed_persistence: 0.8,
            direction_persistence: 0.9,
            measured_at_m: 2.0,
        }
    }

    fn mean(values: &[f64]) -> f64 {
        values.iter().sum::<f64>() / values.len() as f64
    }

    #[test]
    fn closed_means_shape_and_persistence_are_those_asked_for() {
        let winds = winds(&climate(), 24 * 20_000, 7, 0);
        let by = |day: bool| -> Vec<f64> {
            let in_half = |hour: usize| (6..18).contains(&(hour % 24)) == day;
            (0..winds.len()).filter(|h| in_half(*h)).map(|h| winds[h].speed_m_s).collect()
        };
        let (day, night) = (by(true), by(false));
        // 240,000 hours of lag-one correlation 0.8: about 27,000 independent ones; the standard
        // error of a mean is 0.52/√27,000 = 0.3 %. Three of them.
        assert!((mean(&day) / 3.6 - 1.0).abs() < 0.01, "{}", mean(&day));
        assert!((mean(&night) / 2.1 - 1.0).abs() < 0.01, "{}", mean(&night));
        // Weibull with k = 2: CV = √(4/π − 1) = 0.5227.
        let square = mean(&day.iter().map(|x| x * x).collect::<Vec<_>>());
        let cv = (square - mean(&day).powi(2)).sqrt() / mean(&day);
        assert!((cv - 0.5227).abs() < 0.01, "{cv}");
        // The correlation of the normal scores is 0.8; of the speeds within a half a little less.
        let day_mean = mean(&day);
        let pairs: Vec<f64> = (0..winds.len() - 1)
            .filter(|h| (6..17).contains(&(h % 24)))
            .map(|h| (winds[h].speed_m_s - day_mean) * (winds[h + 1].speed_m_s - day_mean))
            .collect();
        let correlation = mean(&pairs) / (square - day_mean.powi(2));
        assert!((0.76..0.81).contains(&correlation), "{correlation}");
    }

    #[test]
    fn invariant_a_longer_season_begins_with_the_same_winds() {
        let (short, long) = (winds(&climate(), 100, 3, 0), winds(&climate(), 1000, 3, 0));
        assert_eq!(short[..], long[..100]);
        assert_ne!(short, winds(&climate(), 100, 4, 0));
        assert_ne!(short, winds(&climate(), 100, 3, 1));
    }

    #[test]
    fn regress_the_first_draws_of_seed_1_stay_what_they_are() {
        // Guards reproducibility against a changed generator or sampler.
        let first = winds(&climate(), 2, 1, 0);
        let digits: Vec<String> =
            first.iter().map(|w| format!("{:.6} {:.4}", w.speed_m_s, w.from_deg)).collect();
        assert_eq!(digits, GOLDEN);
    }

    const GOLDEN: [&str; 2] = ["2.603565 313.9576", "0.799095 313.4736"];
}
