//! What of the spread over seasons is the weather's, and what the doubts' (analysis of variance).
//!
//! Two seasons after each other meet the same draw of pattern, losses, soil and crop and different
//! weather. Half the mean squared difference within these pairs is what the weather adds to one
//! season, W; the variance between pairs, less W/2, is what the draws add, D (one random factor;
//! Searle et al. 1992, Variance Components; from memory). Over many seasons the weather averages out
//! and the draws do not: what is known of the long-run mean has the variance D (1 + 1/pairs) +
//! W/seasons.
//!
//! Valid for at least `FEWEST_PAIRS` pairs; of fewer seasons all variance counts as doubt.

use crate::ensemble::{Interval, SeasonsFigures, mean_and_deviation, t_quantile};

/// Fewest pairs of seasons from which draws and weather are told apart.
pub(crate) const FEWEST_PAIRS: usize = 10;

/// The same figures with an interval that holds what the draws leave open, for a series without
/// prices.
pub(crate) fn long_run(figures: SeasonsFigures, values: &[f64]) -> SeasonsFigures {
    let Some(found) = variances(values) else { return figures };
    let (mean, level) = (figures.mean, figures.interval.level);
    let freedom = found.pairs.saturating_sub(1).max(1);
    let variance = found.of_doubts() + found.weather / values.len() as f64;
    let half = variance.sqrt() * t_quantile(freedom, 0.5 + 0.5 * level);
    let interval = Interval { low: mean - half, high: mean + half, level };
    SeasonsFigures { interval, ..figures }
}

/// Variances of net returns, in their unit squared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Variances {
    /// Of one season, by the weather.
    pub weather: f64,
    /// Of the long-run mean, by pattern, losses, soil and crop.
    pub doubts: f64,
    /// Draws behind them: pairs of seasons.
    pub pairs: usize,
}

impl Variances {
    /// Of the long-run mean, that the mean of these draws is itself uncertain included.
    pub(super) fn of_doubts(&self) -> f64 {
        self.doubts * (1.0 + 1.0 / self.pairs.max(1) as f64)
    }
}

/// Variances of `nets`, seasons 2k and 2k + 1 sharing a draw. Of few seasons all variance counts as
/// doubt, each as a draw of its own: the safe side. `None` for fewer than two.
pub(crate) fn variances(nets: &[f64]) -> Option<Variances> {
    let pairs: Vec<[f64; 2]> = nets.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect();
    if pairs.len() < FEWEST_PAIRS {
        let (_, deviation) = mean_and_deviation(nets).ok()?;
        return Some(Variances { weather: 0.0, doubts: deviation * deviation, pairs: nets.len() });
    }
    let count = pairs.len() as f64;
    let weather = pairs.iter().map(|[a, b]| 0.5 * (a - b) * (a - b)).sum::<f64>() / count;
    let means: Vec<f64> = pairs.iter().map(|[a, b]| 0.5 * (a + b)).collect();
    let mean = means.iter().sum::<f64>() / count;
    let between = means.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / (count - 1.0);
    let doubts = (between - 0.5 * weather).max(0.0);
    Some(Variances { weather, doubts, pairs: pairs.len() })
}
