//! Sums that do not depend on the machine, and the normal distribution.
//!
//! Sums run in eight fixed lanes that are added in a fixed order: fast, and the same bits whatever
//! the vector width or the number of threads. Rounding grows with n/8 instead of n.

mod histogram;

pub use histogram::{Histogram, Numbers, distances};
use statrs::distribution::{ContinuousCDF, Normal};

/// Lanes of the fixed-order sums.
pub(crate) const LANES: usize = 8;

/// Adds lanes pairwise in a fixed order.
#[inline]
pub(crate) fn fold_lanes(lanes: [f64; LANES]) -> f64 {
    // The compiler must not see how lanes are folded while it fills them: it would pair them in
    // the loop too, and shuffle every block for it (twice the time).
    let lanes = std::hint::black_box(lanes);
    ((lanes[0] + lanes[1]) + (lanes[2] + lanes[3]))
        + ((lanes[4] + lanes[5]) + (lanes[6] + lanes[7]))
}

/// Sum of the products of two lists as long, in fixed lanes.
pub(crate) fn product(one: &[f64], other: &[f64]) -> f64 {
    pulp::Arch::new().dispatch(Multiplied { one, other })
}

/// The products, as work that is compiled a second time for wider vectors.
struct Multiplied<'a> {
    one: &'a [f64],
    other: &'a [f64],
}

impl pulp::WithSimd for Multiplied<'_> {
    type Output = f64;

    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn with_simd<S: pulp::Simd>(self, _: S) -> f64 {
        let (blocks, rest) = self.one.as_chunks::<LANES>();
        let (others, others_rest) = self.other.as_chunks::<LANES>();
        let mut lanes = [0.0; LANES];
        for (one, other) in blocks.iter().zip(others) {
            for lane in 0..LANES {
                lanes[lane] += one[lane] * other[lane];
            }
        }
        let rest = rest.iter().zip(others_rest);
        rest.fold(fold_lanes(lanes), |sum, (one, other)| sum + one * other)
    }
}

/// Sum of `values` in fixed lanes.
#[inline]
pub fn sum(values: &[f64]) -> f64 {
    let (blocks, rest) = values.as_chunks::<LANES>();
    let mut lanes = [0.0; LANES];
    for block in blocks {
        for (lane, value) in lanes.iter_mut().zip(block) {
            *lane += value;
        }
    }
    rest.iter().fold(fold_lanes(lanes), |total, value| total + value)
}

/// The value below which the share `probability` (fraction) of `sorted` values lies; of one at least.
pub(crate) fn quantile_of_sorted(sorted: &[f64], probability: f64) -> f64 {
    let place = probability * (sorted.len() - 1) as f64;
    let below = sorted[place.floor() as usize];
    let above = sorted[place.ceil() as usize];
    // Weighted, not below + share · (above − below): that difference can overflow.
    let share = place - place.floor();
    if below == above { below } else { below * (1.0 - share) + above * share }
}

/// The standard normal distribution.
fn standard_normal() -> Normal {
    Normal::standard()
}

/// Probability that a standard normal number is below `z`.
pub(crate) fn normal_cdf(z: f64) -> f64 {
    standard_normal().cdf(z)
}

/// The number below which a standard normal lies with `probability` (0–1, ends excluded).
pub(crate) fn normal_quantile(probability: f64) -> f64 {
    standard_normal().inverse_cdf(probability)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reference_lane_sum_equals_plain_sum() {
        let values: Vec<f64> = (0..1003).map(|i| f64::from(i) * 0.25).collect();
        assert_eq!(sum(&values), values.iter().sum::<f64>());
    }

    #[test]
    fn published_normal_quantile_of_95_percent() {
        // Standard tables (Abramowitz & Stegun 1964, table 26.5): 1.64485; from memory, high.
        assert!((normal_quantile(0.95) - 1.64485).abs() < 5e-6);
        assert!((normal_cdf(1.64485) - 0.95).abs() < 1e-6);
    }
}
