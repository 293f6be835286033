//! What judges the figures of uniformity.

use super::*;
use ndarray::{Array2, Axis, Slice};
use proptest::prelude::*;

fn of(values: &[f64]) -> Uniformity {
    let grid = Array2::from_shape_vec((1, values.len()), values.to_vec()).unwrap();
    figures(&grid.view()).unwrap()
}

/// Sorts, sums, divides: slow and obviously right.
fn plain(values: &[f64]) -> (f64, f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let cu = 1.0 - values.iter().map(|x| (x - mean).abs()).sum::<f64>() / n / mean;
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let (mut left, mut low) = (n / 4.0, 0.0);
    for x in sorted {
        let share = left.min(1.0);
        low += share * x;
        left -= share;
    }
    let square = values.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / n;
    (cu, low / (n / 4.0) / mean, square.sqrt() / mean)
}

#[test]
fn closed_ten_readings_with_a_broken_quarter() {
    // Worked by hand: (2 + 3 + 0.5·4) / 2.5 = 2.8 of a mean of 6.0.
    let found = of(&[2.0, 3.0, 4.0, 5.0, 6.0, 6.0, 7.0, 8.0, 9.0, 10.0]);
    assert!((found.du_lq - 0.46667).abs() < 5e-6, "{found:?}");
    assert!((found.cu - 0.66667).abs() < 5e-6, "{found:?}");
    assert_eq!((found.lowest_depth_mm, found.highest_depth_mm), (2.0, 10.0));
    // Under 4.5: 2, 3, 4; over 7.5: 8, 9, 10.
    assert!(
        (found.share_under_75 - 0.3).abs() < 1e-12 && (found.share_over_125 - 0.3).abs() < 1e-12
    );
}

#[test]
fn published_four_readings_of_the_nmsu_notes() {
    // NMSU Soils 456 notes, ch. 5, Q5.6 and Q5.10: mean 0.95; CU and DU derived from its formula.
    let found = of(&[1.0, 0.9, 0.7, 1.2]);
    assert!((found.mean_depth_mm - 0.95).abs() < 5e-3);
    assert!((found.cu - 0.84211).abs() < 5e-6 && (found.du_lq - 0.73684).abs() < 5e-6);
}

#[test]
fn closed_even_depth_is_perfect_and_dry_ground_has_no_figures() {
    let found = of(&[5.0; 37]);
    assert_eq!((found.cu, found.cv), (1.0, 0.0));
    assert!((found.du_lq - 1.0).abs() < 1e-15);
    assert!(figures(&Array2::zeros((3, 3)).view()).is_none());
    assert!(figures(&Array2::zeros((0, 3)).view()).is_none());
}

#[test]
fn reference_a_bracket_that_misses_still_gives_the_exact_quarter() {
    // Mostly one value, so the sampled bracket is a single depth and the quartile sits on ties.
    let mut values = vec![1.0; 50_000];
    for (i, value) in values.iter_mut().enumerate() {
        if i % 97 == 0 {
            *value = 0.5 + i as f64 * 1e-6;
        }
    }
    let (cu, du, cv) = plain(&values);
    let found = of(&values);
    assert!((found.cu - cu).abs() < 1e-12 && (found.du_lq - du).abs() < 1e-12);
    assert!((found.cv - cv).abs() < 1e-12);
}

#[test]
fn reference_a_window_counts_only_its_own_cells() {
    let grid = Array2::from_shape_fn((40, 50), |(r, c)| 1.0 + ((r * 31 + c * 17) % 23) as f64);
    let window = grid.slice_axis(Axis(0), Slice::from(5..33));
    let window = window.slice_axis(Axis(1), Slice::from(7..44));
    let values: Vec<f64> = window.iter().copied().collect();
    let (cu, du, cv) = plain(&values);
    let found = figures(&window).unwrap();
    assert_eq!(found.cells, 28 * 37);
    assert!((found.cu - cu).abs() < 1e-12 && (found.du_lq - du).abs() < 1e-12);
    assert!((found.cv - cv).abs() < 1e-12);
    let turned = figures(&window.reversed_axes()).unwrap();
    assert!((turned.du_lq - du).abs() < 1e-12, "columns as rows must not matter");
}

proptest! {
    #[test]
    fn reference_fast_figures_equal_sorting(
        values in prop::collection::vec(0.0f64..100.0, 1..3000), repeat in 1usize..12
    ) {
        let many: Vec<f64> = values.iter().cycle().take(values.len() * repeat).copied().collect();
        prop_assume!(many.iter().sum::<f64>() > 0.0);
        let (cu, du, cv) = plain(&many);
        let found = of(&many);
        prop_assert!((found.cu - cu).abs() < 1e-10);
        prop_assert!((found.du_lq - du).abs() < 1e-10);
        prop_assert!((found.cv - cv).abs() < 1e-10);
    }

    #[test]
    fn invariant_scaling_changes_no_ratio(
        values in prop::collection::vec(0.1f64..100.0, 4..400), factor in 0.01f64..100.0
    ) {
        let scaled: Vec<f64> = values.iter().map(|x| x * factor).collect();
        let (a, b) = (of(&values), of(&scaled));
        prop_assert!((a.cu - b.cu).abs() < 1e-12 && (a.du_lq - b.du_lq).abs() < 1e-12);
        prop_assert!((a.cv - b.cv).abs() < 1e-12);
    }
}
