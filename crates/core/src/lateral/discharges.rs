//! Sprinklers of a lateral that do not all deliver the same.
//!
//! Sprinkler i delivers fᵢ times what its nozzle is stated to at its pressure: fᵢ = 1 + CV · zᵢ, or
//! the share given for it by itself. The scores z are normal, cut off at ±2.5, and brought to mean 0
//! and standard deviation 1 over the lateral (n in the denominator), so that this very pipe has the
//! stated coefficient of variation and the stated mean; where a survey found another mean at a place,
//! they lie about that. They come from a stream of their own that
//! depends on nothing but the draw: the same pipe in every pass, every season and every alternative
//! of as many sprinklers, and another CV moves the same sprinklers farther.
//!
//! Published: the coefficient of variation of discharge between sprinklers of hand-moves and
//! side-rolls was 10 % before and 2 % after new nozzles (Louie & Selker 2000). Neglected: that a worn
//! bore has another radius and coarser drops; neighbors that wear alike.

use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

/// Beyond this no score is drawn.
const CUT_OFF: f64 = 2.5;
/// Seed of all pipes: always the same, so that a run repeats to the digit whatever the weather's.
const SEED: u64 = 0x7069_7065;

/// How the discharges of a lateral's sprinklers differ; by default they do not.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Discharges {
    /// Coefficient of variation between sprinklers, fraction.
    pub scatter: f64,
    /// Single sprinklers: number from 0 along x, and discharge as a share of the stated one.
    pub single: Vec<(usize, f64)>,
    /// Shares about which the others lie, sprinkler by sprinkler; empty where that is 1 for all.
    pub means: Vec<f64>,
    /// Which pipe is drawn.
    pub draw: u32,
    /// After how many sprinklers the drawn ones come again; `None` draws each by itself.
    pub repeat: Option<usize>,
}

impl Discharges {
    /// Discharge of each of `sprinklers` over the stated one; `None` where all deliver that.
    pub fn factors(&self, sprinklers: usize) -> Option<Vec<f64>> {
        let single = self.single.iter().map(|(_, share)| share);
        if self.scatter <= 0.0 && single.chain(&self.means).all(|share| *share == 1.0) {
            return None;
        }
        let drawn = self.repeat.map_or(sprinklers, |repeat| repeat.clamp(1, sprinklers.max(1)));
        let scores = scores(drawn, self.draw);
        let mut factors: Vec<f64> = (0..sprinklers)
            .map(|sprinkler| {
                let mean = self.means.get(sprinkler).copied().unwrap_or(1.0);
                mean * (1.0 + self.scatter * scores[sprinkler % drawn]).max(0.0)
            })
            .collect();
        for (sprinkler, share) in &self.single {
            if let Some(factor) = factors.get_mut(*sprinkler) {
                *factor = *share;
            }
        }
        Some(factors)
    }

    /// Sprinklers after which all comes again along a lateral: 1 where all are alike, `None` where
    /// nothing does.
    pub(crate) fn period(&self, sprinklers: usize) -> Option<usize> {
        match self.factors(sprinklers) {
            None => Some(1),
            Some(_) if self.single.is_empty() && self.means.is_empty() => self.repeat,
            Some(_) => None,
        }
    }
}

/// `count` scores of mean 0 and standard deviation 1; nought where there are fewer than two.
fn scores(count: usize, draw: u32) -> Vec<f64> {
    let mut stream = ChaCha8Rng::seed_from_u64(SEED);
    stream.set_stream(u64::from(draw));
    let mut score = || -> f64 {
        loop {
            let score: f64 = StandardNormal.sample(&mut stream);
            if score.abs() <= CUT_OFF {
                return score;
            }
        }
    };
    let raw: Vec<f64> = (0..count).map(|_| score()).collect();
    let mean = raw.iter().sum::<f64>() / count as f64;
    let square = raw.iter().map(|score| (score - mean) * (score - mean)).sum::<f64>();
    let deviation = (square / count as f64).sqrt();
    let standard = |score: f64| if deviation > 0.0 { (score - mean) / deviation } else { 0.0 };
    raw.into_iter().map(standard).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scattered(scatter: f64) -> Discharges {
        Discharges { scatter, ..Discharges::default() }
    }

    #[test]
    fn closed_a_pipe_has_the_stated_mean_and_coefficient_of_variation() {
        for sprinklers in [2, 6, 33] {
            let factors = scattered(0.1).factors(sprinklers).unwrap();
            let mean = factors.iter().sum::<f64>() / sprinklers as f64;
            let square = factors.iter().map(|factor| (factor - mean).powi(2)).sum::<f64>();
            assert!((mean - 1.0).abs() < 1e-12);
            assert!(((square / sprinklers as f64).sqrt() / mean - 0.1).abs() < 1e-12);
            assert!(factors.iter().all(|factor| *factor > 0.6));
        }
        // One sprinkler has none to differ from.
        assert_eq!(scattered(0.1).factors(1), Some(vec![1.0]));
    }

    #[test]
    fn closed_single_sprinklers_stand_over_the_draw_and_alike_ones_need_no_factors() {
        let mut pipe = scattered(0.0);
        assert_eq!((pipe.factors(33), pipe.period(33)), (None, Some(1)));
        pipe.single = vec![(2, 0.0), (4, 1.2), (40, 0.5)];
        assert_eq!(pipe.factors(6).unwrap(), [1.0, 1.0, 0.0, 1.0, 1.2, 1.0]);
        assert_eq!(pipe.period(6), None);
    }

    #[test]
    fn closed_the_others_lie_about_their_own_means() {
        let plain = scattered(0.1).factors(3).unwrap();
        let about = Discharges { means: vec![1.1, 0.9, 1.0], ..scattered(0.1) };
        let found = about.factors(3).unwrap();
        for ((found, plain), mean) in found.iter().zip(plain).zip([1.1, 0.9, 1.0]) {
            assert!((found / plain - mean).abs() < 1e-12);
        }
        assert_eq!(about.period(3), None);
        let alike = Discharges { means: vec![1.0; 3], ..scattered(0.0) };
        assert_eq!(alike.factors(3), None);
    }

    #[test]
    fn invariant_the_same_pipe_every_time_and_another_draw_is_another() {
        let factors = |scatter, draw| {
            Discharges { scatter, draw, ..Discharges::default() }.factors(33).unwrap()
        };
        assert_eq!(factors(0.1, 0), factors(0.1, 0));
        assert_ne!(factors(0.1, 0), factors(0.1, 1));
        for (near, far) in factors(0.02, 3).iter().zip(factors(0.1, 3)) {
            assert!((5.0 * (near - 1.0) - (far - 1.0)).abs() < 1e-12);
        }
    }

    #[test]
    fn closed_a_repeat_comes_again() {
        let pipe = Discharges { scatter: 0.1, repeat: Some(8), ..Discharges::default() };
        let factors = pipe.factors(33).unwrap();
        assert!((8..33).all(|at| factors[at].to_bits() == factors[at - 8].to_bits()));
        assert_eq!(pipe.period(33), Some(8));
    }
}
