use super::*;
use rand::SeedableRng as _;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution as _, StandardNormal};

fn groups(count: usize, passes: usize) -> Groups {
    Groups { passes, count, cycles: 1 }
}

#[test]
fn closed_two_cycles_worked_by_hand() {
    // Mean depth 10; departures ±0.2 and ±0.1 of it, all alike: w = 0.04, 0.01 and 0.02 across.
    let depths = [vec![12.0, 8.0], vec![11.0, 9.0]];
    let found = split(&depths, &[1.0, 1.0], groups(2, 3)).unwrap();
    let factor = 2.0 / std::f64::consts::PI;
    assert!((found.systematic.square - factor * 0.02).abs() < 1e-15);
    assert!((found.random.square - factor * 3.0 * 0.005).abs() < 1e-15);
    assert_eq!((found.cycles, found.systematic.interval, found.random.interval), (2, None, None));
    // After all of them the law is the squared CV exactly: depths 23 and 17 of 20.
    assert!((found.unevenness(6.0).powi(2) - factor * 0.0225).abs() < 1e-15);
    assert!(split(&depths[..1], &[1.0, 1.0], groups(1, 3)).is_none());
    assert!(split(&[vec![0.0; 2], vec![0.0; 2]], &[1.0, 1.0], groups(2, 1)).is_none());
}

#[test]
fn closed_the_same_cycle_again_has_no_random_part_and_a_place_may_count_twice() {
    let once = [vec![12.0, 8.0, 8.0], vec![12.0, 8.0, 8.0], vec![12.0, 8.0, 8.0]];
    let twice = [vec![12.0, 8.0], vec![12.0, 8.0], vec![12.0, 8.0]];
    let found = split(&once, &[1.0; 3], groups(3, 1)).unwrap();
    assert!(found.random.square < 1e-30);
    assert!(found.systematic.interval.unwrap().half_width() < 1e-8);
    let folded = split(&twice, &[1.0, 2.0], groups(3, 1)).unwrap();
    assert!((folded.systematic.square - found.systematic.square).abs() < 1e-15);
}

#[test]
fn closed_the_miss_is_that_of_whole_cycles() {
    let part = |square: f64| UnevenPart { square, interval: None };
    let found = UnevennessSplit { systematic: part(0.01), random: part(0.06), cycles: 2 };
    // After 2 passes √(0.01 + 0.03) = 0.2, after 4 √0.025.
    let cu = [0.0, 0.8 - 0.003, 0.0, 1.0 - 0.025_f64.sqrt() + 0.001, 0.0];
    let miss = f64::midpoint(0.003_f64.powi(2), 0.001_f64.powi(2)).sqrt();
    assert!((found.miss(&cu, 2).unwrap() - miss).abs() < 1e-12);
    assert_eq!(found.miss(&cu, 6), None);
}

#[test]
fn closed_many_cycles_are_grouped() {
    assert_eq!(Groups::of(12, 3), Groups { passes: 3, count: 4, cycles: 1 });
    assert_eq!(Groups::of(13, 3).group(12), None);
    let many = Groups::of(365, 2);
    assert_eq!(many, Groups { passes: 16, count: 22, cycles: 8 });
    assert_eq!(
        (many.group(15), many.group(16), many.group(351), many.group(352)),
        (Some(0), Some(1), Some(21), None)
    );
}

/// Cycles at places: a systematic part and a random one, both smooth along the places so that
/// neighbors are alike, as in a field.
fn drawn(noise: &mut ChaCha8Rng, (systematic, random): (f64, f64), cycles: usize) -> Vec<Vec<f64>> {
    const PLACES: usize = 240;
    let smooth = |noise: &mut ChaCha8Rng| -> Vec<f64> {
        let rough: Vec<f64> = StandardNormal.sample_iter(noise).take(PLACES + 8).collect();
        rough.windows(9).map(|near| near.iter().sum::<f64>() / 3.0).collect()
    };
    // The systematic part is the same for all: a wave of mean square 1.
    let fixed = |at: usize| 2.0_f64.sqrt() * (0.3 * at as f64 + 0.1).sin();
    let cycle = |noise: &mut ChaCha8Rng| {
        let own = smooth(noise);
        let depth = |(at, x): (usize, &f64)| 50.0 * (1.0 + systematic * fixed(at) + random * x);
        own.iter().enumerate().map(depth).collect()
    };
    (0..cycles).map(|_| cycle(noise)).collect()
}

/// Shares of `trials` seasons whose intervals hold S and R, and the means of the squares over the truth.
fn covered(trials: u64, parts: (f64, f64), cycles: usize) -> ([f64; 2], [f64; 2]) {
    let mut noise = ChaCha8Rng::seed_from_u64(71);
    // The finite field's own systematic part and the smoothed noise, by long run.
    let long = split(&drawn(&mut noise, parts, 600), &[1.0; 240], groups(600, 1)).unwrap();
    let truth = [long.systematic.value(), long.random.value()];
    let (mut held, mut squares) = ([0.0; 2], [0.0; 2]);
    for _ in 0..trials {
        let found = split(&drawn(&mut noise, parts, cycles), &[1.0; 240], groups(cycles, 1));
        let found = found.unwrap();
        for (at, part) in [found.systematic, found.random].into_iter().enumerate() {
            held[at] += f64::from(u8::from(part.interval.unwrap().holds(truth[at])));
            squares[at] += part.square / truth[at].powi(2);
        }
        assert!(found.random.square > 0.0);
    }
    (held.map(|held| held / trials as f64), squares.map(|sum| sum / trials as f64))
}

#[test]
fn reference_intervals_hold_the_truth_at_about_their_rate() {
    for cycles in [4, 6, 12] {
        let (held, squares) = covered(300, (0.1, 0.15), cycles);
        // 300 draws of a rate of 0.9 lie within ±0.052 of it 997 times in 1000.
        for (held, square) in held.into_iter().zip(squares) {
            assert!((held - SPLIT_LEVEL).abs() < 0.052, "{cycles}: {held}");
            assert!((square - 1.0).abs() < 0.05, "{cycles}: {square}");
        }
    }
}
