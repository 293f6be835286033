//! What judges the verdict, the sensitivity and the ranking.

use super::*;
use crate::doubt::draws::Ranges;
use crate::money::Price;
use crate::paired::of_differences;
use proptest::prelude::*;

/// The verdict where no doubts were drawn.
fn verdict(
    nets: &Paired,
    worthwhile_gain: f64,
    swings: &[Swing],
) -> Result<Verdict, StatisticsError> {
    super::verdict(nets, worthwhile_gain, swings, None)
}

fn input(price: Price, low: f64, base: f64, high: f64) -> Input {
    Input { price: price.into(), low, base, high, is_placeholder: false }
}

fn nets(values: &[f64]) -> Paired {
    of_differences(values.to_vec(), LEVEL).unwrap()
}

#[test]
fn closed_the_rule_by_hand() {
    // Mean 10, s = √2, n = 2, t(1) = 6.314: 10 ± 6.314. Moved up and down by the threshold.
    let around = |mean: f64| nets(&[mean - 1.0, mean + 1.0]);
    let told = |mean: f64, worth: f64| {
        let found = verdict(&around(mean), worth, &[]).unwrap();
        (found.answer, found.reason)
    };
    assert_eq!(told(10.0, 0.0), (Answer::Pays, Reason::Gain));
    assert_eq!(told(10.0, 3.6), (Answer::Pays, Reason::Gain));
    assert_eq!(told(10.0, 3.7), (Answer::Inconclusive, Reason::Noise));
    assert_eq!(told(10.0, 16.4), (Answer::DoesNotPay, Reason::TooSmall));
    assert_eq!(told(6.3, 0.0), (Answer::Inconclusive, Reason::Noise));
    assert_eq!(told(-6.3, 0.0), (Answer::Inconclusive, Reason::Noise));
    assert_eq!(told(-6.4, 0.0), (Answer::DoesNotPay, Reason::Loss));
    let nothing = verdict(&nets(&[0.0; 9]), 0.0, &[]).unwrap();
    assert_eq!((nothing.answer, nothing.reason), (Answer::DoesNotPay, Reason::NoDifference));
    assert_eq!((nothing.interval.low, nothing.interval.high), (0.0, 0.0));
    assert!(nothing.settled_by.is_empty());
    for worth in [-1.0, f64::NAN, f64::INFINITY] {
        assert!(verdict(&nets(&[1.0, 2.0]), worth, &[]).is_err());
    }
}

#[test]
fn closed_noise_is_settled_by_seasons() {
    // s = √2 about a mean of 1: (t(.95) + t(.80)) √2/√n ≤ 1. With 14 seasons 1.7709 + 0.8702 =
    // 2.6411 · 0.37796 = 0.9982; with 13, 1.7823 + 0.8726 = 2.6549 · 0.39223 = 1.0413.
    let found = verdict(&nets(&[0.0, 2.0]), 0.0, &[]).unwrap();
    assert_eq!(found.answer, Answer::Inconclusive);
    assert_eq!(found.settled_by, [Settles::Seasons { in_all: Some(14), more: Some(12) }]);
    let never = verdict(&nets(&[-1.0, 1.0]), 0.0, &[]).unwrap();
    assert_eq!(never.settled_by, [Settles::Seasons { in_all: None, more: None }]);
}

#[test]
fn closed_a_doubt_that_can_turn_the_answer_leaves_it_open_and_is_named() {
    // Net returns that hang on K1 alone, hardly on the weather: mean 3, deviation by K1 4.
    let ranges = Ranges::around([0.3, 0.3, 0.05, 1.5, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0]);
    let [low, mode, high] = ranges.ends[Doubt::DragK1 as usize];
    let middle = (low + mode + high) / 3.0;
    let net = |season: usize| {
        let k1 = ranges.drawn(season).0[Doubt::DragK1 as usize];
        3.0 + 4.0 * (k1 - middle) / 0.21 + if season.is_multiple_of(2) { 0.1 } else { -0.1 }
    };
    let made = nets(&(0..60).map(net).collect::<Vec<f64>>());
    let question = Question {
        nets: &made.differences,
        ranges: &ranges,
        first_season: 0,
        swings: &[],
        worthwhile_gain: 0.0,
        level: LEVEL,
    };
    let explained = explain(&question, &[]).unwrap();
    let sure = verdict(&made, 0.0, &[]).unwrap();
    assert_eq!((sure.answer, sure.reason), (Answer::Pays, Reason::Gain));
    let found = super::verdict(&made, 0.0, &[], Some(&explained)).unwrap();
    assert_eq!((found.answer, found.reason), (Answer::Inconclusive, Reason::Doubt));
    assert_eq!(found.settled_by, [Settles::Measuring(Doubt::DragK1)]);
    assert!((explained.chance - 0.77).abs() < 0.05, "{}", explained.chance);
}

/// Net return of a crop price, a water price and a joint price: linear in each.
fn linear(values: &[f64]) -> f64 {
    4.0 * values[0] - 3000.0 * values[1] - 0.25 * values[2]
}

#[test]
fn closed_swings_and_break_evens() {
    let inputs = [
        input(Price::Joint, 800.0, 1000.0, 1200.0),
        input(Price::Crop, 50.0, 200.0, 300.0),
        input(Price::Water, 0.0, 0.1, 0.15),
    ];
    let found = sensitivity(&inputs, 0.0, |v| linear(&[v[1], v[2], v[0]])).unwrap();
    let order: Vec<PriceKey> = found.iter().map(|swing| swing.price).collect();
    assert_eq!(order, [Price::Crop, Price::Water, Price::Joint]);
    // Base 800 − 300 − 250 = 250. Crop: 550/4 = 137.5. Water: 550/3000 lies outside.
    assert_eq!(found[0].nets, [-350.0, 250.0, 650.0]);
    assert_eq!(found[0].width(), 1000.0);
    assert!((found[0].break_even.unwrap() - 137.5).abs() < 1e-9);
    assert_eq!((found[1].break_even, found[2].break_even), (None, None));
    let at_two_hundred = sensitivity(&inputs, 200.0, |v| linear(&[v[1], v[2], v[0]])).unwrap();
    let water = at_two_hundred.iter().find(|swing| swing.price == Price::Water).unwrap();
    assert!((water.break_even.unwrap() - 350.0 / 3000.0).abs() < 1e-12);
}

#[test]
fn closed_a_curve_and_a_jump_have_their_break_even() {
    let found =
        sensitivity(&[input(Price::Crop, 0.0, 1.0, 3.0)], 0.0, |v| v[0].powi(5) - 32.0).unwrap();
    assert!((found[0].break_even.unwrap() - 2.0).abs() < 1e-9);
    // Both sides: the one nearer to base.
    let hill =
        sensitivity(&[input(Price::Crop, -2.0, 0.5, 2.0)], 0.0, |v| 1.0 - v[0] * v[0]).unwrap();
    assert!((hill[0].break_even.unwrap() - 1.0).abs() < 1e-9);
    assert_eq!(hill[0].width(), 3.75);
    let jump = |v: &[f64]| if v[0] < 0.3 { -1.0 } else { 5.0 };
    let found = sensitivity(&[input(Price::Crop, 0.0, 0.5, 1.0)], 0.0, jump).unwrap();
    assert!((found[0].break_even.unwrap() - 0.3).abs() < 1e-9, "{found:?}");
}

#[test]
fn closed_bad_ranges_and_nets_are_refused() {
    let inputs = [
        input(Price::Crop, 1.0, 0.5, 2.0),
        input(Price::Water, 0.0, 1.0, 2.0),
        input(Price::Energy, 0.0, f64::NAN, 2.0),
        input(Price::Labor, 0.0, 1.0, f64::INFINITY),
    ];
    let Err(SensitivityError::Ranges(prices)) = sensitivity(&inputs, 0.0, |_| 0.0) else {
        panic!()
    };
    assert_eq!(prices, [Price::Crop, Price::Energy, Price::Labor]);
    let found = sensitivity(&[input(Price::Water, 0.0, 1.0, 2.0)], 0.0, |v| 1.0 / v[0]);
    assert!(matches!(found, Err(SensitivityError::Net { value: 0.0, .. })));
    assert_eq!(sensitivity(&[], 0.0, |_| f64::NAN), Ok(Vec::new()));
}

#[test]
fn closed_a_placeholder_that_decides_takes_the_answer_away() {
    let crop = input(Price::Crop, 50.0, 200.0, 300.0);
    let net = |v: &[f64]| 4.0 * v[0] - 550.0;
    let sure = nets(&[249.0, 250.0, 251.0]);
    let own = sensitivity(std::slice::from_ref(&crop), 0.0, net).unwrap();
    let found = verdict(&sure, 0.0, &own).unwrap();
    assert_eq!((found.answer, found.reason), (Answer::Pays, Reason::Gain));
    assert!((found.hangs_on[0].break_even - 137.5).abs() < 1e-9 && found.settled_by.is_empty());
    let nobodys = Input { is_placeholder: true, ..crop };
    let swings = sensitivity(std::slice::from_ref(&nobodys), 0.0, net).unwrap();
    let found = verdict(&sure, 0.0, &swings).unwrap();
    assert_eq!((found.answer, found.reason), (Answer::Inconclusive, Reason::Placeholder));
    assert_eq!(found.settled_by, [Settles::Knowing(found.hangs_on[0])]);
    // A range that stays on one side leaves the answer alone.
    let narrow = Input { low: 150.0, ..nobodys };
    let swings = sensitivity(&[narrow], 0.0, net).unwrap();
    assert_eq!(verdict(&sure, 0.0, &swings).unwrap().answer, Answer::Pays);
    // Noise and a placeholder together: both are named.
    let noisy = nets(&[-900.0, 1400.0]);
    let open = sensitivity(
        &[Input { is_placeholder: true, ..input(Price::Crop, 50.0, 200.0, 300.0) }],
        0.0,
        net,
    );
    let found = verdict(&noisy, 0.0, &open.unwrap()).unwrap();
    assert_eq!((found.reason, found.settled_by.len()), (Reason::Noise, 2));
}

#[test]
fn closed_ranks_by_hand() {
    // Leader 10; 9.5 with the same noise is clearly worse, and ties with its own copy.
    let noise = [-1.0, 1.0, 0.5, -0.5, 0.0];
    let about = |mean: f64| noise.map(|x| mean + x);
    let (a, b, c) = (about(10.0), about(9.5), about(3.0));
    let ranked = rank(&[&c, &b, &a, &b], 0.9, 0.0).unwrap();
    let found: Vec<(usize, usize)> = ranked.iter().map(|r| (r.alternative, r.rank)).collect();
    assert_eq!(found, [(2, 1), (1, 2), (3, 2), (0, 4)]);
    assert!(!ranked[0].is_tied && ranked[1].is_tied && ranked[1].is_leader && !ranked[2].is_leader);
    // Half a unit is not worth the name.
    let ranked = rank(&[&c, &b, &a], 0.9, 0.6).unwrap();
    assert_eq!(ranked.iter().map(|r| r.rank).collect::<Vec<_>>(), [1, 1, 3]);
    assert_eq!(rank(&[], 0.9, 0.0), Ok(Vec::new()));
    assert!(rank(&[&a], 0.9, 0.0).is_ok_and(|one| one.len() == 1 && !one[0].is_tied));
    assert!(rank(&[&a, &b[..3]], 0.9, 0.0).is_err() && rank(&[&a, &b], 90.0, 0.0).is_err());
    assert!(rank(&[&a, &b], 0.9, -1.0).is_err() && rank(&[&[f64::NAN, 1.0]], 0.9, 0.0).is_err());
}

#[test]
fn reference_alternatives_alike_but_for_luck_are_seldom_parted() {
    use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
    // Eight alternatives with the same truth, 12 seasons: at 90 % at most one ensemble in ten may
    // be parted anywhere (standard error over 2000 ensembles 0.007, three allowed).
    let parted = (0..2000).filter(|seed| {
        let mut random = ChaCha8Rng::seed_from_u64(*seed);
        let values: Vec<Vec<f64>> =
            (0..8).map(|_| (0..12).map(|_| random.random::<f64>()).collect()).collect();
        let slices: Vec<&[f64]> = values.iter().map(Vec::as_slice).collect();
        rank(&slices, 0.9, 0.0).unwrap().iter().any(|ranked| ranked.rank > 1)
    });
    let share = parted.count() as f64 / 2000.0;
    assert!(share <= 0.1 + 0.021, "{share}");
    assert!(share > 0.02, "so wide that nothing is ever parted: {share}");
}

proptest! {
    #[test]
    fn invariant_ranks(
        values in prop::collection::vec(prop::collection::vec(-3i32..4, 4), 1..7),
        copied in 0usize..7, turned in 0usize..7
    ) {
        let mut values: Vec<Vec<f64>> =
            values.iter().map(|v| v.iter().map(|x| f64::from(*x)).collect()).collect();
        values.push(values[copied % values.len()].clone());
        let slices: Vec<&[f64]> = values.iter().map(Vec::as_slice).collect();
        let ranked = rank(&slices, 0.9, 0.0).unwrap();
        let rank_of = |ranked: &[Ranked], alternative: usize| {
            ranked.iter().find(|r| r.alternative == alternative).unwrap().rank
        };
        // A copy never ranks apart.
        let last = slices.len() - 1;
        prop_assert_eq!(rank_of(&ranked, copied % last), rank_of(&ranked, last));
        // The order given does not matter.
        let turn = turned % slices.len();
        let mut moved = slices.clone();
        moved.rotate_left(turn);
        let again = rank(&moved, 0.9, 0.0).unwrap();
        for alternative in 0..slices.len() {
            let there = (alternative + slices.len() - turn) % slices.len();
            prop_assert_eq!(rank_of(&ranked, alternative), rank_of(&again, there));
        }
        // What the head of the module claims of leaders.
        let pairs = (last * (last + 1) / 2) as f64;
        let each_level = 1.0 - (1.0 - 0.9) / pairs;
        for leader in ranked.iter().filter(|r| r.is_leader) {
            for other in &ranked {
                let lead = crate::paired::pair(slices[leader.alternative], slices[other.alternative], each_level);
                let is_worse = lead.unwrap().figures.interval.low > 0.0;
                if other.rank > leader.rank { prop_assert!(is_worse); }
                if other.rank == leader.rank { prop_assert!(!is_worse && other.mean <= leader.mean); }
            }
        }
    }

    #[test]
    fn invariant_a_verdict_turns_with_its_sign(values in prop::collection::vec(-5i32..6, 2..12)) {
        let up: Vec<f64> = values.iter().map(|x| f64::from(*x)).collect();
        let down: Vec<f64> = up.iter().map(|x| -x).collect();
        let (up, down) = (verdict(&nets(&up), 0.0, &[]), verdict(&nets(&down), 0.0, &[]));
        let pair = (up.unwrap().answer, down.unwrap().answer);
        let is_good = match pair {
            (Answer::Pays, other) | (other, Answer::Pays) => other == Answer::DoesNotPay,
            (Answer::Inconclusive, other) | (other, Answer::Inconclusive) => {
                // An interval that just touches zero from below has nothing to gain.
                other != Answer::Pays
            }
            (Answer::DoesNotPay, Answer::DoesNotPay) => values.iter().all(|x| *x == 0),
        };
        prop_assert!(is_good, "{:?}", pair);
    }
}

#[test]
fn closed_round_off_is_no_swing() {
    let swing = |nets| Swing {
        price: Price::Water.into(),
        is_placeholder: false,
        inputs: [1.0, 2.0, 3.0],
        nets,
        break_even: None,
    };
    assert!(!swing([13.0, 13.0 + 1.8e-14, 13.0]).matters());
    assert!(!swing([0.0; 3]).matters());
    assert!(swing([13.0, 13.001, 13.0]).matters());
}
