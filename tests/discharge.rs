//! Sprinklers that differ, held against what is published.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use evenfall_core::lateral::Discharges;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::SeasonLength;
use evenfall_core::season::{LandingMapCache, RunControl, run};

/// The demo's fixed pattern, four passes.
fn fixed() -> Scenario {
    let no_files = |name: &str| Err(format!("{name} is not here"));
    let demo = evenfall_scenario::resolve(evenfall_scenario::demo(), &no_files).unwrap();
    let mut scenario = demo.scenario;
    scenario.alternatives.truncate(1);
    scenario.calendar.length = SeasonLength::Passes(4);
    scenario
}

#[test]
fn published_new_nozzles_gain_little_uniformity() {
    // Louie & Selker 2000 (abstract): new nozzles cut the coefficient of variation of discharge
    // between sprinklers from 10 to 2 % "with little gain of uniformity". Little: under 2 points of
    // CU, for each of three pipes drawn.
    let maps = LandingMapCache::default();
    let cu = |scatter: f64, draw: u32| {
        let mut scenario = fixed();
        scenario.alternatives[0].discharges = Discharges { scatter, draw, ..Discharges::default() };
        let outcome = run(&scenario, RunControl::default().with_landing_maps(&maps)).unwrap();
        100.0 * outcome.alternatives[0].season_figures().interior.unwrap().cu
    };
    for draw in 0..3 {
        let (worn, new) = (cu(0.10, draw), cu(0.02, draw));
        assert!((0.0..2.0).contains(&(new - worn)), "pipe {draw}: {worn} {new}");
    }
}
