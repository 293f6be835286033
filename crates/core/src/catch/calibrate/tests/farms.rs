//! Made farms: what is true is drawn from the prior, a test is made of it and read with errors, and the
//! verdict with and without the test is held against the truth.

use super::*;
use crate::calibration::Calibration;
use crate::doubt::apply::at_point;
use crate::doubt::draws::triangle;
use crate::ensemble::Interval;
use crate::lateral::Discharges;
use crate::model::Scenario;
use crate::money::Prices;
use crate::worth::tests::{agronomy, economics, season_of};
use crate::worth::{self, Agronomy, Economics, WorthControl};
use std::sync::Arc;

/// Seasons of a verdict, enough to tell weather from doubts, and of what is held to be true.
const SEASONS: (usize, usize) = (24, 64);

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

/// What is true of a farm: its sprinkler, a value of each other doubt, and its prices.
struct Truth {
    sprinkler: [f64; NUMBERS],
    soil: f64,
    response: f64,
    smoothing_m: f64,
    discharges: Discharges,
    prices: Prices,
}

impl Truth {
    /// Drawn from the ranges that a verdict draws from.
    fn drawn(prior: &Prior, noise: &mut Noise, farm: u32) -> Self {
        let sprinkler = std::array::from_fn(|number| prior.quantile(number, noise.share()));
        let mut of = |doubt: Doubt, used: f64| {
            let row = doubt.row();
            triangle([row.low, used, row.high], noise.share())
        };
        let used = economics(SEASONS.0).prices;
        Self {
            sprinkler,
            soil: of(Doubt::SoilStorage, 1.0),
            response: of(Doubt::YieldResponse, 1.0),
            smoothing_m: of(Doubt::Smoothing, 0.0),
            discharges: Discharges {
                scatter: of(Doubt::DischargeScatter, 0.0),
                draw: 1000 + farm,
                repeat: Some(8),
                ..Discharges::default()
            },
            prices: used.known().fold(used.clone(), |prices, (price, entry)| {
                let (low, high) = entry.ends();
                prices.with(price, triangle([low, entry.value, high], noise.share()))
            }),
        }
    }

    /// Net return of such a farm, over many seasons of other weather.
    fn net(&self, farm: &Scenario) -> f64 {
        let mut scenario = with_points(farm, vec![SprinklerPoint::of(self.sprinkler)]);
        scenario.seed = 77;
        scenario.smoothing_m = self.smoothing_m;
        for alternative in &mut scenario.alternatives {
            alternative.discharges = self.discharges.clone();
        }
        let mut own = agronomy();
        let held = own.soil.field_capacity - own.soil.wilting_point;
        own.soil.field_capacity = own.soil.wilting_point + self.soil * held;
        own.crop.yield_response *= self.response;
        let known =
            Economics { doubts: false, prices: self.prices.clone(), ..economics(SEASONS.1) };
        net(&scenario, &own, &known).0
    }
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
    let drawn = Economics { doubts: true, ..economics(SEASONS.0) };
    let (mut covered, mut widths) = ([0; 2], [0.0; 2]);
    for farm_at in 1..=farms {
        // Each farm's verdicts rest on winds of their own.
        let farm = Scenario { seed: farm_at as u64, ..farm() };
        let without = net(&farm, &agronomy(), &drawn).1;
        let truth = Truth::drawn(&prior, &mut noise, farm_at as u32);
        let point = SprinklerPoint::of(truth.sprinkler);
        let exact = simulated(&test, &rig, &point, &Fineness::default()).unwrap();
        let evidence = study.evidence(&noise.read(&study, &test, &exact)).unwrap();
        let weighted = weigh(&prior, &[evidence], options.draws);
        let points = weighted.resampled(options.points);
        let points = points.into_iter().map(SprinklerPoint::of).collect();
        let with = net(&with_points(&farm, points), &agronomy(), &drawn).1;
        let truth = truth.net(&farm);
        for (at, interval) in [without, with].into_iter().enumerate() {
            covered[at] += usize::from(interval.holds(truth));
            widths[at] += (interval.high - interval.low) / farms as f64;
        }
        eprintln!("{farm_at}: {covered:?}");
    }
    eprintln!(
        "farms {farms}: covered without and with a test {covered:?}, mean widths {widths:.1?}"
    );
    // 99 % of samples of 200 at a true 90 % hold 169 to 191. When written, 176 held without a test and 180
    // with one (mean widths 99.7 and 101.0 a hectare: on this farm prices make two thirds of the range
    // and the sprinkler little, so its test cannot narrow the answer).
    let band = 169 * farms..=191 * farms;
    assert!(covered.iter().all(|covered| band.contains(&(200 * covered))), "{covered:?}");
}
