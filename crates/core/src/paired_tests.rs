//! What judges the paired differences.

use super::*;
use crate::ensemble::t_quantile;
use proptest::prelude::*;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

/// Hours of sleep gained with two drugs by ten patients (Cushny & Peebles 1905, used by Student
/// 1908, Biometrika 6:1–25, section IX; from memory, high).
const FIRST: [f64; 10] = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
const SECOND: [f64; 10] = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

#[test]
fn published_students_sleep_data() {
    // t = 4.0621 with 9 degrees of freedom, p = 0.002833, 95 % interval 0.7001 to 2.4599, mean
    // 1.58: the standard worked paired t-test on these data (from memory, high).
    let found = pair(&SECOND, &FIRST, 0.95).unwrap();
    assert!((found.figures.mean - 1.58).abs() < 1e-12);
    let t = found.figures.mean / found.figures.standard_error;
    assert!((t - 4.0621).abs() <= 5e-5);
    assert!((2.0 * t_cdf(9, -t) - 0.002833).abs() <= 5e-7);
    assert!((found.figures.interval.low - 0.7001142).abs() <= 5e-7);
    assert!((found.figures.interval.high - 2.4598858).abs() <= 5e-7);
    let Chance::Counted { gains, losses, ties, gain_share, .. } = found.chance else { panic!() };
    assert_eq!((gains, losses, ties, gain_share), (9, 0, 1, 0.9));
}

/// Half-width of an unpaired interval of the difference of means (Welch 1947, with Satterthwaite's
/// degrees of freedom rounded down) over that of the paired one.
fn gain_of_pairing(alternative: &[f64], baseline: &[f64], level: f64) -> f64 {
    let paired = pair(alternative, baseline, level).unwrap().figures.interval.half_width();
    let variance = |values: &[f64]| seasons_figures(values, level).unwrap().standard_error.powi(2);
    let (a, b) = (variance(alternative), variance(baseline));
    let freedom = (a + b).powi(2) * (alternative.len() - 1) as f64 / (a * a + b * b);
    t_quantile(freedom.floor() as usize, 0.5 + 0.5 * level) * (a + b).sqrt() / paired
}

#[test]
fn published_pairing_beats_not_pairing() {
    // The unpaired Welch interval of the same data: −0.2055 to 3.3655 with 17.776 degrees of
    // freedom (from memory, high). Degrees are rounded down to 17 here: 1 in 300 wider.
    let welch = 0.5 * (3.3654832 + 0.2054832);
    let paired = 0.5 * (2.4598858 - 0.7001142);
    let found = gain_of_pairing(&SECOND, &FIRST, 0.95);
    assert!(found >= welch / paired && found < 1.004 * welch / paired, "{found}");
}

#[test]
fn published_wilson_intervals() {
    // Newcombe 1998 (Statistics in Medicine 17:857–872), table I, method 3, 95 %; from memory, high.
    for (hits, trials, low, high) in [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ] {
        let found = wilson_interval(hits, trials, 0.95).unwrap();
        assert!((found.low - low).abs() <= 5e-5 && (found.high - high).abs() <= 5e-5, "{found:?}");
    }
    let all = wilson_interval(20, 20, 0.95).unwrap();
    assert!((all.low - (1.0 - 0.1611)).abs() <= 5e-5 && all.high == 1.0);
    assert!(wilson_interval(0, 0, 0.9).is_err() && wilson_interval(1, 2, 1.0).is_err());
}

#[test]
fn closed_a_rotation_against_itself_has_no_difference() {
    let values = [0.1, 7.3, -2.0, 1e9];
    let found = pair(&values, &values, 0.9).unwrap();
    assert_eq!(found.differences, [0.0; 4]);
    assert_eq!((found.figures.interval.low, found.figures.interval.high), (0.0, 0.0));
    assert_eq!(found.chance, Chance::NoDifference);
    assert!(found.is_no_difference());
    assert_eq!((found.figures.standard_error, found.chance_over(5, 0.0)), (0.0, None));
    assert_eq!((found.figures.mean, found.foreseen_deviation(5)), (0.0, 0.0));
}

#[test]
fn closed_round_off_is_a_tie_and_a_small_difference_is_not() {
    let baseline = [0.3, 0.7];
    let found = pair(&[0.1 + 0.2, 0.7], &baseline, 0.9).unwrap();
    assert!(0.1 + 0.2 != 0.3 && found.is_no_difference());
    let found = pair(&[0.3 + 1e-9, 0.7], &baseline, 0.9).unwrap();
    assert!(matches!(found.chance, Chance::Counted { gains: 1, losses: 0, ties: 1, .. }));
}

#[test]
fn closed_chance_over_coming_seasons() {
    // Differences 0 and 2: mean 1, s = √2, one degree of freedom (Cauchy): the mean of two more
    // seasons has deviation √2 √(1/2 + 1/2), so t = 1/√2 and the probability 1/2 + atan(1/√2)/π.
    let found = of_differences(vec![0.0, 2.0], 0.9).unwrap();
    let closed = 0.5 + (1.0 / 2f64.sqrt()).atan() / std::f64::consts::PI;
    assert!((found.chance_over(2, 0.0).unwrap() - closed).abs() < 1e-12);
    assert!((found.chance_over(2, 1.0).unwrap() - 0.5).abs() < 1e-12);
    assert!(found.chance_over(9, 0.0) > found.chance_over(1, 0.0), "luck averages out");
    let sure = of_differences(vec![3.0; 4], 0.9).unwrap();
    assert_eq!((sure.chance_over(1, 0.0), sure.chance_over(1, 3.0)), (Some(1.0), Some(0.0)));
    assert_eq!(sure.figures.standard_error, 0.0);
}

#[test]
fn closed_what_cannot_be_paired_is_refused() {
    assert_eq!(
        pair(&[1.0, 2.0], &[1.0], 0.9),
        Err(StatisticsError::Unpaired { alternative: 2, baseline: 1 })
    );
    assert!(pair(&[1.0], &[1.0], 0.9).is_err() && pair(&[], &[], 0.9).is_err());
    assert!(pair(&[1.0, f64::NAN], &[1.0, 2.0], 0.9).is_err());
    assert!(pair(&[1.0, 2.0], &[f64::INFINITY, 2.0], 0.9).is_err());
    assert!(pair(&[f64::MAX, 2.0], &[f64::MIN, 2.0], 0.9).is_err(), "the difference overflows");
    assert!(pair(&[1.0, 2.0], &[1.0, 3.0], 90.0).is_err());
}

/// Two alternatives with a common season of weight `common`, a gain of 0.5 and noise of their own.
fn correlated(seed: u64, seasons: usize, common: f64) -> (Vec<f64>, Vec<f64>) {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let mut normal = || -> f64 { StandardNormal.sample(&mut random) };
    let draw = |_| {
        let shared = common * normal();
        (0.5 + shared + normal(), shared + normal())
    };
    (0..seasons).map(draw).unzip()
}

#[test]
fn reference_common_seasons_narrow_the_interval_by_what_they_share() {
    // Variance of each 1 + c², of the difference 2: unpaired over paired is √(1 + c²) as n grows.
    for common in [0.0, 2.0, 5.0] {
        let (a, b) = correlated(7, 4000, common);
        let found = gain_of_pairing(&a, &b, 0.9);
        let expected = (1.0f64 + common * common).sqrt();
        assert!((found / expected - 1.0).abs() < 0.05, "{common}: {found} against {expected}");
    }
}

#[test]
fn reference_paired_interval_and_foreseen_interval_cover_at_their_rate() {
    // 20 000 ensembles of 12 seasons: standard error 0.0021, three of them allowed.
    let (mut held, mut foreseen) = (0, 0);
    for seed in 0..20_000 {
        let (a, b) = correlated(seed, 17, 5.0);
        let found = pair(&a[..12], &b[..12], 0.9).unwrap();
        held += u32::from(found.figures.interval.holds(0.5));
        let coming = (12..17).map(|i| a[i] - b[i]).sum::<f64>() / 5.0;
        let half_width = t_quantile(11, 0.95) * found.foreseen_deviation(5);
        foreseen += u32::from((coming - found.figures.mean).abs() <= half_width);
    }
    for count in [held, foreseen] {
        assert!((f64::from(count) / 20_000.0 - 0.9).abs() < 0.0064, "{held} {foreseen}");
    }
}

proptest! {
    #[test]
    fn invariant_swapping_the_two_turns_the_sign(
        pairs in prop::collection::vec((-9i32..9, -9i32..9), 2..30)
    ) {
        let (a, b): (Vec<f64>, Vec<f64>) =
            pairs.iter().map(|(a, b)| (f64::from(*a), f64::from(*b))).unzip();
        let (ab, ba) = (pair(&a, &b, 0.9).unwrap(), pair(&b, &a, 0.9).unwrap());
        prop_assert!((ab.figures.mean + ba.figures.mean).abs() < 1e-12);
        prop_assert!((ab.figures.interval.low + ba.figures.interval.high).abs() < 1e-9);
        match (ab.chance, ba.chance) {
            (Chance::NoDifference, Chance::NoDifference) => prop_assert!(a == b),
            (
                Chance::Counted { gains, losses, ties, gain_share, interval },
                Chance::Counted { gains: back, losses: forth, ties: level_ties, .. },
            ) => {
                prop_assert_eq!((gains, losses, ties), (forth, back, level_ties));
                prop_assert_eq!(gains + losses + ties, a.len());
                prop_assert!(interval.holds(gain_share));
                prop_assert!(interval.low >= 0.0 && interval.high <= 1.0);
            }
            _ => prop_assert!(false, "one has chance, the other not"),
        }
    }
}
