//! One value of each doubt for every season: spread evenly and the same at every run.
//!
//! Two seasons after each other share a draw, so that weather and doubt can be told apart. Draw k is
//! point k of a Sobol sequence with hash-based Owen scrambling (Burley 2020, Journal of Computer
//! Graphics Techniques 9(4); the `sobol_burley` library). It covers the ranges more evenly than random
//! numbers, any first points of it, so a run may stop when it likes.
//!
//! A value is drawn from a triangle over its range with the value used as the mode (Johnson 1997, The
//! Statistician 46:387–398; from memory): as for prices, no more than low, used and high is known. A
//! value used that lies outside the table's range widens the range to hold it.

use super::table::{DOUBTS, Measure};

/// Number of doubts.
pub(crate) const COUNT: usize = DOUBTS.len();

/// Scrambling of the sequence: always the same, so that a run repeats to the digit.
const SEED: u32 = 0x0064_6f75;
/// Points of the sequence.
const LONGEST: u32 = 1 << 16;

/// A value of every doubt, in the order of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Drawn(pub(crate) [f64; COUNT]);

/// The ranges that are drawn from: the table's, around the values used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Ranges {
    /// Low end, value used and high end of every doubt.
    pub(crate) ends: [[f64; 3]; COUNT],
}

impl Ranges {
    /// Ranges around the values used; factors are around 1.
    pub(crate) fn around(used: [f64; COUNT]) -> Self {
        let mut ends = [[0.0; 3]; COUNT];
        for (end, (row, used)) in ends.iter_mut().zip(DOUBTS.iter().zip(used)) {
            let used = if row.measure == Measure::Factor { 1.0 } else { used };
            *end = [row.low.min(used), used, row.high.max(used)];
        }
        Self { ends }
    }

    /// The values of season `season`; those of an odd one are those of the season before.
    pub(crate) fn drawn(&self, season: usize) -> Drawn {
        let draw = (season / 2) as u32 % LONGEST;
        let mut values = [0.0; COUNT];
        for (dimension, (value, ends)) in (0..).zip(values.iter_mut().zip(&self.ends)) {
            let place = sobol_burley::sample(draw, dimension, SEED);
            *value = triangle(*ends, f64::from(place));
        }
        Drawn(values)
    }
}

/// Value below which `share` of a triangle (low, mode, high) lies.
pub(super) fn triangle([low, mode, high]: [f64; 3], share: f64) -> f64 {
    let width = high - low;
    if width <= 0.0 {
        return mode;
    }
    let below = (mode - low) / width;
    if share < below {
        low + (share * width * (mode - low)).sqrt()
    } else {
        high - ((1.0 - share) * width * (high - mode)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_a_triangle_has_its_quantiles() {
        assert!((triangle([0.0, 1.0, 1.0], 0.25) - 0.5).abs() < 1e-12);
        assert!((triangle([0.0, 0.0, 1.0], 0.75) - 0.5).abs() < 1e-12);
        assert!((triangle([-1.0, 0.0, 1.0], 0.5)).abs() < 1e-12);
        assert!((triangle([2.0, 2.0, 2.0], 0.3) - 2.0).abs() < 1e-12);
    }

    #[test]
    fn invariant_seasons_cover_every_range_evenly_and_together() {
        let ranges = Ranges::around([0.3, 0.3, 0.05, 1.5, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0]);
        let drawn: Vec<Drawn> = (0..64).map(|draw| ranges.drawn(2 * draw)).collect();
        for (at, ends) in ranges.ends.iter().enumerate() {
            let values: Vec<f64> = drawn.iter().map(|drawn| drawn.0[at]).collect();
            let mean = values.iter().sum::<f64>() / 64.0;
            let expected = ends.iter().sum::<f64>() / 3.0;
            // The mean of a triangle is that of its three corners.
            assert!((mean - expected).abs() < 0.03 * (ends[2] - ends[0]), "{at}: {mean}");
            assert!(values.iter().all(|value| (ends[0]..=ends[2]).contains(value)));
        }
        // No two doubts go together.
        let column = |at: usize| -> Vec<f64> {
            let values: Vec<f64> = drawn.iter().map(|drawn| drawn.0[at]).collect();
            let mean = values.iter().sum::<f64>() / values.len() as f64;
            values.iter().map(|value| value - mean).collect()
        };
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        for a in 0..COUNT {
            for b in 0..a {
                let (x, y) = (column(a), column(b));
                let together = dot(&x, &y) / (dot(&x, &x) * dot(&y, &y)).sqrt();
                assert!(together.abs() < 0.35, "{a}, {b}: {together}");
            }
        }
    }
}
