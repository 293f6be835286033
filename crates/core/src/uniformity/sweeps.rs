//! The two sweeps over the cells that figures need: one for mean, range and a sample, one for
//! deviations from the mean and the cells about the quartile.
//!
//! Each cell is read once a sweep and everything about it is added up at once, in fixed
//! lanes, row by row: as many lanes hide how long an addition takes, and the same bits come out
//! whatever the vectors' width. Compiled for wider vectors too and run so where the processor has them.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use pulp::{Arch, Simd, WithSimd};

/// Lanes in which cells are added up.
const LANES: usize = 16;

/// Cells that are looked at together for any in the bracket; a power of two.
const BLOCK: usize = 16;

/// Sum, range and a sample of all cells.
pub(super) struct Range {
    pub(super) total: f64,
    pub(super) lowest: f64,
    pub(super) highest: f64,
    /// Every so many-th cell.
    pub(super) sample: Vec<f64>,
}

impl Range {
    /// That of `rows`, with every `stride`-th cell in the sample.
    pub(super) fn of(rows: &[&[f64]], stride: usize) -> Self {
        Arch::new().dispatch(RangeOf { rows, stride })
    }
}

/// Deviations from the mean, and the cells at and under the quartile's bracket.
pub(super) struct Spread {
    pub(super) absolute: f64,
    pub(super) square: f64,
    /// Cells under three quarters of the mean.
    pub(super) under_75: f64,
    /// Cells over five quarters of the mean.
    pub(super) over_125: f64,
    pub(super) below_bracket_sum: f64,
    pub(super) below_bracket_cells: f64,
    /// The cells inside the bracket, as they lie.
    pub(super) in_bracket: Vec<f64>,
}

impl Spread {
    /// That of `rows` about `mean`; the quartile is looked for between the two depths of `bracket`.
    pub(super) fn of(rows: &[&[f64]], mean: f64, bracket: (f64, f64)) -> Self {
        Arch::new().dispatch(SpreadOf { rows, mean, bracket })
    }
}

struct RangeOf<'a> {
    rows: &'a [&'a [f64]],
    stride: usize,
}

impl WithSimd for RangeOf<'_> {
    type Output = Range;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Range {
        let cells: usize = self.rows.iter().map(|row| row.len()).sum();
        let sample = Vec::with_capacity(cells / self.stride + 1);
        let (mut total, mut lowest, mut highest) = (0.0, f64::INFINITY, f64::NEG_INFINITY);
        let mut all = Range { total, lowest, highest, sample };
        let mut skip = 0;
        for row in self.rows {
            let (blocks, rest) = row.as_chunks::<LANES>();
            let mut sums = [simd.splat_f64s(0.0); LANES];
            let mut lows = [simd.splat_f64s(lowest); LANES];
            let mut highs = [simd.splat_f64s(highest); LANES];
            for block in blocks {
                for (lane, x) in vectors::<S, _>(block).iter().enumerate() {
                    sums[lane] = simd.add_f64s(sums[lane], *x);
                    lows[lane] = simd.min_f64s(lows[lane], *x);
                    highs[lane] = simd.max_f64s(highs[lane], *x);
                }
            }
            total += rest.iter().fold(folded::<S, _>(&sums, |a, b| a + b), |sum, x| sum + x);
            lowest = rest.iter().fold(folded::<S, _>(&lows, f64::min), |low, x| low.min(*x));
            highest = rest.iter().fold(folded::<S, _>(&highs, f64::max), |high, x| high.max(*x));
            // While the row is close by.
            let sampled = row.iter().skip(skip).step_by(self.stride);
            skip += sampled.len() * self.stride;
            skip -= row.len();
            all.sample.extend(sampled);
        }
        Range { total, lowest, highest, ..all }
    }
}

struct SpreadOf<'a> {
    rows: &'a [&'a [f64]],
    mean: f64,
    bracket: (f64, f64),
}

impl WithSimd for SpreadOf<'_> {
    type Output = Spread;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Spread {
        let Self { rows, mean, bracket: (low, high) } = self;
        let mut totals = [0.0; 6];
        let mut in_bracket = Picked::default();
        for row in rows {
            // One after the other, for the sake of the registers: the row stays close by.
            add_up(simd, row, &Away { mean }, &mut totals[..2]);
            add_up(simd, row, &Shares { mean }, &mut totals[2..4]);
            add_up(simd, row, &Below { low }, &mut totals[4..]);
            in_bracket.take(simd, row, (low, high));
        }
        let [absolute, square, under_75, over_125, below_bracket_sum, below_bracket_cells] = totals;
        Spread {
            absolute,
            square,
            under_75,
            over_125,
            below_bracket_sum,
            below_bracket_cells,
            in_bracket: in_bracket.into_cells(),
        }
    }
}

/// Cells picked out.
#[derive(Default)]
struct Picked {
    cells: Vec<f64>,
    /// How many of them are picked; what stands behind is room.
    count: usize,
}

impl Picked {
    /// Picks the cells of a row from `low` to `high`. Few blocks hold any; in those, every cell is
    /// written and the place moves on where it counts, because a branch a cell would guess wrong.
    #[inline(always)]
    fn take<S: Simd>(&mut self, simd: S, row: &[f64], (low, high): (f64, f64)) {
        let (blocks, rest) = row.as_chunks::<BLOCK>();
        let (lows, highs) = (simd.splat_f64s(low), simd.splat_f64s(high));
        for block in blocks {
            // The product of the distances from both ends: not over 0 for a cell between them.
            let mut least = simd.splat_f64s(1.0);
            for x in vectors::<S, _>(block) {
                let (over, under) = (simd.sub_f64s(*x, lows), simd.sub_f64s(*x, highs));
                least = simd.min_f64s(least, simd.mul_f64s(over, under));
            }
            if simd.reduce_min_f64s(least) <= 0.0 {
                self.pick(block, (low, high));
            }
        }
        let mut last = [f64::NAN; BLOCK];
        last[..rest.len()].copy_from_slice(rest);
        self.pick(&last, (low, high));
    }

    #[inline(always)]
    fn pick(&mut self, block: &[f64; BLOCK], (low, high): (f64, f64)) {
        if self.cells.len() < self.count + BLOCK {
            self.cells.resize(2 * self.count + 64 * BLOCK, 0.0);
        }
        let Some(room) = self.cells[self.count..].first_chunk_mut::<BLOCK>() else { return };
        let mut at = 0;
        for x in block {
            room[at % BLOCK] = *x;
            at += usize::from(*x >= low && *x <= high);
        }
        self.count += at;
    }

    fn into_cells(mut self) -> Vec<f64> {
        self.cells.truncate(self.count);
        self.cells
    }
}

/// Two numbers of a cell that are added up.
trait Pair {
    /// Of vectors of cells.
    fn of<S: Simd>(&self, simd: S, x: S::f64s) -> [S::f64s; 2];

    /// A depth of which both are 0.
    fn nothing(&self) -> f64;
}

/// The deviation from the mean, and its square.
struct Away {
    mean: f64,
}

impl Pair for Away {
    #[inline(always)]
    fn of<S: Simd>(&self, simd: S, x: S::f64s) -> [S::f64s; 2] {
        let away = simd.abs_f64s(simd.sub_f64s(x, simd.splat_f64s(self.mean)));
        [away, simd.mul_f64s(away, away)]
    }

    fn nothing(&self) -> f64 {
        self.mean
    }
}

/// Whether it is under three quarters of the mean, and over five quarters.
struct Shares {
    mean: f64,
}

impl Pair for Shares {
    #[inline(always)]
    fn of<S: Simd>(&self, simd: S, x: S::f64s) -> [S::f64s; 2] {
        let (one, zero) = (simd.splat_f64s(1.0), simd.splat_f64s(0.0));
        let is_under = simd.less_than_f64s(x, simd.splat_f64s(0.75 * self.mean));
        let is_over = simd.greater_than_f64s(x, simd.splat_f64s(1.25 * self.mean));
        [simd.select_f64s(is_under, one, zero), simd.select_f64s(is_over, one, zero)]
    }

    fn nothing(&self) -> f64 {
        self.mean
    }
}

/// The depth where it lies under the bracket, and whether it does.
struct Below {
    low: f64,
}

impl Pair for Below {
    #[inline(always)]
    fn of<S: Simd>(&self, simd: S, x: S::f64s) -> [S::f64s; 2] {
        let (one, zero) = (simd.splat_f64s(1.0), simd.splat_f64s(0.0));
        let is_below = simd.less_than_f64s(x, simd.splat_f64s(self.low));
        [simd.select_f64s(is_below, x, zero), simd.select_f64s(is_below, one, zero)]
    }

    fn nothing(&self) -> f64 {
        f64::INFINITY
    }
}

/// Adds the numbers of each cell of a row to `totals`.
#[inline(always)]
fn add_up<S: Simd>(simd: S, row: &[f64], pair: &impl Pair, totals: &mut [f64]) {
    let (blocks, rest) = row.as_chunks::<LANES>();
    let mut sums = [[simd.splat_f64s(0.0); LANES]; 2];
    for block in blocks {
        add_block(simd, block, pair, &mut sums);
    }
    let mut last = [pair.nothing(); LANES];
    last[..rest.len()].copy_from_slice(rest);
    add_block(simd, &last, pair, &mut sums);
    for (total, sums) in totals.iter_mut().zip(&sums) {
        *total += folded::<S, _>(sums, |a, b| a + b);
    }
}

#[inline(always)]
fn add_block<S: Simd>(
    simd: S,
    block: &[f64; LANES],
    pair: &impl Pair,
    sums: &mut [[S::f64s; LANES]; 2],
) {
    for (lane, x) in vectors::<S, _>(block).iter().enumerate() {
        let [one, other] = pair.of(simd, *x);
        sums[0][lane] = simd.add_f64s(sums[0][lane], one);
        sums[1][lane] = simd.add_f64s(sums[1][lane], other);
    }
}

/// A block as vectors.
#[inline(always)]
fn vectors<S: Simd, const LANES: usize>(block: &[f64; LANES]) -> &[S::f64s] {
    let (vectors, _) = S::as_simd_f64s(block);
    &vectors[..LANES / S::F64_LANES]
}

/// The lanes in the vectors of a block joined pairwise in a fixed order.
#[inline(always)]
fn folded<S: Simd, const LANES: usize>(
    vectors: &[S::f64s; LANES],
    join: impl Fn(f64, f64) -> f64,
) -> f64 {
    let mut lanes = [0.0; LANES];
    let (all, _) = S::as_mut_simd_f64s(&mut lanes);
    let used = LANES / S::F64_LANES;
    all.copy_from_slice(&vectors[..used]);
    let mut half = LANES / 2;
    while half > 0 {
        for lane in 0..half {
            lanes[lane] = join(lanes[lane], lanes[lane + half]);
        }
        half /= 2;
    }
    lanes[0]
}
