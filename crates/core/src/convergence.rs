//! How far an ensemble has come, and how many seasons it would need.
//!
//! The half-width of the mean's interval is t(n − 1) s/√n. To *settle* a question (is the
//! mean above a threshold that lies δ away?) with a stated power, the interval must clear the
//! threshold in that share of ensembles: (t(level) + t(power)) s/√n ≤ δ (common practice of test
//! planning, e.g. Cohen 1988; from memory, high); the least such n follows by search.
//!
//! It is an estimate: s and δ are themselves uncertain, the more so with few seasons.

use crate::ensemble::{StatisticsError, check_finite, check_share, mean_and_deviation, t_quantile};

/// More seasons than this are not worth naming; the answer is then `None`.
const MOST_SEASONS: usize = 1_000_000;

/// Mean of the first seasons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunningMean {
    /// Seasons taken, from the first.
    pub seasons: usize,
    /// Their mean, in the number's unit.
    pub mean: f64,
    /// Half-width of its interval, in the number's unit.
    pub half_width: f64,
}

/// Mean and half-width at `level` (fraction) after 2, 3, … all of `values`.
///
/// # Errors
/// Fewer than two values, a value that is not finite, a level outside 0–1.
pub fn running_mean(values: &[f64], level: f64) -> Result<Vec<RunningMean>, StatisticsError> {
    check_share("the level", level)?;
    mean_and_deviation(values)?;
    // Welford 1962 (Technometrics 4:419–420): one pass, no loss of digits.
    let (mut mean, mut squares) = (values[0], 0.0);
    let rest = values.iter().enumerate().skip(1);
    Ok(rest
        .map(|(before, value)| {
            let seasons = before + 1;
            let off = value - mean;
            mean += off / seasons as f64;
            squares += off * (value - mean);
            let standard_error = (squares / before as f64 / seasons as f64).sqrt();
            let half_width = t_quantile(before, 0.5 + 0.5 * level) * standard_error;
            RunningMean { seasons, mean, half_width }
        })
        .collect())
}

/// Seasons needed in all until the interval at `level` clears a threshold that lies `distance` from
/// the true mean, in the share `power` of ensembles; `None` if more than [`MOST_SEASONS`].
///
/// # Errors
/// As [`running_mean`]; a distance that is not above zero; a power outside 0–1.
pub(crate) fn seasons_to_settle(
    values: &[f64],
    distance: f64,
    level: f64,
    power: f64,
) -> Result<Option<usize>, StatisticsError> {
    check_share("the level", level)?;
    check_share("the power", power)?;
    check_positive("the distance", distance)?;
    check_finite(values)?;
    let (_, deviation) = mean_and_deviation(values)?;
    let upper = 0.5 + 0.5 * level;
    Ok(least_seasons(|n| {
        let quantiles = t_quantile(n - 1, upper) + t_quantile(n - 1, power).max(0.0);
        quantiles * deviation / (n as f64).sqrt() <= distance
    }))
}

/// The least n from 2 that is `enough`, which stays so from there on.
fn least_seasons(enough: impl Fn(usize) -> bool) -> Option<usize> {
    let mut high = 2;
    while !enough(high) {
        if high >= MOST_SEASONS {
            return None;
        }
        high = (high * 2).min(MOST_SEASONS);
    }
    let mut low = high / 2;
    while high - low > 1 {
        let middle = low.midpoint(high);
        if enough(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

fn check_positive(quantity: &'static str, value: f64) -> Result<(), StatisticsError> {
    if value > 0.0 && value.is_finite() {
        Ok(())
    } else {
        Err(StatisticsError::NotPositive { quantity, value })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ensemble::seasons_figures;
    use proptest::prelude::*;

    /// A power of one half adds nothing: what is left is the half-width of the interval.
    fn seasons_for_precision(
        values: &[f64],
        half_width: f64,
        level: f64,
    ) -> Result<Option<usize>, StatisticsError> {
        seasons_to_settle(values, half_width, level, 0.5)
    }

    #[test]
    fn closed_seasons_for_a_half_width() {
        // s = 1 (values 0 and √2): 1.96/√n ≤ 0.1 needs 385 by the normal, 387 by Student
        // (t(386)/√387 = 1.96612/19.6723 = 0.09994; t(385)/√386 = 0.10007 is too wide).
        let pilot = [0.0, 2f64.sqrt()];
        let n = seasons_for_precision(&pilot, 0.1, 0.95).unwrap().unwrap();
        assert_eq!(n, 387);
        assert_eq!(seasons_for_precision(&pilot, 1e-9, 0.95), Ok(None));
        assert_eq!(seasons_for_precision(&[3.0, 3.0], 0.1, 0.95), Ok(Some(2)));
    }

    #[test]
    fn published_seasons_of_a_t_test() {
        // Cohen 1988, one-sample (paired) t test, two-sided 5 %, power 0.80, d = 0.5: n = 34 by the
        // exact noncentral t (standard value, from memory, high). By hand here: (2.0345 + 0.8530)
        // /√34 = 0.4952; with 33, 0.5031.
        let pilot = [0.0, 2f64.sqrt()];
        let n = seasons_to_settle(&pilot, 0.5, 0.95, 0.80).unwrap().unwrap();
        assert_eq!(n, 34);
    }

    #[test]
    fn closed_a_wish_that_makes_no_sense_is_refused() {
        let values = [1.0, 2.0];
        for half_width in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(seasons_for_precision(&values, half_width, 0.9).is_err());
            assert!(seasons_to_settle(&values, half_width, 0.9, 0.8).is_err());
        }
        for share in [0.0, 1.0, 90.0, f64::NAN] {
            assert!(seasons_for_precision(&values, 1.0, share).is_err());
            assert!(seasons_to_settle(&values, 1.0, 0.9, share).is_err());
            assert!(running_mean(&values, share).is_err());
        }
        assert!(running_mean(&[1.0], 0.9).is_err());
        assert!(running_mean(&[1.0, f64::NAN], 0.9).is_err());
    }

    proptest! {
        #[test]
        fn reference_every_running_mean_is_that_of_its_first_seasons(
            values in prop::collection::vec(-1e3f64..1e3, 2..30)
        ) {
            let running = running_mean(&values, 0.9).unwrap();
            prop_assert_eq!(running.len(), values.len() - 1);
            for step in running {
                let plain = seasons_figures(&values[..step.seasons], 0.9).unwrap();
                prop_assert!((step.mean - plain.mean).abs() < 1e-9);
                let scale = 1e-9 * (1.0 + plain.interval.half_width());
                prop_assert!((step.half_width - plain.interval.half_width()).abs() < scale);
            }
        }

        #[test]
        fn reference_the_least_number_of_seasons_by_counting(
            spread in 0.1f64..3.0, half_width in 0.2f64..2.0
        ) {
            let pilot = [0.0, spread * 2f64.sqrt()];
            let enough = |n: usize| t_quantile(n - 1, 0.95) * spread / (n as f64).sqrt() <= half_width;
            let counted = (2..MOST_SEASONS).find(|n| enough(*n));
            prop_assert_eq!(seasons_for_precision(&pilot, half_width, 0.9).unwrap(), counted);
        }
    }
}
