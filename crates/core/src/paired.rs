//! Differences against the baseline, season by season under the same winds and weather.
//!
//! Both alternatives saw the same seasons (common random numbers), so the difference of each season
//! is taken first and its figures after: what the seasons share drops out (Law & Kelton, Simulation
//! Modeling and Analysis, chapter on variance reduction; from memory, high). The test of the mean
//! difference is Student's paired t. The share of seasons with a gain has a Wilson interval (Wilson
//! 1927, J. Am. Stat. Assoc. 22:209–212), which behaves at 0 and 1 and with few seasons.
//!
//! Two alternatives that never differ have *no difference*: no probability is given for it, and its
//! interval is [0, 0]. A difference of at most 10⁻¹² of the larger number is round-off of the same
//! sums and counts as exactly 0: a tie. Ties are no gains: they stay among the seasons counted.
//!
//! Neglected: as in `ensemble`, dependence between seasons. Chance over several seasons also
//! take the mean of their differences as normal.

use crate::ensemble::{
    Interval, SeasonsFigures, StatisticsError, check_finite, check_share, seasons_figures, t_cdf,
};
use crate::statistics::normal_quantile;

/// Share of the larger number up to which a difference is round-off.
const ROUND_OFF: f64 = 1e-12;

/// Differences of one number between an alternative and the baseline over the same seasons.
#[derive(Clone, Debug, PartialEq)]
pub struct Paired {
    /// Alternative less baseline, one a season, in the number's unit; round-off is 0.
    pub differences: Vec<f64>,
    /// Their figures.
    pub figures: SeasonsFigures,
    /// How often there is a gain.
    pub chance: Chance,
}

/// How often one season of the alternative beats the same season of the baseline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Chance {
    /// Every difference is exactly zero: there is nothing to be probable.
    NoDifference,
    /// Some seasons differ.
    Counted {
        /// Seasons in which the alternative is higher.
        gains: usize,
        /// Seasons in which it is lower.
        losses: usize,
        /// Seasons without a difference.
        ties: usize,
        /// Share of all seasons, ties among them, that are gains, fraction.
        gain_share: f64,
        /// Its Wilson interval, fractions.
        interval: Interval,
    },
}

/// Pairs `alternative` with `baseline`, both one number a season in the same order of seasons;
/// intervals at `level` (fraction).
///
/// # Errors
/// Lengths that differ, fewer than two seasons, a value that is not finite, a level outside 0–1.
pub fn pair(alternative: &[f64], baseline: &[f64], level: f64) -> Result<Paired, StatisticsError> {
    if alternative.len() != baseline.len() {
        return Err(StatisticsError::Unpaired {
            alternative: alternative.len(),
            baseline: baseline.len(),
        });
    }
    check_finite(alternative)?;
    check_finite(baseline)?;
    let difference = |(a, b): (&f64, &f64)| {
        let difference = a - b;
        let is_round_off = difference.abs() <= ROUND_OFF * a.abs().max(b.abs());
        if is_round_off { 0.0 } else { difference }
    };
    of_differences(alternative.iter().zip(baseline).map(difference).collect(), level)
}

/// The same where the differences are already taken, such as net returns against the baseline.
///
/// # Errors
/// Fewer than two seasons, a value that is not finite, a level outside 0–1.
pub(crate) fn of_differences(differences: Vec<f64>, level: f64) -> Result<Paired, StatisticsError> {
    let figures = seasons_figures(&differences, level)?;
    let chance = chance(&differences, level)?;
    Ok(Paired { differences, figures, chance })
}

fn chance(differences: &[f64], level: f64) -> Result<Chance, StatisticsError> {
    let count = |is: fn(f64) -> bool| differences.iter().filter(|x| is(**x)).count();
    let gains = count(|x| x > 0.0);
    let losses = count(|x| x < 0.0);
    if gains + losses == 0 {
        return Ok(Chance::NoDifference);
    }
    let seasons = differences.len();
    Ok(Chance::Counted {
        gains,
        losses,
        ties: seasons - gains - losses,
        gain_share: gains as f64 / seasons as f64,
        interval: wilson_interval(gains, seasons, level)?,
    })
}

/// Wilson's interval at `level` for a share of which `hits` of `trials` were seen, fractions.
///
/// # Errors
/// No trials, or a level outside 0–1. More hits than trials count as all.
fn wilson_interval(hits: usize, trials: usize, level: f64) -> Result<Interval, StatisticsError> {
    check_share("the level", level)?;
    if trials == 0 {
        return Err(StatisticsError::TooFewSeasons { seasons: 0 });
    }
    let n = trials as f64;
    let hits = hits.min(trials);
    let share = hits as f64 / n;
    let z = normal_quantile(0.5 + 0.5 * level);
    let middle = share + z * z / (2.0 * n);
    let half = z * (share * (1.0 - share) / n + z * z / (4.0 * n * n)).sqrt();
    let scale = 1.0 + z * z / n;
    // At the ends the formula gives 0 and 1 exactly but for rounding.
    let low = if hits == 0 { 0.0 } else { (middle - half) / scale };
    let high = if hits == trials { 1.0 } else { (middle + half) / scale };
    Ok(Interval { low, high, level })
}

impl Paired {
    /// Every difference is exactly zero.
    pub fn is_no_difference(&self) -> bool {
        self.chance == Chance::NoDifference
    }

    /// Standard deviation of the mean of the next `coming` seasons as foreseen from these:
    /// s √(1/m + 1/n) (Hahn & Meeker 1991, Statistical Intervals, section 4.7; from memory, medium).
    fn foreseen_deviation(&self, coming: usize) -> f64 {
        let (n, m) = (self.figures.seasons as f64, coming.max(1) as f64);
        self.figures.standard_deviation * (1.0 / m + 1.0 / n).sqrt()
    }

    /// Probability (fraction) that the mean difference of the next `coming` seasons, such as the
    /// life of the joints, is above `threshold`; `None` without a difference. One season at least.
    pub fn chance_over(&self, coming: usize, threshold: f64) -> Option<f64> {
        if self.is_no_difference() {
            return None;
        }
        let above = self.figures.mean - threshold;
        let deviation = self.foreseen_deviation(coming);
        if deviation > 0.0 {
            Some(t_cdf(self.figures.seasons - 1, above / deviation))
        } else {
            Some(if above > 0.0 { 1.0 } else { 0.0 })
        }
    }
}

#[cfg(test)]
#[path = "paired_tests.rs"]
mod tests;
