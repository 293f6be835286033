//! What is looked at closely is what the run laid down.

use super::*;
use crate::season::tests::{alternative, scenario, sprinkler, windy};
use crate::season::{Laid, LandingMapCache, SeasonControl, run};
use crate::sprinkler::shape::Shape;
use crate::units::M_PER_FT;

fn windy_scenario() -> Scenario {
    let sprinkler = sprinkler(Shape::Triangular, 84.0);
    let both = [("one", &[0.0][..]), ("two", &[0.0, 15.0][..])];
    let alternatives =
        both.map(|(name, shifts)| alternative(name, shifts, sprinkler.clone())).to_vec();
    let mut scenario = scenario(4.0, 3, alternatives);
    scenario.weather = windy(3.0);
    scenario
}

fn passes_of(scenario: &Scenario, kept: &LandingMapCache) -> Vec<(usize, usize, DepthGrid)> {
    let mut passes = Vec::new();
    let mut seen = |laid: Laid<'_>| {
        passes.push((laid.alternative, laid.pass, laid.pass_mm.clone()));
    };
    let control = SeasonControl::default().with_landing_maps(kept).with_viewer(&mut seen);
    run(scenario, control).unwrap();
    passes
}

#[test]
fn invariant_a_watched_run_is_the_plain_run_and_shows_every_pass_once() {
    let scenario = windy_scenario();
    let plain = run(&scenario, RunControl::default()).unwrap();
    let kept = LandingMapCache::default();
    for _ in 0..2 {
        // The second time all landing maps are kept ones.
        let passes = passes_of(&scenario, &kept);
        let order: Vec<_> =
            passes.iter().map(|(alternative, pass, _)| (*pass, *alternative)).collect();
        assert_eq!(order, [(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)]);
        for (index, found) in plain.alternatives.iter().enumerate() {
            let mut sum = scenario.field.grid.zeros();
            passes.iter().filter(|(of, ..)| *of == index).for_each(|(.., mm)| sum += mm);
            assert_eq!(&sum, found.season_depth_mm());
        }
    }
}

#[test]
fn invariant_the_sets_of_a_pass_add_up_to_it() {
    let scenario = windy_scenario();
    let kept = LandingMapCache::default();
    for (alternative, pass, pass_mm) in passes_of(&scenario, &kept) {
        let (mut sum, mut sets) = (scenario.field.grid.zeros(), 0);
        let mut seen = |set: &DepthGrid| {
            sum += set;
            sets += 1;
        };
        let control = SetsControl::default().with_landing_maps(&kept).with_viewer(&mut seen);
        sets_of_pass(&scenario, (alternative, pass), control).unwrap();
        assert_eq!(sets, 6);
        assert!((&sum - &pass_mm).iter().all(|miss| miss.abs() < 1e-9));
    }
    for nowhere in [(0, 3), (2, 0)] {
        let mut none = |_: &DepthGrid| panic!("there is no such pass");
        sets_of_pass(&scenario, nowhere, SetsControl::default().with_viewer(&mut none)).unwrap();
    }
}

#[test]
fn reference_a_place_gets_what_its_cell_got_in_the_run() {
    let scenario = windy_scenario();
    let kept = LandingMapCache::default();
    let passes = passes_of(&scenario, &kept);
    let cell_m = scenario.field.grid.cell_m;
    for (row, column) in [(0, 0), (45, 31), (89, 59)] {
        let place = ((column as f64 + 0.3) * cell_m, (row as f64 + 0.7) * cell_m);
        let found =
            at_place(&scenario, place, &RunControl::default().with_landing_maps(&kept)).unwrap();
        for (alternative, pass, pass_mm) in &passes {
            let sets = found[*alternative].iter().filter(|set| set.pass == *pass);
            let sum: f64 = sets.map(|set| set.depth_mm).sum();
            let run_mm = pass_mm[(row, column)];
            assert!((sum - run_mm).abs() < 1e-9, "{row} {column}: {sum} for {run_mm}");
        }
    }
    let outside = at_place(&scenario, (-1.0, 400.0 * M_PER_FT), &RunControl::default()).unwrap();
    assert!(outside.iter().all(Vec::is_empty));
}

#[test]
fn closed_hours_with_water_are_those_of_the_sets() {
    let hours = watered_hours(&windy_scenario()).unwrap();
    // 3 passes of 6 sets of 11.5 h from 06:00, half an hour apart: every half day has 12 hours in
    // which water runs, whole or in part.
    assert_eq!(hours.len(), 3 * 6 * 12);
    assert_eq!(hours[0].hour, 6);
    assert!(hours.iter().all(|hour| hour.speed_m_s >= 0.0 && hour.from_deg.is_finite()));
}
