//! Grids as they are shown and handed over: in single precision, on larger cells, as bytes; and the hash of bytes.
//!
//! These are plain runs through every cell or byte. They stand here because this crate is optimized in full, while
//! those that show grids are not.

use crate::grid::{DepthGrid, Window, block_means};
use ndarray::{Array2, ArrayView2, ArrayViewMut2, Axis, Zip};
use std::ops::Range;

/// Means over blocks of `factor` × `factor` cells, row by row; see [`block_means`].
pub fn shrunk(grid: &DepthGrid, factor: usize) -> Vec<f32> {
    block_means(&grid.view(), factor).iter().map(|mean| *mean as f32).collect()
}

/// Means over those cells of each block that are `inside`, row by row; NaN where a block holds none.
pub fn shrunk_inside(grid: &DepthGrid, inside: &Array2<bool>, factor: usize) -> Vec<f32> {
    let (rows, columns) = (grid.nrows().div_ceil(factor), grid.ncols().div_ceil(factor));
    let mut sums = vec![(0.0_f64, 0_u32); rows * columns];
    for ((at, value), is_inside) in grid.indexed_iter().zip(inside) {
        if *is_inside {
            let shown = at.0 / factor * columns + at.1 / factor;
            sums[shown].0 += value;
            sums[shown].1 += 1;
        }
    }
    // 0 / 0 is NaN: no value.
    sums.into_iter().map(|(sum, count)| (sum / f64::from(count)) as f32).collect()
}

/// A window of a grid, NaN where it is not `inside`.
pub fn window_inside(grid: &DepthGrid, inside: &Array2<bool>, window: &Window) -> DepthGrid {
    let mut part = window.of(grid).to_owned();
    let (rows, columns) = (window.rows.clone(), window.columns.clone());
    let inside = inside.slice_axis(Axis(0), rows.into());
    no_number_outside(part.view_mut(), &inside.slice_axis(Axis(1), columns.into()));
    part
}

/// Makes NaN of what is not `inside`.
pub fn no_number_outside(grid: ArrayViewMut2<'_, f64>, inside: &ArrayView2<'_, bool>) {
    Zip::from(grid).and(inside).for_each(|value, is_inside| {
        if !is_inside {
            *value = f64::NAN;
        }
    });
}

/// The sum of grids of one shape, in 64 bits, so that many lose no digit that is shown.
pub fn sum(grids: &[Vec<f32>]) -> Vec<f32> {
    let mut sums = vec![0.0_f64; grids.first().map_or(0, Vec::len)];
    for grid in grids {
        sums.iter_mut().zip(grid).for_each(|(sum, depth)| *sum += f64::from(*depth));
    }
    sums.into_iter().map(|sum| sum as f32).collect()
}

/// How far each depth is from the mean, as a fraction of the mean.
pub fn deviations(depths_mm: &[f32], mean_mm: f32) -> Vec<f32> {
    depths_mm.iter().map(|depth| depth / mean_mm - 1.0).collect()
}

/// The rows from the first to the last one with a depth over 0; empty, from 0, where there is none.
pub fn wet_rows(depths_mm: &[f32], columns: usize) -> Range<usize> {
    let is_wet = |row: &[f32]| row.iter().any(|depth| *depth > 0.0);
    let rows = || depths_mm.chunks(columns.max(1));
    let first = rows().position(is_wet).unwrap_or(0);
    first..rows().rposition(is_wet).map_or(first, |last| last + 1)
}

/// The lowest and the highest number; `None` without any.
pub fn range(numbers: &[f64]) -> Option<(f64, f64)> {
    let ends = |(low, high): (f64, f64), number: &f64| (low.min(*number), high.max(*number));
    let (low, high) = numbers.iter().fold((f64::INFINITY, f64::NEG_INFINITY), ends);
    (low <= high).then_some((low, high))
}

/// Appends numbers as little-endian bytes.
pub fn append_doubles(numbers: &[f64], bytes: &mut Vec<u8>) {
    bytes.reserve(8 * numbers.len());
    for number in numbers {
        bytes.extend_from_slice(&number.to_le_bytes());
    }
}

/// Appends numbers as little-endian bytes.
pub fn append_singles(numbers: &[f32], bytes: &mut Vec<u8>) {
    bytes.reserve(4 * numbers.len());
    for number in numbers {
        bytes.extend_from_slice(&number.to_le_bytes());
    }
}

/// The hash of no bytes.
pub const EMPTY_HASH: u64 = 0xcbf2_9ce4_8422_2325;

/// The hash of what had `hash` with `bytes` after it (FNV-1a, 64 bits; Fowler, Noll and Vo).
pub fn hashed(hash: u64, bytes: &[u8]) -> u64 {
    bytes.iter().fold(hash, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_rows_are_wet_from_the_first_to_the_last() {
        assert_eq!(wet_rows(&[0.0, 0.0, 0.0, 2.0, 0.0, 0.0], 2), 1..2);
        assert_eq!(wet_rows(&[1.0, 0.0, 0.0, 0.0, 0.0, 3.0], 2), 0..3);
        assert_eq!(wet_rows(&[0.0; 4], 2), 0..0);
    }

    #[test]
    fn closed_sums_and_deviations_are_cell_by_cell() {
        let total = sum(&[vec![1.0, 2.0], vec![3.0, 6.0]]);
        assert_eq!(
            (total.as_slice(), deviations(&total, 4.0).as_slice()),
            (&[4.0, 8.0][..], &[0.0, 1.0][..])
        );
        assert_eq!(sum(&[]), [0.0; 0]);
    }

    #[test]
    fn closed_a_window_has_no_number_outside() {
        let grid = DepthGrid::from_shape_fn((3, 3), |(row, column)| (3 * row + column) as f64);
        let inside = Array2::from_shape_fn((3, 3), |at| at != (1, 2));
        let part = window_inside(&grid, &inside, &Window { rows: 1..3, columns: 1..3 });
        assert!(part[(0, 1)].is_nan());
        assert_eq!([part[(0, 0)], part[(1, 0)], part[(1, 1)]], [4.0, 7.0, 8.0]);
    }

    #[test]
    fn closed_bytes_are_read_back() {
        let mut bytes = Vec::new();
        append_doubles(&[-2.5, 1e9], &mut bytes);
        append_singles(&[0.5], &mut bytes);
        let (doubles, rest) = bytes.split_at(16);
        let doubles: Vec<f64> =
            doubles.as_chunks().0.iter().map(|chunk| f64::from_le_bytes(*chunk)).collect();
        assert_eq!((doubles, rest), (vec![-2.5, 1e9], &0.5_f32.to_le_bytes()[..]));
    }

    #[test]
    fn closed_the_range_is_of_numbers_only() {
        assert_eq!(range(&[2.0, f64::NAN, -1.0]), Some((-1.0, 2.0)));
        assert_eq!(range(&[f64::NAN]), None);
    }
}
