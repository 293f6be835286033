//! What judges the figures of many seasons.

use super::*;
use proptest::prelude::*;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, Exp1, StandardNormal};

#[test]
fn published_student_table() {
    // Two-sided 90 % and 95 % points of Student's t, any handbook (from memory, high).
    for (freedom, at_90, at_95) in [
        (1, 6.314, 12.706),
        (2, 2.920, 4.303),
        (4, 2.132, 2.776),
        (9, 1.833, 2.262),
        (29, 1.699, 2.045),
        (120, 1.658, 1.980),
    ] {
        assert!((t_quantile(freedom, 0.95) - at_90).abs() <= 5e-4, "{freedom}");
        assert!((t_quantile(freedom, 0.975) - at_95).abs() <= 5e-4, "{freedom}");
    }
}

#[test]
fn reference_the_expansion_meets_the_quantiles_it_follows() {
    let expansion_at = EXPANSION_FROM;
    for probability in [0.5, 0.75, 0.95, 0.975, 0.995] {
        let before = t_quantile(expansion_at - 1, probability);
        let from = t_quantile(expansion_at, probability);
        let z = normal_quantile(probability);
        let step = (z.powi(3) + z) / 4.0 * (1.0 / 999.0 - 1.0 / 1000.0);
        assert!((before - from - step).abs() < 3e-8, "{probability}: {:e}", before - from - step);
    }
    for freedom in [1, 2, 7, 30, 200, 999, 1000, 20_000, 999_999] {
        for probability in [0.05, 0.5, 0.8, 0.95, 0.999] {
            let back = t_cdf(freedom, t_quantile(freedom, probability));
            assert!((back - probability).abs() < 1e-8, "{freedom}, {probability}: {back}");
        }
    }
}

#[test]
fn closed_two_degrees_of_freedom() {
    // Two degrees of freedom have a closed cdf: 1/2 + t / (2 √(2 + t²)).
    for t in [-3.0f64, -0.5, 0.0, 1.25, 20.0] {
        let closed = 0.5 + t / (2.0 * (2.0 + t * t).sqrt());
        assert!((t_cdf(2, t) - closed).abs() < 1e-12);
    }
}

#[test]
fn closed_five_seasons() {
    // 2, 4, 4, 5, 10: mean 5, squares 9 + 1 + 1 + 0 + 25 = 36, s = 3, se = 3/√5.
    let found = seasons_figures(&[4.0, 10.0, 2.0, 5.0, 4.0], 0.90).unwrap();
    assert!((found.mean - 5.0).abs() < 1e-12 && (found.standard_deviation - 3.0).abs() < 1e-12);
    assert!((found.standard_error - 1.341641).abs() < 5e-7);
    assert!((found.interval.half_width() - 2.131847 * 1.341641).abs() < 5e-6);
    // Type 7: place 0.4 between 2 and 4; place 3.6 between 5 and 10.
    assert!((found.worst_tenth - 2.8).abs() < 1e-12 && (found.best_tenth - 8.0).abs() < 1e-12);
    assert_eq!((found.median, found.seasons), (4.0, 5));
}

#[test]
fn closed_equal_seasons_have_no_spread_at_all() {
    for value in [0.0, 0.1, -7.3e9, 1e-300] {
        let found = seasons_figures(&[value; 7], 0.9).unwrap();
        assert_eq!((found.mean, found.standard_deviation), (value, 0.0));
        assert_eq!((found.interval.low, found.interval.high), (value, value));
        assert_eq!((found.worst_tenth, found.best_tenth), (value, value));
    }
}

#[test]
fn closed_what_cannot_be_computed_is_refused() {
    let few = |seasons| Err(StatisticsError::TooFewSeasons { seasons });
    assert_eq!(seasons_figures(&[], 0.9), few(0));
    assert_eq!(seasons_figures(&[1.0], 0.9), few(1));
    assert!(quantile(&[], 0.5).is_err());
    assert!(quantile(&[1.0, f64::NAN], 0.5).is_err());
    assert_eq!(quantile(&[3.0], 0.5), Ok(3.0));
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let found = seasons_figures(&[1.0, 2.0, bad], 0.9);
        assert!(matches!(found, Err(StatisticsError::NotFinite { season: 2, .. })));
    }
    // Finite, but their squares are not.
    assert!(seasons_figures(&[1e200, -1e200], 0.9).is_err());
    for level in [0.0, 1.0, 90.0, -0.1, f64::NAN] {
        assert!(seasons_figures(&[1.0, 2.0], level).is_err());
        assert!(quantile(&[1.0, 2.0], level).is_err());
    }
}

/// Share of `ensembles` whose interval of `seasons` draws holds `truth`.
fn coverage<D: Distribution<f64>>(draw: &D, truth: f64, seasons: usize, ensembles: u64) -> f64 {
    let held = (0..ensembles).filter(|seed| {
        let mut random = ChaCha8Rng::seed_from_u64(*seed);
        let values: Vec<f64> = (0..seasons).map(|_| draw.sample(&mut random)).collect();
        seasons_figures(&values, 0.90).unwrap().interval.holds(truth)
    });
    held.count() as f64 / ensembles as f64
}

#[test]
fn reference_the_90_percent_interval_covers_90_percent() {
    // 20 000 ensembles: standard error √(0.9 · 0.1 / 20 000) = 0.0021; three of them allowed.
    for seasons in [2, 5, 20] {
        let found = coverage(&StandardNormal, 0.0, seasons, 20_000);
        assert!((found - 0.90).abs() < 0.0064, "{seasons} seasons: {found}");
    }
}

#[test]
fn reference_skewed_seasons_are_covered_less_often() {
    // What the module's head says of 20 exponential draws: 87 in 100.
    let found = coverage(&Exp1, 1.0, 20, 20_000);
    assert!((found - 0.87).abs() < 0.01, "{found}");
}

proptest! {
    #[test]
    fn invariant_figures_move_and_stretch_with_their_numbers(
        values in prop::collection::vec(-1e3f64..1e3, 2..40),
        shift in -1e3f64..1e3, stretch in 0.1f64..10.0
    ) {
        let moved: Vec<f64> = values.iter().map(|x| shift + stretch * x).collect();
        let (a, b) = (seasons_figures(&values, 0.9).unwrap(), seasons_figures(&moved, 0.9).unwrap());
        let near = |x: f64, y: f64| (x - y).abs() < 1e-8;
        prop_assert!(near(b.mean, shift + stretch * a.mean));
        prop_assert!(near(b.standard_deviation, stretch * a.standard_deviation));
        prop_assert!(near(b.interval.low, shift + stretch * a.interval.low));
        prop_assert!(near(b.worst_tenth, shift + stretch * a.worst_tenth));
        prop_assert!(b.worst_tenth <= b.median && b.median <= b.best_tenth);
        prop_assert!(b.interval.holds(b.mean));
    }

    #[test]
    fn invariant_a_surer_interval_is_wider(values in prop::collection::vec(-1e3f64..1e3, 2..40)) {
        let narrow = seasons_figures(&values, 0.8).unwrap().interval.half_width();
        let wide = seasons_figures(&values, 0.95).unwrap().interval.half_width();
        prop_assert!(narrow <= wide);
    }
}
