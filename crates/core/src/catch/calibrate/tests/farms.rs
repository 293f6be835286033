//! Made farms: what is true is drawn from the prior, a test is made of it and read with errors, and the
//! verdict with and without the test is held against the truth.

use super::*;
use crate::calibration::Calibration;
use crate::doubt::apply::at_point;
use crate::doubt::draws::triangle;
use crate::ensemble::Interval;
use crate::model::Scenario;
use crate::worth::tests::{agronomy, economics, season_of};
use crate::worth::{self, Agronomy, Economics, WorthControl};
use std::sync::Arc;

/// Seasons of a verdict, and of what is held to be true.
const SEASONS: (usize, usize) = (12, 96);

/// A small field, fixed against two stops.
fn farm() -> Scenario {
    let mut scenario = season_of([&[0.0], &[0.0, 30.0]]);
    for alternative in &mut scenario.alternatives {
        alternative.sprinkler = sprinkler();
    }
    scenario.losses = Losses::Fraction(0.1);
    scenario
}

/// The farm with these points, and the one used in its sprinklers.
fn with_points(farm: &Scenario, points: Vec<SprinklerPoint>) -> Scenario {
    let calibration = Calibration::new(Vec::new(), points).unwrap();
    let mut scenario = farm.clone();
    let used = *calibration.used();
    for alternative in &mut scenario.alternatives {
        let stated = alternative.sprinkler.clone();
        alternative.sprinkler = at_point(&stated, used.drag(stated.drag), used.radius).unwrap();
    }
    scenario.calibration = Some(Arc::new(calibration));
    scenario
}

fn net(scenario: &Scenario, agronomy: &Agronomy, economics: &Economics) -> (f64, Interval) {
    let found = worth::run(scenario, agronomy, economics, WorthControl::default()).unwrap();
    let figures = found.alternatives[1].against.as_ref().unwrap().net_per_ha.figures;
    (figures.mean, figures.interval)
}

/// Net return of the farm as it truly is, over many seasons of other weather.
fn true_net(farm: &Scenario, truth: [f64; NUMBERS], soil: f64, response: f64) -> f64 {
    let mut scenario = with_points(farm, vec![SprinklerPoint::of(truth)]);
    scenario.seed = 77;
    let mut own = agronomy();
    let held = own.soil.field_capacity - own.soil.wilting_point;
    own.soil.field_capacity = own.soil.wilting_point + soil * held;
    own.crop.yield_response *= response;
    net(&scenario, &own, &Economics { doubts: false, ..economics(SEASONS.1) }).0
}

#[test]
#[ignore = "half an hour or more: 200 made farms, each with and without a test"]
fn reference_verdicts_cover_the_truth_over_two_hundred_made_farms() {
    let farms: usize = std::env::var("FARMS").map_or(200, |n| n.parse().unwrap());
    let sprinkler = sprinkler();
    let rig = Rig { sprinkler_spacing_m: 12.192, ..rig(&sprinkler) };
    let prior = Prior::around(&sprinkler.drag);
    let options = CalibrationOptions { runs: 320, ..FEW };
    let test = under_one(&[3.1, 3.6, 2.9, 4.2]);
    let study = study(&test, &rig, &prior, &options);
    let mut noise = Noise::of(&study, 5);
    let farm = farm();
    let drawn = Economics { doubts: true, ..economics(SEASONS.0) };
    let (without, mut covered, mut widths) = (net(&farm, &agronomy(), &drawn).1, [0; 2], [0.0; 2]);
    for farm_at in 1..=farms {
        let truth: [f64; NUMBERS] =
            std::array::from_fn(|number| prior.quantile(number, noise.share()));
        let of = |doubt: Doubt, share: f64| {
            let row = doubt.row();
            triangle([row.low, 1.0, row.high], share)
        };
        let soil = of(Doubt::SoilStorage, noise.share());
        let response = of(Doubt::YieldResponse, noise.share());
        let exact =
            simulated(&test, &rig, &SprinklerPoint::of(truth), &Fineness::default()).unwrap();
        let evidence = study.evidence(&noise.read(&study, &test, &exact)).unwrap();
        let weighted = weigh(&prior, &[evidence], options.draws);
        let points = weighted.resampled(options.points);
        let points = points.into_iter().map(SprinklerPoint::of).collect();
        let with = net(&with_points(&farm, points), &agronomy(), &drawn).1;
        let truth = true_net(&farm, truth, soil, response);
        for (at, interval) in [without, with].into_iter().enumerate() {
            covered[at] += usize::from(interval.holds(truth));
            widths[at] += (interval.high - interval.low) / farms as f64;
        }
        eprintln!("{farm_at}: {covered:?}");
    }
    eprintln!(
        "farms {farms}: covered without and with a test {covered:?}, mean widths {widths:.1?}"
    );
    // 99 % of samples of 200 at a true 90 % hold 169 to 191; more is wider than it need be. When written
    // the first 63 farms were run: all held, without and with a test. Six pairs of seasons make wide ranges.
    assert!(covered.iter().all(|covered| 200 * covered >= 169 * farms), "{covered:?}");
    assert!(widths[1] < widths[0], "{widths:?}");
}
