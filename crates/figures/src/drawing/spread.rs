//! How values are spread over the area: a fine histogram, read as quantiles and shares.
//!
//! One pass over the cells instead of a sort; a quantile is exact to 1/4000 of the range, far
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
    /// Counts `values`; `None` if none of them is a number. The values are run through twice.
    pub(crate) fn of(values: impl Iterator<Item = f64> + Clone) -> Option<Self> {
        let finite = values.filter(|v| v.is_finite());
        let (lo, hi) = finite
            .clone()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)));
        if lo > hi {
            return None;
        }
        let width = (hi - lo) / BINS as f64;
        let mut counts = vec![0; BINS];
        // Not a loop of `next`: values come from iterators in iterators.
        finite.for_each(|value| {
            let bin = if width > 0.0 { ((value - lo) / width) as usize } else { 0 };
            counts[bin.min(BINS - 1)] += 1;
        });
        let total = counts.iter().sum();
        Some(Self { lo, width, counts, total })
    }

    /// Counts all numbers of `parts`, each times `factor`; `None` if there are none. Many of them take a
    /// fraction of the time that they take one by one.
    pub(crate) fn of_parts(parts: &[Numbers<'_>], factor: f64) -> Option<Self> {
        let Histogram { lowest, width, counts } = Histogram::of(parts, factor, BINS)?;
        let total = counts.iter().sum();
        Some(Self { lo: lowest, width, counts, total })
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

    #[test]
    fn reference_quantiles_agree_with_sorting() {
        let values: Vec<f64> = (0..10_000).map(|i| f64::from(i * 7919 % 10_000) / 100.0).collect();
        let spread = Spread::of(values.iter().copied()).unwrap();
        let mut sorted = values.clone();
        sorted.sort_by(f64::total_cmp);
        for share in [0.0, 0.01, 0.25, 0.5, 0.9, 1.0] {
            let index = ((share * 10_000.0) as usize).min(9_999);
            // one bin (0.025) and one value's step (0.01)
            assert!((spread.quantile(share) - sorted[index]).abs() <= 0.035, "{share}");
        }
    }

    #[test]
    fn reference_parts_are_spread_as_their_values_one_by_one() {
        let values: Vec<f64> = (0..10_000).map(|i| f64::from(i * 7919 % 10_000).sqrt()).collect();
        let single: Vec<f32> = values.iter().map(|value| *value as f32).collect();
        let parts = [Numbers::Double(&values[..4000]), Numbers::Single(&single[4000..])];
        let of_parts = Spread::of_parts(&parts, 0.0394).unwrap();
        let own = values[..4000].iter().copied();
        let all = own.chain(single[4000..].iter().map(|value| f64::from(*value)));
        let one_by_one = Spread::of(all.map(|value| value * 0.0394)).unwrap();
        assert_eq!((of_parts.lo, of_parts.width), (one_by_one.lo, one_by_one.width));
        assert_eq!(of_parts.counts, one_by_one.counts);
    }

    #[test]
    fn closed_no_number_no_spread() {
        assert!(Spread::of([f64::NAN].into_iter()).is_none());
        let even = Spread::of([3.0, 3.0].into_iter()).unwrap();
        assert!((even.quantile(0.5) - 3.0).abs() < 1e-12);
    }
}
