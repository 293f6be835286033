//! Weights of draws from the prior by what tests say of them.
//!
//! ln L(u) = −½ Σ over tests of (y − d(u))ᵀ Σ⁻¹ (y − d(u)), d the surface of the test (`surface`) and Σ its
//! errors (`errors`), the same for every u. d is linear in the monomials φ of u, and losses are a factor n
//! on it, so with the test whitened by the Cholesky factor of Σ each draw costs n²φᵀAφ − 2n bᵀφ + c,
//! whatever the number of cans.
//!
//! Weights are L · prior/proposal. In the space of normal scores z, in which the prior is N(0, I), the
//! first round proposes from the prior, the others from a tenth of the prior and nine tenths of the
//! normal that the round before found, half again as wide in variance (adaptive importance sampling:
//! Oh & Berger 1992, J. Stat. Comput. Simul. 41:143; from memory, medium). The prior's tenth bounds the
//! weights. Draws are points of a scrambled Sobol sequence, as in `crate::doubt::draws`. How many
//! draws of the last round they are worth: (Σw)²/Σw² (Kish 1965, Survey Sampling; from memory, high).
//! The points kept have equal weight: systematic resampling of the draws in order of their first
//! number, with the middle of each part and no chance in it (Kitagawa 1996, J. Comput. Graph. Stat.
//! 5:1; from memory, high).

use super::prior::Prior;
use super::surface::{Surface, monomials};
use crate::calibration::NUMBERS;
use crate::statistics::normal_quantile;
use nalgebra::{DMatrix, DVector, SMatrix, SVector};
use rayon::prelude::*;

/// Rounds of draws.
const ROUNDS: u32 = 4;
/// Share of the prior in the proposals after the first.
const OF_PRIOR: f64 = 0.1;
/// How much wider in variance a proposal is than what was found, and the least it adds.
const WIDER: (f64, f64) = (1.5, 0.01);
/// Scrambling of the draws, a step a round.
const SEED: u32 = 0x6472_6177;

/// Normal scores.
type Scores = SVector<f64, NUMBERS>;

/// What one test says of any draw.
#[derive(Clone, Debug)]
pub(super) struct Evidence {
    square: DMatrix<f64>,
    linear: DVector<f64>,
    constant: f64,
    /// Share of the water that is lost by the scenario's own numbers.
    lost: f64,
    /// Cans.
    pub(super) cans: usize,
}

impl Evidence {
    /// Of a test that caught `caught_mm` where the share `lost` is lost by the scenario's own numbers;
    /// `None` if the errors are no covariance.
    pub(super) fn of(
        surface: &Surface,
        errors: &DMatrix<f64>,
        caught_mm: &[f64],
        lost: f64,
    ) -> Option<Self> {
        let factor = (errors + &surface.missed).cholesky()?.l();
        let caught = DVector::from_column_slice(caught_mm);
        let surface = factor.solve_lower_triangular(&surface.coefficients)?;
        let caught = factor.solve_lower_triangular(&caught)?;
        Some(Self {
            square: surface.transpose() * &surface,
            linear: surface.transpose() * &caught,
            constant: caught.norm_squared(),
            lost,
            cans: caught_mm.len(),
        })
    }

    /// χ² of a draw with these monomials and this factor on the losses.
    fn chi_square(&self, terms: &DVector<f64>, losses: f64) -> f64 {
        let net = (1.0 - losses * self.lost).max(0.0) / (1.0 - self.lost);
        (&self.square * terms * net - 2.0 * &self.linear).dot(terms) * net + self.constant
    }
}

/// Draws with their weights.
#[derive(Clone, Debug)]
pub(super) struct Weighted {
    draws: Vec<[f64; NUMBERS]>,
    weights: Vec<f64>,
    /// Least χ² of any draw.
    pub(super) best_chi_square: f64,
}

/// What draws are taken from, in normal scores.
struct Proposal {
    center: Scores,
    factor: SMatrix<f64, NUMBERS, NUMBERS>,
    /// Share of the prior in it.
    of_prior: f64,
}

impl Proposal {
    fn prior() -> Self {
        Self { center: Scores::zeros(), factor: SMatrix::identity(), of_prior: 1.0 }
    }

    /// Around the draws as they are weighed.
    fn around(scores: &[Scores], weights: &[f64]) -> Option<Self> {
        let total: f64 = weights.iter().sum();
        let center = scores.iter().zip(weights).map(|(z, w)| z * *w).sum::<Scores>() / total;
        let mut spread = SMatrix::<f64, NUMBERS, NUMBERS>::zeros();
        for (z, weight) in scores.iter().zip(weights) {
            let off = z - center;
            spread += off * off.transpose() * (*weight / total);
        }
        let spread = spread * WIDER.0 + SMatrix::identity() * WIDER.1;
        Some(Self { center, factor: spread.cholesky()?.l(), of_prior: OF_PRIOR })
    }

    fn draw(&self, index: usize, round: u32) -> Scores {
        let share = |dimension: usize| {
            let share = sobol_burley::sample(index as u32, dimension as u32, SEED + round);
            f64::from(share).clamp(1e-7, 1.0 - 1e-7)
        };
        let z = Scores::from_fn(|number, _| normal_quantile(share(number)));
        if share(NUMBERS) < self.of_prior { z } else { self.center + self.factor * z }
    }

    /// ln of the prior's density over this one's.
    fn log_ratio(&self, z: &Scores) -> f64 {
        let of_prior = -0.5 * z.norm_squared();
        let Some(off) = self.factor.solve_lower_triangular(&(z - self.center)) else { return 0.0 };
        let own = -0.5 * off.norm_squared() - self.factor.diagonal().map(libm::log).sum();
        let most = own.max(of_prior);
        let mixed = self.of_prior * libm::exp(of_prior - most)
            + (1.0 - self.of_prior) * libm::exp(own - most);
        of_prior - most - libm::log(mixed)
    }
}

impl Weighted {
    /// Draws from `prior` weighed by `evidence`, `count` a round.
    pub(super) fn of(prior: &Prior, evidence: &[Evidence], count: usize) -> Self {
        let mut proposal = Proposal::prior();
        let mut found = Self { draws: Vec::new(), weights: Vec::new(), best_chi_square: 0.0 };
        for round in 0..ROUNDS {
            let scores: Vec<Scores> = (0..count).map(|index| proposal.draw(index, round)).collect();
            let draws: Vec<[f64; NUMBERS]> = scores.iter().map(|z| prior.at_scores(z)).collect();
            let chi_squares: Vec<f64> = draws
                .par_iter()
                .map(|values| {
                    let terms = monomials(&prior.standardized(values));
                    let losses = values[NUMBERS - 1];
                    evidence.iter().map(|test| test.chi_square(&terms, losses)).sum()
                })
                .collect();
            let logs: Vec<f64> = scores
                .iter()
                .zip(&chi_squares)
                .map(|(z, chi)| proposal.log_ratio(z) - 0.5 * chi)
                .collect();
            let highest = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let weights: Vec<f64> = logs.iter().map(|log| libm::exp(log - highest)).collect();
            let best_chi_square = chi_squares.iter().copied().fold(f64::INFINITY, f64::min);
            let next = Proposal::around(&scores, &weights);
            found = Self { draws, weights, best_chi_square };
            match next {
                Some(next) => proposal = next,
                None => break,
            }
        }
        found
    }

    /// Draws in all.
    pub(super) fn count(&self) -> usize {
        self.draws.len()
    }

    /// Kish's effective number of draws.
    pub(super) fn effective(&self) -> f64 {
        let sum: f64 = self.weights.iter().sum();
        let squares: f64 = self.weights.iter().map(|w| w * w).sum();
        sum * sum / squares
    }

    /// Values of one number that `shares` of the weight lie below.
    pub(super) fn quantiles<const N: usize>(&self, number: usize, shares: [f64; N]) -> [f64; N] {
        let order = self.order(number);
        let total: f64 = self.weights.iter().sum();
        shares.map(|share| {
            let mut below = 0.0;
            for at in &order {
                below += self.weights[*at];
                if below >= share * total {
                    return self.draws[*at][number];
                }
            }
            order.last().map_or(f64::NAN, |at| self.draws[*at][number])
        })
    }

    /// `count` points of equal weight.
    pub(super) fn resampled(&self, count: usize) -> Vec<[f64; NUMBERS]> {
        let total: f64 = self.weights.iter().sum();
        let (mut points, mut below) = (Vec::with_capacity(count), 0.0);
        for at in self.order(0) {
            below += self.weights[at];
            while points.len() < count
                && below >= (points.len() as f64 + 0.5) / count as f64 * total
            {
                points.push(self.draws[at]);
            }
        }
        points
    }

    /// Draws by one number; the order of those that are the same is that of the draws.
    fn order(&self, number: usize) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.draws.len()).collect();
        order.sort_by(|a, b| self.draws[*a][number].total_cmp(&self.draws[*b][number]));
        order
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weighted(weights: &[f64]) -> Weighted {
        let draw = |i: usize| [i as f64, 0.0, 0.0, 0.0, 0.0, -(i as f64)];
        let draws = (0..weights.len()).map(draw).collect();
        Weighted { draws, weights: weights.to_vec(), best_chi_square: 0.0 }
    }

    #[test]
    fn closed_equal_weights_count_in_full_and_one_weight_as_one() {
        assert!((weighted(&[0.3; 10]).effective() - 10.0).abs() < 1e-9);
        assert!((weighted(&[0.0, 1.0, 0.0]).effective() - 1.0).abs() < 1e-12);
        assert!((weighted(&[1.0, 1.0, 0.0]).effective() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn closed_points_stand_for_their_weight() {
        let found = weighted(&[1.0, 2.0, 1.0]);
        let points = found.resampled(8);
        let count = |value: f64| points.iter().filter(|p| p[0] == value).count();
        assert_eq!([count(0.0), count(1.0), count(2.0)], [2, 4, 2]);
        assert!(points.iter().all(|p| p[5] == -p[0]));
        assert_eq!(found.quantiles(0, [0.1, 0.5, 0.9]), [0.0, 1.0, 2.0]);
        assert_eq!(found.quantiles(5, [0.1, 0.9]), [-2.0, 0.0]);
    }
}
