//! The sweeps over the cells of a part of a folded field that its figures need.
//!
//! Compiled for wider vectors too and run so where the processor has them; sums are taken in fixed lanes, so
//! the same bits come out whatever the vectors' width.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use crate::statistics::{self, LANES};
use pulp::{Simd, WithSimd};

/// Sums of parts of each value, each as often as it counts.
pub(super) struct Summed<R, P> {
    /// Values side by side, and how often each of them counts.
    pub(super) rows: R,
    pub(super) parts: P,
}

impl<'a, R, P, const N: usize> WithSimd for Summed<R, P>
where
    R: Iterator<Item = (&'a [f64], f64)>,
    P: Fn(f64) -> [f64; N],
{
    type Output = [f64; N];

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> [f64; N] {
        let mut all = [0.0; N];
        for (row, weight) in self.rows {
            // In fixed lanes.
            let (blocks, rest) = row.as_chunks::<LANES>();
            let mut lanes = [[0.0; LANES]; N];
            for block in blocks {
                for lane in 0..LANES {
                    let parts = (self.parts)(block[lane]);
                    for part in 0..N {
                        lanes[part][lane] += parts[part];
                    }
                }
            }
            for part in 0..N {
                let sum = statistics::fold_lanes(lanes[part]);
                let rest = rest.iter().map(|x| (self.parts)(*x)[part]);
                all[part] += weight * rest.fold(sum, |sum, x| sum + x);
            }
        }
        all
    }
}

/// The values between two, each with how often it counts.
pub(super) struct Between<R> {
    pub(super) rows: R,
    pub(super) low: f64,
    pub(super) high: f64,
}

impl<'a, R: Iterator<Item = (&'a [f64], f64)>> WithSimd for Between<R> {
    type Output = Vec<(f64, f64)>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Vec<(f64, f64)> {
        let is_inside = |x: f64| x >= self.low && x <= self.high;
        let mut inside = Vec::new();
        for (row, weight) in self.rows {
            let (blocks, rest) = row.as_chunks::<LOOKED_AT>();
            let blocks = blocks.iter().map(<[f64; LOOKED_AT]>::as_slice);
            for block in blocks.chain(std::iter::once(rest)) {
                // Few hold any; all of them are looked at without a branch.
                if block.iter().fold(false, |any, x| any | is_inside(*x)) {
                    let here = block.iter().filter(|x| is_inside(**x));
                    inside.extend(here.map(|x| (*x, weight)));
                }
            }
        }
        inside
    }
}

/// Values that are looked at together for any in a bracket.
const LOOKED_AT: usize = 16;
