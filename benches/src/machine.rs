//! What the machine can do at best: its vectors, arithmetic in registers, traffic with memory.

use evenfall_core::grid::DepthGrid;
use pulp::{Arch, Simd, WithSimd};
use std::fs;
use std::hint::black_box;

/// Multiply-adds in a measurement of arithmetic, for each of the sums side by side.
const REPEATS: usize = 200_000;
/// Sums side by side: enough to hide how long one takes.
const SUMS: usize = 10;

/// Bits of a vector of the instructions that the program uses here.
pub fn vector_bits() -> usize {
    struct Lanes;
    impl WithSimd for Lanes {
        type Output = usize;

        fn with_simd<S: Simd>(self, _: S) -> usize {
            64 * S::F64_LANES
        }
    }
    Arch::new().dispatch(Lanes)
}

/// The widest vectors that the processor has, where the system tells it in a file.
pub fn widest_vectors() -> &'static str {
    let facts = fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let has = |name: &str| facts.split_whitespace().any(|word| word == name);
    match (has("avx512f"), has("avx2")) {
        (true, _) => "AVX-512",
        (false, true) => "AVX2",
        (false, false) => "neither AVX2 nor AVX-512 that is told",
    }
}

/// Multiply-adds of [`calculate`].
pub fn operations() -> f64 {
    (REPEATS * SUMS * vector_bits() / 64) as f64
}

/// Multiply-adds in registers, and nothing else.
pub fn calculate() -> f64 {
    Arch::new().dispatch(Calculate)
}

/// Multiply-adds in registers.
struct Calculate;

impl WithSimd for Calculate {
    type Output = f64;

    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> f64 {
        let (by, add) = (simd.splat_f64s(black_box(0.999)), simd.splat_f64s(black_box(1e-3)));
        let mut sums = [simd.splat_f64s(black_box(1.0)); SUMS];
        for _ in 0..REPEATS {
            for sum in &mut sums {
                *sum = simd.mul_add_f64s(*sum, by, add);
            }
        }
        sums.into_iter().map(|sum| simd.reduce_sum_f64s(sum)).sum()
    }
}

/// The traffic with memory that a pass cannot do without: its grid written, the season's added to.
pub fn touch(pass: &mut DepthGrid, cumulative: &mut DepthGrid) {
    let depth = black_box(1.0);
    ndarray::Zip::from(&mut *pass).and(&mut *cumulative).for_each(|pass, cumulative| {
        *pass = depth;
        *cumulative += depth;
    });
    black_box((pass, cumulative));
}
