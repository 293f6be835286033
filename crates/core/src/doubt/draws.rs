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
//!
//! Where catch tests have left points for the doubts about the sprinkler ([`crate::calibration`]), these
//! doubts are drawn from the points, all numbers of a point together: the place of the first of them in
//! the sequence picks the point. The rest is drawn from its triangles as ever.

use super::table::{DOUBTS, Doubt, Measure};
use super::tested::{TESTED, Tested};

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
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Ranges {
    /// Low end, value used and high end of every doubt.
    pub(crate) ends: [[f64; 3]; COUNT],
    /// What catch tests leave of those about the sprinkler.
    tested: Option<Tested>,
}

impl Ranges {
    /// Ranges around the values used; factors are around 1.
    pub(crate) fn around(used: [f64; COUNT]) -> Self {
        let mut ends = [[0.0; 3]; COUNT];
        for (end, (row, used)) in ends.iter_mut().zip(DOUBTS.iter().zip(used)) {
            let used = if row.measure == Measure::Factor { 1.0 } else { used };
            *end = [row.low.min(used), used, row.high.max(used)];
        }
        Self { ends, tested: None }
    }

    /// The same with the doubts about the sprinkler as tests leave them; their ends are the 5 and 95 %
    /// quantiles.
    pub(crate) fn with_tests(mut self, tested: Tested) -> Self {
        for (number, doubt) in TESTED.into_iter().enumerate() {
            self.ends[doubt as usize] = tested.ends(number);
        }
        self.tested = Some(tested);
        self
    }

    /// Mean and standard deviation of what a doubt is drawn from.
    pub(crate) fn spread(&self, doubt: Doubt) -> (f64, f64) {
        let number = TESTED.iter().position(|tested| *tested == doubt);
        if let (Some(tested), Some(number)) = (&self.tested, number) {
            return tested.spread(number);
        }
        let ends = self.ends[doubt as usize];
        (ends.iter().sum::<f64>() / 3.0, triangle_deviation(ends))
    }

    /// The values of season `season`; those of an odd one are those of the season before.
    pub(crate) fn drawn(&self, season: usize) -> Drawn {
        let draw = (season / 2) as u32 % LONGEST;
        let mut values = [0.0; COUNT];
        for (dimension, (value, ends)) in (0..).zip(values.iter_mut().zip(&self.ends)) {
            let place = sobol_burley::sample(draw, dimension, SEED);
            *value = triangle(*ends, f64::from(place));
        }
        if let Some(tested) = &self.tested {
            let place = sobol_burley::sample(draw, TESTED[0] as u32, SEED);
            let point = tested.at(f64::from(place));
            for (doubt, value) in TESTED.into_iter().zip(point) {
                values[doubt as usize] = value;
            }
        }
        Drawn(values)
    }
}

/// Value below which `share` of a triangle (low, mode, high) lies.
pub(crate) fn triangle([low, mode, high]: [f64; 3], share: f64) -> f64 {
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

/// Standard deviation of a triangle (low, mode, high).
pub(crate) fn triangle_deviation([low, mode, high]: [f64; 3]) -> f64 {
    let squares = low * low + mode * mode + high * high;
    ((squares - low * mode - low * high - mode * high) / 18.0).max(0.0).sqrt()
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
