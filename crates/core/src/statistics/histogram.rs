//! How very many numbers are spread: how many lie in each of some equal steps from the lowest to the highest.
//!
//! Counts are whole, and the ends are numbers that are there, so that no order of parts or threads changes a
//! bit. What is no finite number is left out.

use rayon::prelude::*;

/// Numbers that are looked at together.
const LANES: usize = 16;

/// A run of numbers, single or double.
#[derive(Clone, Copy, Debug)]
pub enum Numbers<'a> {
    /// 32 bits each.
    Single(&'a [f32]),
    /// 64 bits each.
    Double(&'a [f64]),
}

/// Counts of numbers in equal steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Histogram {
    /// The lowest number.
    pub lowest: f64,
    /// Width of a step; 0 where all numbers are the same, which then lie in the first.
    pub width: f64,
    /// Numbers in each step; the highest lies in the last.
    pub counts: Vec<u64>,
}

impl Histogram {
    /// That of all numbers of `parts`, each times `factor`, in so many steps; `None` without any, or if
    /// `factor` is no number over 0.
    pub fn of(parts: &[Numbers<'_>], factor: f64, steps: usize) -> Option<Self> {
        let none = || (f64::INFINITY, f64::NEG_INFINITY);
        let widest = |one: (f64, f64), other: (f64, f64)| (one.0.min(other.0), one.1.max(other.1));
        let (low, high) = parts.par_iter().map(Numbers::ends).reduce(none, widest);
        if low > high || !(factor > 0.0 && factor.is_finite()) {
            return None;
        }
        // A factor keeps the order of numbers, so the ends of the products are the products of the ends.
        let lowest = low * factor;
        let width = (high * factor - lowest) / steps as f64;
        let empty = || vec![0; steps];
        let count = |mut counts: Vec<u64>, part: &Numbers<'_>| {
            part.count((factor, lowest, width), &mut counts);
            counts
        };
        let add = |mut all: Vec<u64>, some: Vec<u64>| {
            all.iter_mut().zip(some).for_each(|(all, some)| *all += some);
            all
        };
        let counts = parts.par_iter().fold(empty, count).reduce(empty, add);
        Some(Self { lowest, width, counts })
    }
}

impl Numbers<'_> {
    fn ends(&self) -> (f64, f64) {
        match self {
            Self::Single(numbers) => ends(numbers),
            Self::Double(numbers) => ends(numbers),
        }
    }

    fn count(&self, by: (f64, f64, f64), counts: &mut [u64]) {
        match self {
            Self::Single(numbers) => count(numbers, by, counts),
            Self::Double(numbers) => count(numbers, by, counts),
        }
    }
}

/// How far the numbers of all runs, each times `factor`, lie from `center`.
pub fn distances(runs: &[&[f64]], factor: f64, center: f64) -> Vec<f32> {
    let mut far = Vec::with_capacity(runs.iter().map(|run| run.len()).sum());
    for run in runs {
        far.extend(run.iter().map(|number| (number * factor - center).abs() as f32));
    }
    far
}

/// The lowest and the highest finite number, looked for in lanes.
fn ends<N: Copy + Into<f64>>(numbers: &[N]) -> (f64, f64) {
    let (blocks, rest) = numbers.as_chunks::<LANES>();
    let (mut lows, mut highs) = ([f64::INFINITY; LANES], [f64::NEG_INFINITY; LANES]);
    let mut look = |lane: usize, number: f64| {
        let is_finite = number.abs() < f64::INFINITY;
        lows[lane] = if is_finite && number < lows[lane] { number } else { lows[lane] };
        highs[lane] = if is_finite && number > highs[lane] { number } else { highs[lane] };
    };
    for block in blocks {
        block.iter().enumerate().for_each(|(lane, number)| look(lane, (*number).into()));
    }
    rest.iter().enumerate().for_each(|(lane, number)| look(lane, (*number).into()));
    (
        lows.into_iter().fold(f64::INFINITY, f64::min),
        highs.into_iter().fold(f64::NEG_INFINITY, f64::max),
    )
}

/// Counts each number times `factor`, from `lowest` on.
fn count<N: Copy + Into<f64>>(
    numbers: &[N],
    (factor, lowest, width): (f64, f64, f64),
    counts: &mut [u64],
) {
    let last = counts.len() - 1;
    for number in numbers {
        let number = (*number).into() * factor;
        if number.is_finite() {
            let step = if width > 0.0 { ((number - lowest) / width) as usize } else { 0 };
            counts[step.min(last)] += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_what_is_no_number_is_left_out_and_the_highest_lies_in_the_last_step() {
        let single = [1.0_f32, f32::NAN, 2.0, 5.0];
        let double = [3.0, 4.9, f64::INFINITY, 1.5];
        let parts = [Numbers::Single(&single), Numbers::Double(&double)];
        let found = Histogram::of(&parts, 2.0, 4).unwrap();
        assert_eq!(found, Histogram { lowest: 2.0, width: 2.0, counts: vec![2, 1, 1, 2] });
        assert_eq!(Histogram::of(&[Numbers::Double(&[f64::NAN])], 1.0, 4), None);
        for factor in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(Histogram::of(&parts, factor, 4), None);
        }
        let same = Histogram::of(&[Numbers::Double(&[3.0; 40])], 1.0, 4).unwrap();
        assert_eq!(same, Histogram { lowest: 3.0, width: 0.0, counts: vec![40, 0, 0, 0] });
    }

    #[test]
    fn closed_distances_are_of_the_products_and_have_no_sign() {
        assert_eq!(distances(&[&[2.0, 5.0], &[3.0]], 25.0, 75.0), [25.0, 50.0, 0.0]);
    }

    #[test]
    fn reference_parts_and_threads_change_no_count() {
        let numbers: Vec<f64> = (0..9973).map(|i| f64::from(i * 7919 % 9973).sqrt()).collect();
        let whole = Histogram::of(&[Numbers::Double(&numbers)], 0.3, 100).unwrap();
        let parts: Vec<_> = numbers.chunks(37).map(Numbers::Double).collect();
        assert_eq!(Histogram::of(&parts, 0.3, 100).unwrap(), whole);
        let plain = numbers.iter().filter(|x| (0.3 * *x - whole.lowest) / whole.width < 1.0);
        assert_eq!(whole.counts[0], plain.count() as u64);
    }
}
