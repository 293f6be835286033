use super::*;
use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, Normal};

type Rng = rand::rngs::ChaCha8Rng;

#[test]
fn published_course_example_of_four_cans() {
    // NMSU Soils 456, ch. 5 Q5.6 and Q5.10: depths 1, 0.9, 0.7, 1.2 in, mean printed 0.95; CU
    // 84.211 and DU 73.684 follow (derived, not printed).
    let depths: Vec<f64> = [1.0, 0.9, 0.7, 1.2].iter().map(|inch| inch * 25.4).collect();
    let found = limits(&depths, 0.9).unwrap();
    assert!((found.figures.mean_depth_mm / 25.4 - 0.95).abs() <= 0.005);
    assert!((100.0 * found.figures.cu - 84.211).abs() <= 0.0005);
    assert!((100.0 * found.figures.du_lq - 73.684).abs() <= 0.0005);
    assert_eq!((found.cu, found.du_lq), (None, None));
}

#[test]
fn closed_half_a_can_counts_in_the_low_quarter_of_ten() {
    // (2 + 3 + 0.5 · 4)/2.5 = 2.8 over 6.0.
    let found = limits(&[2.0, 3.0, 4.0, 5.0, 6.0, 6.0, 7.0, 8.0, 9.0, 10.0], 0.9).unwrap();
    assert!((found.figures.du_lq - 2.8 / 6.0).abs() < 1e-12);
    assert!((found.figures.cu - 2.0 / 3.0).abs() < 1e-12);
    assert!(found.cu.unwrap().holds(found.figures.cu));
    assert!(found.du_lq.unwrap().holds(found.figures.du_lq));
}

#[test]
fn closed_jackknife_error_of_a_mean_is_its_standard_error() {
    let depths = [1.0, 4.0, 2.0, 7.0, 6.0];
    let without: Vec<f64> = (0..5).map(|i| (20.0 - depths[i]) / 4.0).collect();
    // s² = (9 + 0 + 4 + 9 + 4)/4 = 6.5; the standard error is √(6.5/5).
    assert!((jackknife_error(&without) - (6.5_f64 / 5.0).sqrt()).abs() < 1e-12);
}

#[test]
fn invariant_scale_order_and_level() {
    let depths: Vec<f64> = (0..30).map(|i| 5.0 + f64::from(i * 7 % 13)).collect();
    let found = limits(&depths, 0.9).unwrap();
    let scaled: Vec<f64> = depths.iter().rev().map(|d| d * 25.4).collect();
    let again = limits(&scaled, 0.9).unwrap();
    let (a, b) = (found.du_lq.unwrap(), again.du_lq.unwrap());
    assert!((a.low - b.low).abs() < 1e-9 && (a.high - b.high).abs() < 1e-9);
    let wider = limits(&depths, 0.99).unwrap().du_lq.unwrap();
    assert!(wider.low < a.low && wider.high > a.high && wider.high < 1.0);
}

#[test]
fn invariant_too_few_or_dry_cans_are_refused() {
    assert!(limits(&[1.0, 2.0, 3.0], 0.9).is_err());
    assert!(limits(&[0.0; 12], 0.9).is_err());
    assert!(limits(&[1.0; 12], 1.5).is_err());
    assert_eq!(limits(&[2.0; 12], 0.9).unwrap().cu, None);
}

/// How often (of `tests`) the 90 % limits of CU and DUlq hold the figures of `field`, each test
/// being the depths that `cans` draws.
fn cover(field: &[f64], tests: usize, mut cans: impl FnMut(&mut Rng) -> Vec<f64>) -> (f64, f64) {
    let truth = of(field).unwrap();
    let mut rng = Rng::seed_from_u64(20);
    let (mut cu, mut du) = (0, 0);
    for _ in 0..tests {
        let found = limits(&cans(&mut rng), 0.9).unwrap();
        cu += usize::from(found.cu.unwrap().holds(truth.cu));
        du += usize::from(found.du_lq.unwrap().holds(truth.du_lq));
    }
    (cu as f64 / tests as f64, du as f64 / tests as f64)
}

/// One period of the overlap of cones of 90 ft diameter at 40 × 60 ft, on points of 1 ft; CU 84.6 %.
fn overlapped() -> Vec<f64> {
    let depth = |i: usize| {
        let (x, y) = ((i % 40) as f64 + 0.5, (i / 40) as f64 + 0.5);
        let mut sum = 0.0;
        for k in -2..=3 {
            for j in -1..=2 {
                let r = (x - 40.0 * f64::from(k)).hypot(y - 60.0 * f64::from(j));
                sum += (1.0 - r / 45.0).max(0.0);
            }
        }
        sum
    };
    (0..2400).map(depth).collect()
}

/// Depths with a tail of dry spots: 1 less the size of a normal number of deviation 0.35.
fn with_dry_tail() -> Vec<f64> {
    let mut rng = Rng::seed_from_u64(7);
    let normal = Normal::new(0.0_f64, 0.35).unwrap();
    (0..100_000).map(|_| 1.0 - normal.sample(&mut rng).abs().min(0.95)).collect()
}

/// Depths of a normal distribution, CU 80 %.
fn normal_depths() -> Vec<f64> {
    let mut rng = Rng::seed_from_u64(8);
    let normal = Normal::new(1.0_f64, 0.25).unwrap();
    (0..100_000).map(|_| normal.sample(&mut rng).max(0.0)).collect()
}

#[test]
fn reference_ninety_percent_limits_cover_at_their_rate_where_cans_stand_at_random() {
    // What 1000 tests show is within 1.9 points of the truth nineteen times in twenty. Known to be
    // wide over a smooth overlap, whose depths have no tails, and narrow over a tail of dry spots with
    // few cans: 84 % instead of 90 is the least that is taken. When written, CU and DUlq: overlap 93.5
    // and 96.8 (24 cans), 92.0 and 93.2 (48), 91.2 and 92.2 (96); normal 90.6 and 92.2, 90.7 and 90.9,
    // 89.2 and 89.8; dry tail 87.3 and 87.4, 88.9 and 89.0, 89.8 and 89.5.
    let fields =
        [("overlap", overlapped()), ("normal", normal_depths()), ("dry tail", with_dry_tail())];
    for (name, field) in &fields {
        for cans in [24, 48, 96] {
            let draw = |rng: &mut Rng| {
                (0..cans).map(|_| field[rng.random_range(0..field.len())]).collect::<Vec<f64>>()
            };
            let (cu, du) = cover(field, 1000, draw);
            let least = if cans == 24 { 0.84 } else { 0.87 };
            assert!((least..0.98).contains(&cu), "{name}, {cans} cans: CU {cu}");
            assert!((least..0.98).contains(&du), "{name}, {cans} cans: DUlq {du}");
        }
    }
}

#[test]
fn reference_an_even_grid_with_errors_of_reading_is_covered_at_least_as_often() {
    // 4 × 6 cans, 10 ft apart, laid down with a random offset, read with 3 % error. When written, every
    // one of the tests held both: over a smooth pattern an even grid errs far less than cans at random.
    let field = overlapped();
    let noise = Normal::new(1.0, 0.03).unwrap();
    let draw = |rng: &mut Rng| {
        let (x, y) = (rng.random_range(0..10usize), rng.random_range(0..10usize));
        let can = |i: usize| (x + 10 * (i % 4)) + 40 * (y + 10 * (i / 4));
        (0..24).map(|i| field[can(i)] * noise.sample(rng)).collect::<Vec<f64>>()
    };
    let (cu, du) = cover(&field, 1000, draw);
    assert!(cu >= 0.9 && du >= 0.9, "{cu} {du}");
}
