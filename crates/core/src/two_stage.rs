//! How many seasons a stated precision needs, decided once.
//!
//! Stein's two-stage rule (Stein 1945, Ann. Math. Stat. 16:243–258; from memory, high): from n0 first
//! seasons with standard deviation s0 take n = max(n0, ⌈(t(n0 − 1) s0 / w)²⌉) in all. For normal
//! differences the interval mean ± t(n0 − 1) s0/√n, which is no wider than ± w, then covers the true
//! mean at the stated level or more, whatever the true spread: n hangs on s0 only, and s0 tells
//! nothing of the mean. Looking after every season and stopping when the interval happens to be
//! narrow has no such guarantee.
//!
//! Cost: t is taken at n0 − 1, so some more seasons than if the spread were known (3 % with n0 = 50,
//! 8 % with 20). The usual interval of all n seasons, which takes its spread from them all, covers a
//! little less than its level after this rule: at 90 %, 88 to 90 % (simulated in the tests below).

use crate::ensemble::{StatisticsError, check_share, mean_and_deviation, t_quantile};

/// Least number of first seasons: with fewer, s0 says too little.
pub(crate) const LEAST_FIRST: usize = 10;

/// What the first stage tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct FirstStage {
    /// t(n0 − 1) s0, in the number's unit: the half-width times √n.
    scale: f64,
    /// Seasons of the first stage, n0.
    first: usize,
}

impl FirstStage {
    /// The first stage of paired differences (or of any number by season).
    ///
    /// # Errors
    /// Fewer than two values, a value that is not finite, a level outside 0–1.
    pub(crate) fn of(values: &[f64], level: f64) -> Result<Self, StatisticsError> {
        check_share("the level", level)?;
        let (_, deviation) = mean_and_deviation(values)?;
        let first = values.len();
        Ok(Self { scale: t_quantile(first - 1, 0.5 + 0.5 * level) * deviation, first })
    }

    /// Seasons needed in all for a half-width of at most `half_width`, at most `most`.
    pub(crate) fn seasons(&self, half_width: f64, most: usize) -> usize {
        let ratio = self.scale / half_width;
        // A float beyond the range of whole numbers saturates; NaN cannot be: both are finite.
        ((ratio * ratio).ceil() as usize).max(self.first).min(most)
    }

    /// Half-width of the two-stage interval after `seasons` in all.
    pub(crate) fn half_width(&self, seasons: usize) -> f64 {
        self.scale / (seasons.max(1) as f64).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ensemble::seasons_figures;
    use rand::SeedableRng;
    use rand::rngs::ChaCha8Rng;
    use rand_distr::{Distribution, StandardNormal};

    #[test]
    fn closed_seasons_by_hand() {
        // s0 = 1 from 0 and √2: t(1) at 90 % is 6.3138; for ± 1, 39.86 squared up: 40.
        let stage = FirstStage::of(&[0.0, 2f64.sqrt()], 0.9).unwrap();
        assert_eq!(stage.seasons(1.0, 1000), 40);
        assert_eq!(stage.seasons(1.0, 30), 30);
        assert_eq!(stage.seasons(100.0, 1000), 2);
        assert!(stage.half_width(40) <= 1.0 && stage.half_width(39) > 1.0);
        // Seasons that do not differ need no more.
        assert_eq!(FirstStage::of(&[3.0; 12], 0.9).unwrap().seasons(1e-9, 1000), 12);
    }

    /// Shares of 20 000 simulated runs (true mean 0, spread 1, 12 first seasons, ± `half_width` at
    /// 90 %) in which the two-stage and the usual interval cover.
    fn coverage(half_width: f64) -> (f64, f64) {
        let runs = 20_000;
        let (mut two_stage, mut usual) = (0, 0);
        for run in 0..runs {
            let mut random = ChaCha8Rng::seed_from_u64(run);
            let mut draw = || -> f64 { StandardNormal.sample(&mut random) };
            let mut values: Vec<f64> = (0..12).map(|_| draw()).collect();
            let stage = FirstStage::of(&values, 0.9).unwrap();
            let seasons = stage.seasons(half_width, 100_000);
            values.extend((12..seasons).map(|_| draw()));
            let figures = seasons_figures(&values, 0.9).unwrap();
            two_stage += usize::from(figures.mean.abs() <= stage.half_width(seasons));
            usual += usize::from(figures.mean.abs() <= figures.interval.half_width());
        }
        (two_stage as f64 / runs as f64, usual as f64 / runs as f64)
    }

    #[test]
    fn closed_the_interval_covers_at_its_level_by_simulation() {
        for half_width in [0.2, 0.35, 0.6] {
            let (two_stage, usual) = coverage(half_width);
            // Three standard errors of a share of 0.9 in 20 000 runs are 0.0064.
            assert!(two_stage >= 0.9 - 0.0064, "± {half_width}: {two_stage}");
            // What stopping costs the usual interval: two points at the most.
            assert!((0.88 - 0.0064..0.9 + 0.0064).contains(&usual), "± {half_width}: {usual}");
        }
    }
}
