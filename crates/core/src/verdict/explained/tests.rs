use super::*;
use crate::verdict::variances::FEWEST_PAIRS;
use rand::SeedableRng as _;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution as _, Normal};

fn ranges() -> Ranges {
    Ranges::around([0.3, 0.3, 0.05, 1.5, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0])
}

/// Standardized draw of one doubt in a season.
fn standard(ranges: &Ranges, season: usize, doubt: Doubt) -> f64 {
    let ends = ranges.ends[doubt as usize];
    let middle = ends.iter().sum::<f64>() / 3.0;
    (ranges.drawn(season).0[doubt as usize] - middle) / triangle_deviation(ends)
}

/// Made net returns: `slope` on K1, weather of deviation `noise`.
fn made(seasons: usize, slope: f64, noise: f64, seed: u64) -> Vec<f64> {
    let ranges = ranges();
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let weather = Normal::new(0.0, noise).unwrap();
    (0..seasons)
        .map(|season| {
            10.0 + slope * standard(&ranges, season, Doubt::DragK1) + weather.sample(&mut rng)
        })
        .collect()
}

fn question<'a>(nets: &'a [f64], ranges: &'a Ranges) -> Question<'a> {
    Question { nets, ranges, first_season: 0, swings: &[], worthwhile_gain: 0.0, level: 0.9 }
}

#[test]
fn closed_weather_and_doubts_are_told_apart() {
    // Mean of many made farms against the variances that they were made with.
    let (mut weather, mut doubts) = (0.0, 0.0);
    for seed in 0..100 {
        let found = variances(&made(50, 3.0, 2.0, seed)).unwrap();
        weather += found.weather / 100.0;
        doubts += found.doubts / 100.0;
    }
    assert!((weather - 4.0).abs() < 0.3, "{weather}");
    assert!((doubts - 9.0).abs() < 1.0, "{doubts}");
}

#[test]
fn closed_the_doubt_that_matters_has_the_share_and_the_slope() {
    let ranges = ranges();
    let nets = made(60, 5.0, 0.5, 1);
    let found = explain(&question(&nets, &ranges), &[]).unwrap();
    let first = found.parts[0];
    assert_eq!(first.cause, Cause::Doubt(Doubt::DragK1));
    assert!(first.share > 0.9, "{first:?}");
    let [low, used, high] = first.nets;
    let per_unit = 5.0 / triangle_deviation(ranges.ends[0]);
    assert!(((high - low) / per_unit - 1.0).abs() < 0.1 && low < used, "{first:?}");
    assert!((found.parts.iter().map(|part| part.share).sum::<f64>() - 1.0).abs() < 1e-12);
    // The mean of the draws is that of the triangle, not the value used.
    let middle = ranges.ends[0].iter().sum::<f64>() / 3.0;
    let mean = nets.iter().sum::<f64>() / nets.len() as f64;
    assert!((used - mean - per_unit * (0.3 - middle)).abs() < 0.2, "{used} {mean}");
    // More seasons would narrow next to nothing.
    assert!(found.seasons_alone.half_width() < 0.1 * found.interval.half_width());
}

#[test]
fn invariant_the_interval_holds_the_true_long_run_mean_as_often_as_it_says() {
    // Made farms: the true long-run mean is that of one draw of K1, which nobody knows.
    let ranges = ranges();
    let mut held = 0;
    for farm in 0..200_u64 {
        let nets = made(40, 4.0, 3.0, farm);
        let found = explain(&question(&nets, &ranges), &[]).unwrap();
        // A draw beside those of the run.
        let truth = 10.0 + 4.0 * standard(&ranges, 5000 + farm as usize, Doubt::DragK1);
        held += usize::from(found.interval.holds(truth));
    }
    // 90 % stated; two standard errors of 200 farms are 4 points.
    assert!((172..=194).contains(&held), "{held} of 200");
}

#[test]
fn invariant_without_doubts_it_is_the_seasons_interval() {
    let ranges = ranges();
    let mut held = 0;
    for farm in 0..200 {
        let found = explain(&question(&made(40, 0.0, 3.0, farm), &ranges), &[]).unwrap();
        held += usize::from(found.interval.holds(10.0));
        assert!(found.interval.half_width() >= 0.99 * found.seasons_alone.half_width());
    }
    assert!((172..=200).contains(&held), "{held} of 200");
}

#[test]
fn invariant_few_seasons_count_as_doubt_and_are_not_parted() {
    let (ranges, nets) = (ranges(), made(2 * FEWEST_PAIRS - 2, 0.0, 3.0, 1));
    let found = variances(&nets).unwrap();
    assert!(found.weather == 0.0 && found.doubts > 4.0, "{found:?}");
    let explained = explain(&question(&nets, &ranges), &[]).unwrap();
    assert_eq!(explained.parts[0].cause, Cause::Together);
    assert_eq!(variances(&[1.0]), None);
}
