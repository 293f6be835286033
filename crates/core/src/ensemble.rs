//! What many seasons say: mean, spread, interval and quantiles of one number per season.
//!
//! The seasons are taken as independent draws of the same kind. The interval of the mean is
//! Student's: mean ± t(n − 1) s/√n (Student 1908, Biometrika 6:1–25). It is exact for normal
//! numbers. For skewed ones it covers somewhat less than it says while seasons are few: 20 draws
//! of an exponential distribution are covered 87 times in 100 by the 90 % interval (measured in the
//! tests). Quantiles are of type 7 of Hyndman & Fan (1996, The American Statistician 50:361–365;
//! from memory, high): linear between the ordered values.
//!
//! Neglected: dependence of one season on the next. Two records' years in a row may be alike.

use crate::statistics::{normal_quantile, quantile_of_sorted, sum};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// Why no figures can be given.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StatisticsError {
    /// A spread needs at least two seasons.
    #[error("{seasons} season(s) given; figures with an interval need at least 2")]
    TooFewSeasons {
        /// Seasons given.
        seasons: usize,
    },
    /// A value is no number, or so large that its figures are none.
    #[error("season {}: {value} is no finite number to compute with", season + 1)]
    NotFinite {
        /// Season from 0.
        season: usize,
        /// What was given.
        value: f64,
    },
    /// A share that is none.
    #[error("{quantity} is {value}; it must lie between 0 and 1, ends excluded")]
    NotAShare {
        /// Name.
        quantity: &'static str,
        /// What was given.
        value: f64,
    },
    /// A pair is missing.
    #[error("{alternative} seasons of the alternative, {baseline} of the baseline: pairs needed")]
    Unpaired {
        /// Seasons of the alternative.
        alternative: usize,
        /// Seasons of the baseline.
        baseline: usize,
    },
    /// Something that must be above zero.
    #[error("{quantity} is {value}; it must be above 0 and finite")]
    NotPositive {
        /// Name.
        quantity: &'static str,
        /// What was given.
        value: f64,
    },
    /// Something that must not be below zero.
    #[error("{quantity} is {value}; it must be 0 or more and finite")]
    Negative {
        /// Name.
        quantity: &'static str,
        /// What was given.
        value: f64,
    },
}

/// An interval with the rate at which such intervals hold the truth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Rate, fraction (0.9 for a 90 % interval).
    pub level: f64,
}

impl Interval {
    /// Half of its width.
    pub fn half_width(&self) -> f64 {
        0.5 * (self.high - self.low)
    }

    /// Whether `value` lies in it, ends included.
    pub fn holds(&self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }
}

/// Figures of one number over many seasons, in the number's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonsFigures {
    /// Seasons.
    pub seasons: usize,
    /// Mean.
    pub mean: f64,
    /// Standard deviation from season to season, with n − 1.
    pub standard_deviation: f64,
    /// Standard error of the mean.
    pub standard_error: f64,
    /// Interval of the mean.
    pub interval: Interval,
    /// Worst tenth: one season in ten is lower (quantile 0.1).
    pub worst_tenth: f64,
    /// Median.
    pub median: f64,
    /// Best tenth: one season in ten is higher (quantile 0.9).
    pub best_tenth: f64,
}

/// Figures of `values`, one a season, with the interval of the mean at `level` (fraction).
///
/// # Errors
/// Fewer than two values, a value that is not finite, a level outside 0–1.
pub fn seasons_figures(values: &[f64], level: f64) -> Result<SeasonsFigures, StatisticsError> {
    check_share("the level", level)?;
    let (mean, standard_deviation) = mean_and_deviation(values)?;
    let n = values.len();
    let standard_error = standard_deviation / (n as f64).sqrt();
    // With no spread the quantile must not be met by 0 · ∞.
    let half_width = t_quantile(n - 1, 0.5 + 0.5 * level) * standard_error;
    let mut sorted = values.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    Ok(SeasonsFigures {
        seasons: n,
        mean,
        standard_deviation,
        standard_error,
        interval: Interval { low: mean - half_width, high: mean + half_width, level },
        worst_tenth: quantile_of_sorted(&sorted, 0.1),
        median: quantile_of_sorted(&sorted, 0.5),
        best_tenth: quantile_of_sorted(&sorted, 0.9),
    })
}

/// The value below which the share `probability` (fraction) of `values` lies.
///
/// # Errors
/// No values, a value that is not finite, a probability outside 0–1.
pub fn quantile(values: &[f64], probability: f64) -> Result<f64, StatisticsError> {
    check_share("the probability", probability)?;
    check_finite(values)?;
    if values.is_empty() {
        return Err(StatisticsError::TooFewSeasons { seasons: 0 });
    }
    let mut sorted = values.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    Ok(quantile_of_sorted(&sorted, probability))
}

/// Mean and standard deviation (n − 1). The first value is taken off before summing, so that equal
/// values give exactly themselves and a spread of exactly 0.
pub(crate) fn mean_and_deviation(values: &[f64]) -> Result<(f64, f64), StatisticsError> {
    check_finite(values)?;
    let n = values.len();
    if n < 2 {
        return Err(StatisticsError::TooFewSeasons { seasons: n });
    }
    let from_first: Vec<f64> = values.iter().map(|value| value - values[0]).collect();
    let mean_from_first = sum(&from_first) / n as f64;
    let squares: Vec<f64> = from_first.iter().map(|x| (x - mean_from_first).powi(2)).collect();
    let deviation = (sum(&squares) / (n - 1) as f64).sqrt();
    let mean = values[0] + mean_from_first;
    if mean.is_finite() && deviation.is_finite() {
        Ok((mean, deviation))
    } else {
        Err(largest(values))
    }
}

/// The value to blame when figures overflow.
fn largest(values: &[f64]) -> StatisticsError {
    let (season, value) = values
        .iter()
        .copied()
        .enumerate()
        .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
        .unwrap_or((0, f64::NAN));
    StatisticsError::NotFinite { season, value }
}

pub(crate) fn check_finite(values: &[f64]) -> Result<(), StatisticsError> {
    match values.iter().position(|value| !value.is_finite()) {
        Some(season) => Err(StatisticsError::NotFinite { season, value: values[season] }),
        None => Ok(()),
    }
}

pub(crate) fn check_share(quantity: &'static str, value: f64) -> Result<(), StatisticsError> {
    if value > 0.0 && value < 1.0 {
        Ok(())
    } else {
        Err(StatisticsError::NotAShare { quantity, value })
    }
}

/// Degrees of freedom from which Student's quantile is taken from its expansion about the normal
/// one (Abramowitz & Stegun 1964, 26.7.5; from memory, high). Two terms are good to 10⁻⁸ there,
/// while the root search of the incomplete beta function loses digits (4 · 10⁻⁴ at a million).
const EXPANSION_FROM: usize = 1000;

/// The number below which Student's t with `freedom` degrees of freedom (at least 1) lies with
/// `probability` (0–1, ends excluded).
pub(crate) fn t_quantile(freedom: usize, probability: f64) -> f64 {
    let v = freedom as f64;
    match StudentsT::new(0.0, 1.0, v) {
        Ok(student) if freedom < EXPANSION_FROM => student.inverse_cdf(probability),
        _ => {
            let z = normal_quantile(probability);
            let square = z * z;
            let first = z * (square + 1.0) / (4.0 * v);
            let second = z * ((5.0 * square + 16.0) * square + 3.0) / (96.0 * v * v);
            z + first + second
        }
    }
}

/// Probability that Student's t with `freedom` degrees of freedom (at least 1) is below `t`.
pub(crate) fn t_cdf(freedom: usize, t: f64) -> f64 {
    match StudentsT::new(0.0, 1.0, freedom as f64) {
        Ok(student) => student.cdf(t),
        Err(_) => f64::NAN,
    }
}

#[cfg(test)]
#[path = "ensemble_tests.rs"]
mod tests;
