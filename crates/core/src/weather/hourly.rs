//! The wind's law by clock hour and month, and winds drawn from it.
//!
//! The wind of an hour is a vector, (speed·sin, speed·cos) of the direction it blows from. About
//! its mean for that clock hour it is drawn as a two-dimensional normal, along and across the
//! prevailing direction, each with a memory of its own ([`Spells`]); so direction turns with the
//! time of day, calms turn about, strong winds hold their direction, and speed and direction come
//! in spells together (no source: chosen because it holds against records, `tests/records.rs`). The
//! speed is then set to the quantile of its own law that the drawn vector's length has among those of
//! its hour: Weibull, or a record's own hours. So speeds keep their law exactly (up to 60 m/s) and directions
//! follow.
//!
//! Neglected: gusts within the hour, fronts, speeds beyond 1 in 2,000 hours, and beyond 60 m/s: no drops are
//! flown in a hurricane.

use super::hour::Wind;
use super::spells::{Course, Spells};
use super::streams::{Purpose, stream};
use jiff::ToSpan;
use jiff::civil::DateTime;

/// Faster than this no hour is drawn, m/s.
const FASTEST_M_S: f64 = 60.0;
/// Levels of length and of angle on which the drawn vectors' lengths are ranked.
const LENGTHS: usize = 64;
const ANGLES: usize = 16;

/// The law of the speeds of one clock hour.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum SpeedLaw {
    /// Weibull.
    Weibull {
        /// Scale, m/s.
        scale_m_s: f64,
        /// Shape.
        shape: f64,
    },
    /// These speeds, in rising order, m/s.
    Seen(Vec<f64>),
}

impl SpeedLaw {
    /// The speed that is not reached with probability `below`.
    fn quantile_m_s(&self, below: f64) -> f64 {
        let speed_m_s = match self {
            Self::Weibull { scale_m_s, shape } => {
                scale_m_s * libm::pow(-libm::log(1.0 - below), 1.0 / shape)
            }
            Self::Seen(speeds) => at_rank(speeds, below),
        };
        speed_m_s.min(FASTEST_M_S)
    }
}

/// The wind's law in one clock hour: a normal vector and the law of its length.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct HourLaw {
    /// Mean along and across the prevailing direction, m/s.
    pub(super) mean_m_s: [f64; 2],
    /// Root of the covariance: `along = mean + a·z₁`, `across = mean + b·z₁ + c·z₂`.
    pub(super) root_m_s: [f64; 3],
    /// Law of the speed.
    speeds: SpeedLaw,
    /// Lengths of the normal vector at equal steps of probability, rising, m/s.
    lengths_m_s: Vec<f64>,
}

impl HourLaw {
    pub(super) fn new(mean_m_s: [f64; 2], root_m_s: [f64; 3], speeds: SpeedLaw) -> Self {
        let mut law = Self { mean_m_s, root_m_s, speeds, lengths_m_s: Vec::new() };
        let mut lengths: Vec<f64> = Vec::with_capacity(LENGTHS * ANGLES);
        for ring in 0..LENGTHS {
            // The squared length of a standard normal pair over 2 is exponential.
            let beyond = 1.0 - (ring as f64 + 0.5) / LENGTHS as f64;
            let radius = (-2.0 * libm::log(beyond)).sqrt();
            for step in 0..ANGLES {
                let angle = std::f64::consts::TAU * (step as f64 + 0.5) / ANGLES as f64;
                let [along, across] =
                    law.vector([radius * libm::cos(angle), radius * libm::sin(angle)]);
                lengths.push(libm::hypot(along, across));
            }
        }
        lengths.sort_by(f64::total_cmp);
        law.lengths_m_s = lengths;
        law
    }

    fn vector(&self, z: [f64; 2]) -> [f64; 2] {
        let [a, b, c] = self.root_m_s;
        [self.mean_m_s[0] + a * z[0], self.mean_m_s[1] + b * z[0] + c * z[1]]
    }

    /// The wind of standard normal numbers `z`, about the prevailing direction.
    fn wind(&self, z: [f64; 2], prevailing_from_deg: f64) -> Wind {
        let [along, across] = self.vector(z);
        let turned_deg = libm::atan2(across, along).to_degrees();
        Wind {
            speed_m_s: self.speeds.quantile_m_s(self.rank(libm::hypot(along, across))),
            from_deg: (prevailing_from_deg + turned_deg).rem_euclid(360.0),
        }
    }

    /// Probability of a shorter vector than one of length `m_s`.
    fn rank(&self, m_s: f64) -> f64 {
        let lengths = &self.lengths_m_s;
        let level = |index: usize| (index as f64 + 0.5) / lengths.len() as f64;
        let above = lengths.partition_point(|length| *length < m_s);
        if above == 0 {
            return level(0) * (m_s / lengths[0].max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        }
        if above == lengths.len() {
            return level(above - 1);
        }
        let (under, over) = (lengths[above - 1], lengths[above]);
        level(above - 1) + (m_s - under) / (over - under) / lengths.len() as f64
    }
}

/// The value at probability `below` among rising `values`, between neighbors in proportion.
fn at_rank(values: &[f64], below: f64) -> f64 {
    let Some(&last) = values.last() else { return 0.0 };
    let place = (below * values.len() as f64 - 0.5).max(0.0);
    let index = place.floor() as usize;
    let Some(&next) = values.get(index + 1) else { return last };
    values[index] + (place - index as f64) * (next - values[index])
}

/// The wind's law in one month.
#[derive(Clone, Debug, PartialEq)]
pub struct MonthLaw {
    /// Direction it mostly blows from, degrees clockwise from north.
    pub prevailing_from_deg: f64,
    /// Memory along the prevailing direction.
    pub along: Spells,
    /// Memory across it.
    pub across: Spells,
    /// One law for each clock hour.
    pub(super) hours: Vec<HourLaw>,
}

/// A wind that can be drawn hour by hour.
#[derive(Clone, Debug, PartialEq)]
pub struct HourlyClimate {
    /// Laws of January to December, `None` where nothing is known; or one for all months.
    pub months: Vec<Option<MonthLaw>>,
    /// Height of the speeds, m above ground.
    pub measured_at_m: f64,
}

impl HourlyClimate {
    fn month(&self, at: DateTime) -> Option<&MonthLaw> {
        let month = usize::from(at.month().unsigned_abs()) - 1;
        self.months.get(month % self.months.len().max(1))?.as_ref()
    }

    /// `hours` hourly winds of season number `season` (from 0), from `midnight` of its first day
    /// on; `None` in a month of which nothing is known.
    pub fn winds(
        &self,
        midnight: DateTime,
        hours: usize,
        seed: u64,
        season: u32,
    ) -> Vec<Option<Wind>> {
        let mut along = Course::new(stream((seed, season), Purpose::WindAlong));
        let mut across = Course::new(stream((seed, season), Purpose::WindAcross));
        let first = usize::from(midnight.hour().unsigned_abs());
        let mut month = self.month(midnight);
        (0..hours)
            .map(|hour| {
                // The law changes with the day.
                if (first + hour).is_multiple_of(24) {
                    month = self.month(midnight.saturating_add((hour as i64).hours()));
                }
                let month = month?;
                let z = [along.next(&month.along), across.next(&month.across)];
                Some(month.hours[hour % 24].wind(z, month.prevailing_from_deg))
            })
            .collect()
    }
}
