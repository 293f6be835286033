//! Systematic and random unevenness of simulated seasons: what their intervals are worth.

use super::*;
use crate::model::Scenario;
use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;
use crate::season::tests::{alternative, scenario, sprinkler, windy};
use crate::season::{self, RunControl};
use crate::sprinkler::shape::Shape;
use crate::unevenness::{SPLIT_LEVEL, UnevenPart, UnevennessSplit, over_seasons};

/// Three rotations of one sprinkler in wind, twelve passes.
fn three() -> Scenario {
    let sprinkler = sprinkler(Shape::Triangular, 84.0);
    let mut scenario = scenario(
        4.0,
        12,
        vec![
            alternative("one", &[0.0], sprinkler.clone()),
            alternative("two", &[0.0, 30.0], sprinkler.clone()),
            alternative("three", &[0.0, 20.0, -20.0], sprinkler),
        ],
    );
    scenario.weather = windy(3.5);
    scenario
}

fn splits(count: usize) -> Vec<Vec<UnevennessSplit>> {
    let day = CropDay::new(6.0, 0.0, 0.5, 100.0, 100.0);
    let ground = Ground { first_day: 0, days: vec![vec![day; 60]], depletion_mm: 0.0, ky: 1.1 };
    let seasons = run(&three(), &ground, count, RunControl::default()).unwrap();
    (0..3)
        .map(|at| seasons.figures.iter().map(|season| season[at].split.unwrap()).collect())
        .collect()
}

/// Share of seasons whose interval of `part` holds the mean over all of them.
fn held(splits: &[UnevennessSplit], part: fn(&UnevennessSplit) -> UnevenPart) -> f64 {
    let all = over_seasons(splits).unwrap();
    let truth = part(&all).value();
    let holds = |split: &&UnevennessSplit| part(split).interval.unwrap().holds(truth);
    splits.iter().filter(holds).count() as f64 / splits.len() as f64
}

/// R of every rotation is above 0 in every season, and the rotations agree on it.
fn assert_agrees(all: &[Vec<UnevennessSplit>]) {
    for splits in all {
        assert!(splits.iter().all(|split| split.random.square > 0.0));
    }
    let random: Vec<UnevenPart> = all.iter().map(|s| over_seasons(s).unwrap().random).collect();
    for other in &random[1..] {
        // Both ranges are of 90 %: three standard errors of the difference and 2 % for the sample.
        let error = |part: &UnevenPart| part.interval.unwrap().half_width() / 1.645;
        let apart = 3.0 * error(&random[0]).hypot(error(other)) + 0.02 * other.value();
        assert!((random[0].value() - other.value()).abs() < apart, "{random:?}");
    }
}

#[test]
fn invariant_rotations_agree_on_the_wind_s_part_and_it_is_never_nothing() {
    let all = splits(24);
    assert_agrees(&all);
    for splits in &all {
        // 24 draws of a rate of 0.9 fall below 0.7 once in two hundred.
        assert!(held(splits, |split| split.random) > 0.7 - 1e-9);
        assert!(held(splits, |split| split.systematic) > 0.7 - 1e-9);
    }
}

#[test]
fn reference_ranges_hold_the_long_run_at_about_their_rate_over_300_seeds() {
    let all = splits(300);
    assert_agrees(&all);
    for (splits, name) in all.iter().zip(["one", "two", "three"]) {
        let rates = [held(splits, |split| split.systematic), held(splits, |split| split.random)];
        eprintln!("{name} stop(s), {:?}: S and R held {rates:?}", over_seasons(splits).unwrap());
        // 300 draws of a rate of 0.9 lie within ±0.052 of it 997 times in 1000. Above, the jackknife
        // may go farther with S: it overstates the variance of what is made of pairs.
        let [systematic, random] = rates;
        assert!((random - SPLIT_LEVEL).abs() < 0.052, "{name}: {rates:?}");
        assert!((SPLIT_LEVEL - 0.052..0.98).contains(&systematic), "{name}: {rates:?}");
    }
}

#[test]
fn reference_a_season_of_many_has_the_split_of_the_season_by_itself() {
    let scenario = three();
    let alone = season::run(&scenario, RunControl::default()).unwrap();
    let many = splits(1);
    for (own, many) in alone.alternatives.iter().zip(&many) {
        let (own, many) = (own.split.unwrap(), many[0]);
        assert_eq!(own.cycles, many.cycles);
        // Hours in the nearest wind, and columns folded instead of sampled.
        assert!(
            (own.systematic.value() - many.systematic.value()).abs() < 1e-3,
            "{own:?} {many:?}"
        );
        assert!((own.random.value() / many.random.value() - 1.0).abs() < 0.02, "{own:?} {many:?}");
    }
}
