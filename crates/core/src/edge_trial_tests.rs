//! What judges the trial of edges: costs counted by hand, the season itself, symmetry.

use super::*;
use crate::season::RunControl;
use crate::season::tests::{alternative, scenario, sprinkler, windy};
use crate::sprinkler::shape::Shape;

/// 15 ft a turn, outlets 60 ft apart from 30 ft on, six of them, reach 30 ft.
fn shifted(shifts_ft: &[f64]) -> Scenario {
    let sprinkler = sprinkler(Shape::Triangular, 84.0);
    scenario(4.0, 4, vec![alternative("pair", shifts_ft, sprinkler)])
}

fn tried(scenario: &Scenario, seasons: usize) -> Trial {
    let named: Vec<(EdgeOption, String)> = options(&scenario.alternatives[0], &[])
        .into_iter()
        .map(|option| (option, format!("{option:?}")))
        .collect();
    run(scenario, 0, &named, seasons, &RunControl::default()).unwrap()
}

#[test]
fn closed_costs_follow_from_the_sets() {
    let trial = tried(&shifted(&[0.0, 30.0]), 1);
    assert_eq!(trial.options.len(), 4);
    let sets: Vec<usize> = trial.figures[0].iter().map(|figures| figures.sets).collect();
    // Four passes of six sets, two of them shifted: an extra set in each of these.
    assert_eq!(sets, [24, 24, 26, 24]);
    let gross = |option: usize| trial.figures[0][option].gross_mm;
    assert!((gross(2) / gross(0) - 26.0 / 24.0).abs() < 1e-12);
    assert!((gross(1) / gross(0) - 1.0).abs() < 1e-12);
    // Two sets a day: a day more for the two.
    assert_eq!(trial.figures[0][2].end_h - trial.figures[0][0].end_h, 24.0);
}

#[test]
fn closed_a_one_sided_rotation_starves_the_first_strip_and_the_extra_set_mends_it() {
    let trial = tried(&shifted(&[0.0, 30.0]), 1);
    let [shift, hold, extra, centerd] = trial.figures[0][..] else { panic!() };
    assert!(shift.first_strip < 0.9 && shift.last_strip > shift.first_strip + 0.03, "{shift:?}");
    assert!(extra.first_strip > shift.first_strip + 0.1, "{extra:?}");
    assert!(hold.edge_low_quarter > shift.edge_low_quarter);
    // Centerd by moving the outlets: both edges are mirror images, to the size of a cell.
    assert_eq!(trial.options[3], EdgeOption::FirstOutletAt(15.0 * crate::units::M_PER_FT));
    assert!((centerd.first_strip - centerd.last_strip).abs() < 1e-9, "{centerd:?}");
    assert_eq!(trial.favored(|f| f.edge_low_quarter).best, 2);
}

#[test]
fn reference_figures_are_those_of_the_season() {
    let scenario = shifted(&[0.0, 30.0]);
    let (trial, plain) =
        (tried(&scenario, 1), season::run(&scenario, RunControl::default()).unwrap());
    let found = plain.alternatives[0].season_figures();
    let interior_mm = found.interior.unwrap().mean_depth_mm;
    let figures = trial.figures[0][0];
    assert_eq!(figures.whole_du_lq, found.whole.unwrap().du_lq);
    assert_eq!(figures.last_strip, found.last_strip.unwrap().mean_depth_mm / interior_mm);
    assert_eq!(
        trial.outcome.alternatives[0].season_depth_mm(),
        plain.alternatives[0].season_depth_mm()
    );
}

#[test]
fn closed_a_fixed_pattern_has_no_edge_to_treat_and_a_tie_goes_to_the_fewest_sets() {
    let trial = tried(&shifted(&[0.0]), 1);
    assert_eq!(trial.options, [EdgeTreatment::Shift, EdgeTreatment::Hold].map(EdgeOption::Treated));
    let favor = trial.favored(|f| f.whole_du_lq);
    assert_eq!((favor.best, favor.tied), (0, vec![0, 1]));
}

#[test]
fn invariant_seasons_differ_and_share_their_weather() {
    let mut windy_pair = shifted(&[0.0, 15.0]);
    windy_pair.weather = windy(3.5);
    let trial = tried(&windy_pair, 2);
    assert_ne!(trial.figures[0][0].whole_cu, trial.figures[1][0].whole_cu);
    let (low, high) = trial.range_of_gain(0, |f| f.whole_cu);
    assert_eq!((low, high), (0.0, 0.0));
    let (low, high) = trial.range_of_gain(1, |f| f.whole_cu);
    assert!(low <= high && low.is_finite());
}

#[test]
fn closed_an_option_that_does_not_fit_the_clock_is_refused_with_its_reason() {
    let mut tight = shifted(&[0.0, 30.0]);
    tight.calendar.pass_every_h = Some(3.0 * 24.0);
    let trial = tried(&tight, 1);
    assert_eq!(trial.refused.len(), 1);
    assert_eq!(trial.refused[0].0, EdgeOption::Treated(EdgeTreatment::ExtraSet));
    assert!(trial.refused[0].1.contains("overlaps"), "{:?}", trial.refused);
}
