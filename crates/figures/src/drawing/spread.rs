//! How values are spread over the area: a fine histogram, read as quantiles and shares.
//!
//! Two passes over the cells instead of a sort; a quantile is exact to 1/4000 of the range, far
//! finer than a drawn line. Cells without a value are left out.

use evenfall_core::statistics::{Histogram, Numbers};

const BINS: usize = 4000;

/// A histogram of cell values, each cell of equal area.
#[derive(Clone, Debug)]
pub(crate) struct Spread {
    lo: f64,
    width: f64,
    counts: Vec<u64>,
    total: u64,
}

impl Spread {
    /// Counts all numbers of `parts`, each times `factor` (over 0); `None` if there are none.
    pub(crate) fn of(parts: &[Numbers<'_>], factor: f64) -> Option<Self> {
        let Histogram { lowest, width, counts } = Histogram::of(parts, factor, BINS)?;
        let total = counts.iter().sum();
        Some(Self { lo: lowest, width, counts, total })
    }

    /// Counts distances, those of an alternative each.
    pub(crate) fn of_distances(distances: &[Vec<f32>]) -> Option<Self> {
        let parts: Vec<_> = distances.iter().map(|part| Numbers::Single(part)).collect();
        Self::of(&parts, 1.0)
    }

    /// The value that a share `share` of the area does not exceed.
    pub(crate) fn quantile(&self, share: f64) -> f64 {
        let wanted = share * self.total as f64;
        let mut below = 0.0;
        for (bin, count) in self.counts.iter().enumerate() {
            let count = *count as f64;
            if count > 0.0 && below + count >= wanted {
                let inside = ((wanted - below) / count).clamp(0.0, 1.0);
                return self.lo + self.width * (bin as f64 + inside);
            }
            below += count;
        }
        self.lo + self.width * BINS as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::statistics::distances;

    #[test]
    fn reference_quantiles_agree_with_sorting() {
        let values: Vec<f64> = (0..10_000).map(|i| f64::from(i * 7919 % 10_000) / 100.0).collect();
        let spread = Spread::of(&[Numbers::Double(&values)], 1.0).unwrap();
        let mut sorted = values.clone();
        sorted.sort_by(f64::total_cmp);
        for share in [0.0, 0.01, 0.25, 0.5, 0.9, 1.0] {
            let index = ((share * 10_000.0) as usize).min(9_999);
            // one bin (0.025) and one value's step (0.01)
            assert!((spread.quantile(share) - sorted[index]).abs() <= 0.035, "{share}");
        }
    }

    #[test]
    fn closed_deviations_are_counted_without_their_sign_each_by_its_own_factor() {
        let (one, other) = ([90.0, 104.0, 100.0], [5.0, 4.0]);
        let one = distances(&[&one[..2], &one[2..]], 1.0, 100.0);
        let other = distances(&[&other[..]], 20.0, 100.0);
        let spread = Spread::of_distances(&[one, other]).unwrap();
        assert_eq!((spread.lo, spread.total), (0.0, 5));
        assert!((spread.lo + spread.width * BINS as f64 - 20.0).abs() < 1e-9);
        assert!((spread.quantile(0.8) - 10.0).abs() < 0.01, "{}", spread.quantile(0.8));
    }

    #[test]
    fn closed_no_number_no_spread() {
        assert!(Spread::of(&[Numbers::Double(&[f64::NAN])], 1.0).is_none());
        let even = Spread::of(&[Numbers::Double(&[3.0, 3.0])], 1.0).unwrap();
        assert!((even.quantile(0.5) - 3.0).abs() < 1e-12);
    }
}
