//! What judges a season of sprinklers that do not all deliver the same: superposition, water, folding.

use super::tests::{alternative, scenario, sprinkler, windy};
use super::*;
use crate::grid::DepthGrid;
use crate::lateral::Discharges;
use crate::model::Scenario;
use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;
use crate::seasons;
use crate::sprinkler::shape::Shape;

/// A windy field of two alternatives on such a pipe.
fn field_of(discharges: &Discharges) -> Scenario {
    let with = |name: &str, shifts: &[f64]| {
        let mut made = alternative(name, shifts, sprinkler(Shape::Triangular, 84.0));
        made.discharges = discharges.clone();
        made
    };
    let mut scenario = scenario(4.0, 2, vec![with("fixed", &[0.0]), with("pair", &[0.0, 15.0])]);
    scenario.weather = windy(3.5);
    scenario
}

fn depth(scenario: &Scenario) -> (DepthGrid, f64) {
    let outcome = run(scenario, RunControl::default()).unwrap();
    let pair = &outcome.alternatives[1];
    (pair.season_depth_mm().clone(), pair.water.gross_m3)
}

#[test]
fn reference_a_lateral_lays_the_sum_of_its_sprinklers_each_alone() {
    let factors = [0.9, 1.2, 0.0, 1.0, 1.07, 0.5];
    let named = |of: &dyn Fn(usize) -> f64| Discharges {
        single: (0..6).map(|at| (at, of(at))).collect(),
        ..Discharges::default()
    };
    let (whole_mm, gross_m3) = depth(&field_of(&named(&|at| factors[at])));
    let (mut sum_mm, mut sum_m3) = (whole_mm.mapv(|_| 0.0), 0.0);
    for (one, factor) in factors.iter().enumerate().filter(|(_, factor)| **factor > 0.0) {
        let (alone_mm, alone_m3) = depth(&field_of(&named(&|at| f64::from(at == one))));
        sum_mm.scaled_add(*factor, &alone_mm);
        sum_m3 += factor * alone_m3;
    }
    let mean_mm = whole_mm.mean().unwrap();
    let miss = (&whole_mm - &sum_mm).iter().fold(0.0, |most: f64, miss| most.max(miss.abs()));
    assert!(miss < 1e-12 * mean_mm, "{miss} {mean_mm}");
    assert!((gross_m3 / sum_m3 - 1.0).abs() < 1e-12);
}

#[test]
fn invariant_water_balances_and_the_stated_mean_is_delivered() {
    let plain = depth(&field_of(&Discharges::default())).1;
    let scattered = field_of(&Discharges { scatter: 0.1, ..Discharges::default() });
    let outcome = run(&scattered, RunControl::default()).unwrap();
    for found in &outcome.alternatives {
        assert!(found.water.imbalance().abs() < 1e-9, "{:?}", found.water);
    }
    assert!((outcome.alternatives[1].water.gross_m3 / plain - 1.0).abs() < 1e-12);
}

#[test]
fn invariant_factors_of_one_are_the_plain_lateral() {
    // By way of single sprinklers that differ beyond the pipe's end: the slow overlay runs.
    let one = Discharges { single: vec![(9, 0.5)], ..Discharges::default() };
    let (slow_mm, fast_mm) = (depth(&field_of(&one)).0, depth(&field_of(&Discharges::default())).0);
    let miss = (&slow_mm - &fast_mm).iter().fold(0.0, |most: f64, miss| most.max(miss.abs()));
    assert!(miss < 1e-12 * fast_mm.mean().unwrap(), "{miss}");
}

/// A crop that suffers where it gets less.
fn dry_ground() -> Ground {
    let day = CropDay::with_fraction(6.0, 0.0, 0.5, 120.0, 120.0);
    Ground { first_day: 0, days: vec![vec![day; 20]], depletion_mm: 60.0, ky: 1.1 }
}

#[test]
fn reference_a_folded_field_of_repeating_sprinklers_is_the_unfolded_one() {
    let repeating = Discharges { scatter: 0.1, repeat: Some(2), ..Discharges::default() };
    let factors = repeating.factors(14).unwrap();
    let each =
        Discharges { single: factors.into_iter().enumerate().collect(), ..Discharges::default() };
    let run = |discharges: &Discharges| {
        let mut long = field_of(discharges);
        long.field.grid = crate::grid::Grid::over(560.0 * 0.3048, 360.0 * 0.3048, 4.0 * 0.3048);
        for alternative in &mut long.alternatives {
            alternative.lateral.sprinklers = 14;
        }
        let found = seasons::run(&long, &dry_ground(), 1, RunControl::default()).unwrap();
        found.figures[0][1]
    };
    let (folded, unfolded) = (run(&repeating), run(&each));
    assert!((folded.cu - unfolded.cu).abs() < 1e-9, "{folded:?} {unfolded:?}");
    assert!((folded.yield_fraction - unfolded.yield_fraction).abs() < 1e-9);
    assert!((folded.percolation_mm - unfolded.percolation_mm).abs() < 1e-9);
    assert!(folded.yield_fraction < 0.999);
}

#[test]
fn reference_spreading_on_the_folded_field_is_that_on_the_real_one() {
    // The same pipe once by a repeat, once sprinkler by sprinkler, which is never folded.
    let plain = Discharges::default();
    let named = Discharges { single: vec![(99, 0.0)], ..Discharges::default() };
    let run = |discharges: &Discharges, smoothing_m: f64| {
        let mut long = field_of(discharges);
        long.smoothing_m = smoothing_m;
        long.field.grid = crate::grid::Grid::over(560.0 * 0.3048, 360.0 * 0.3048, 4.0 * 0.3048);
        for alternative in &mut long.alternatives {
            alternative.lateral.sprinklers = 14;
        }
        seasons::run(&long, &dry_ground(), 1, RunControl::default()).unwrap().figures[0][0]
    };
    let (folded, real, rough) = (run(&plain, 1.5), run(&named, 1.5), run(&plain, 0.0));
    assert!((folded.yield_fraction - real.yield_fraction).abs() < 1e-9, "{folded:?} {real:?}");
    assert!((folded.percolation_mm - real.percolation_mm).abs() < 1e-9);
    // What cans catch stays; the crop gains and less goes below the roots.
    assert!((folded.cu - rough.cu).abs() < 1e-12);
    assert!(folded.yield_fraction > rough.yield_fraction + 1e-4, "{folded:?} {rough:?}");
    assert!(folded.imbalance_mm().abs() < 1e-9 * folded.gross_mm);
}

#[test]
fn reference_a_repeat_of_eight_does_to_the_figures_what_single_sprinklers_do() {
    // What doubts draw: CU on average over 24 pipes, each with a CV of 10 %, in still air.
    let mean_cu = |repeat: Option<usize>| {
        let cu = |draw: u32| {
            let mut long =
                field_of(&Discharges { scatter: 0.1, draw, repeat, ..Discharges::default() });
            long.weather = crate::weather::WeatherSource::Still;
            long.field.grid =
                crate::grid::Grid::over(1320.0 * 0.3048, 360.0 * 0.3048, 4.0 * 0.3048);
            for alternative in &mut long.alternatives {
                alternative.lateral.sprinklers = 33;
            }
            let outcome = run(&long, RunControl::default()).unwrap();
            100.0 * outcome.alternatives[1].season_figures().interior.unwrap().cu
        };
        (1..=24).map(cu).sum::<f64>() / 24.0
    };
    let (each, repeating, alike) = (mean_cu(None), mean_cu(Some(8)), mean_cu(Some(1)));
    let (lost, lost_repeating) = (alike - each, alike - repeating);
    assert!(lost > 0.5 && (lost_repeating / lost - 1.0).abs() < 0.15, "{lost} {lost_repeating}");
}

#[test]
fn closed_leaks_are_pumped_beside_the_balance_and_no_depth() {
    let tight = field_of(&Discharges::default());
    let mut leaking = tight.clone();
    leaking.alternatives.iter_mut().for_each(|own| own.condition.leaks = Some(0.2));
    let run = |scenario: &Scenario| run(scenario, RunControl::default()).unwrap();
    for (dry, wet) in run(&tight).alternatives.iter().zip(&run(&leaking).alternatives) {
        // A fifth of the inflow is a quarter of what the nozzles deliver; without leaks, nothing.
        assert!(dry.water.leaked_m3 == 0.0);
        assert!((wet.water.leaked_m3 / wet.water.gross_m3 - 0.25).abs() < 1e-12);
        assert!(wet.water.imbalance().abs() < 1e-9);
        assert_eq!(dry.water.gross_m3, wet.water.gross_m3);
        assert_eq!(dry.season_depth_mm(), wet.season_depth_mm());
    }
}
