use super::*;
use crate::model::Alternative;
use crate::root_zone::CropDay;
use crate::schedule::SeasonLength;
use crate::season;
use crate::season::RunControl;
use crate::season::tests::{alternative, scenario, sprinkler, windy};
use crate::seasons;
use crate::sprinkler::shape::Shape;

/// A crop of 90 days from the season's start that needs `etc_mm` a day; TAW 100 mm, RAW 50 mm.
fn ground(etc_mm: f64, rain_mm: impl Fn(usize) -> f64) -> Ground {
    let day = |day: usize| CropDay::with_fraction(etc_mm, rain_mm(day), 0.5, 100.0, 100.0);
    Ground { first_day: 0, days: vec![(1..=90).map(day).collect()], depletion_mm: 0.0, ky: 1.1 }
}

fn scenario_on(ground: Ground, share_of_raw: f64) -> Scenario {
    let sprinkler = sprinkler(Shape::Triangular, 84.0);
    let alternatives: Vec<Alternative> = vec![
        alternative("fixed", &[0.0], sprinkler.clone()),
        alternative("pair", &[0.0, 30.0], sprinkler),
    ];
    let mut scenario = scenario(5.0, 6, alternatives);
    scenario.weather = windy(2.5);
    scenario.calendar.set_time_h = 8.0;
    scenario.calendar.length = SeasonLength::Passes(100);
    scenario.called = Some(Called { share_of_raw, least_every_h: 0.0, ground });
    scenario
}

fn starts(scenario: &Scenario, season: u32) -> Vec<f64> {
    let plans = season::plans_in(scenario, None, season).unwrap();
    let starts: Vec<Vec<f64>> =
        plans.iter().map(|plan| plan.passes.iter().map(|pass| pass.span_h().0).collect()).collect();
    assert!(starts.windows(2).all(|two| two[0] == two[1]), "the same dates for all: {starts:?}");
    for plan in &plans {
        assert!(plan.passes.windows(2).all(|two| two[0].span_h().1 < two[1].span_h().0));
    }
    starts.into_iter().next().unwrap()
}

#[test]
fn closed_the_first_call_comes_when_the_share_is_used_up() {
    // 5 mm a day: 50 mm are passed by the evening of day 11, 40 mm (80 %) by that of day 9; days
    // of the season count from 0, and the first set starts at 6 h.
    let hour = |day: f64| 24.0 * (day - 1.0) + 6.0;
    assert!((starts(&scenario_on(ground(5.0, |_| 0.0), 1.0), 0)[0] - hour(11.0)).abs() < 1e-9);
    assert!((starts(&scenario_on(ground(5.0, |_| 0.0), 0.8), 0)[0] - hour(9.0)).abs() < 1e-9);
    // 20 mm of rain on day 6 put it off by four days.
    let rained = ground(5.0, |day| if day == 6 { 20.0 } else { 0.0 });
    assert!((starts(&scenario_on(rained, 1.0), 0)[0] - hour(15.0)).abs() < 1e-9);
}

#[test]
fn closed_the_least_interval_and_the_longest_pass_hold_calls_apart() {
    let mut hungry = scenario_on(ground(12.0, |_| 0.0), 0.3);
    let found = starts(&hungry, 0);
    let pass_h = apart_h(&hungry, hungry.called.as_ref().unwrap());
    assert!(found.windows(2).all(|two| two[1] - two[0] >= pass_h), "{found:?}, {pass_h}");
    hungry.called.as_mut().unwrap().least_every_h = 15.0 * 24.0;
    assert!(starts(&hungry, 0).windows(2).all(|two| two[1] - two[0] >= 360.0));
}

#[test]
fn invariant_seasons_differ_in_dates_and_come_out_the_same_again() {
    let mut scenario = scenario_on(ground(5.0, |_| 0.0), 0.9);
    scenario.losses = crate::sprinkler::losses::Losses::PlayanDayNight;
    let dates: Vec<Vec<f64>> = (0..6).map(|season| starts(&scenario, season)).collect();
    let again: Vec<Vec<f64>> = (0..6).map(|season| starts(&scenario, season)).collect();
    assert_eq!(dates, again);
    assert!(dates.iter().any(|season| *season != dates[0]), "{dates:?}");
}

#[test]
fn closed_called_seasons_run_and_a_crop_that_never_calls_is_told() {
    let scenario = scenario_on(ground(5.0, |_| 0.0), 0.9);
    let ground_of = |scenario: &Scenario| scenario.called.clone().unwrap().ground;
    let found = seasons::run(&scenario, &ground_of(&scenario), 3, RunControl::default()).unwrap();
    assert_eq!(found.finished(), 3);
    for season in &found.figures {
        assert!(season[0].passes > 1 && season[0].passes == season[1].passes);
    }
    // Who calls earlier waters more and loses no yield by it.
    let early = scenario_on(ground(5.0, |_| 0.0), 0.5);
    let earlier = seasons::run(&early, &ground_of(&early), 3, RunControl::default()).unwrap();
    for (early, late) in earlier.figures.iter().zip(&found.figures) {
        assert!(early[0].passes >= late[0].passes);
        assert!(early[0].yield_fraction >= late[0].yield_fraction);
    }
    let idle = scenario_on(ground(0.1, |_| 0.0), 1.0);
    let told = season::plans(&idle).unwrap_err().to_string();
    assert!(told.contains("never calls for water"), "{told}");
}

#[test]
fn regress_a_boundary_makes_the_water_that_is_laid_no_deeper() {
    // The same sets lay the same depth, whether all of the rectangle is field or three quarters.
    let whole = scenario_on(ground(5.0, |_| 0.0), 0.9);
    let part = crate::worth::tests::l_shaped(whole.clone());
    assert!(part.field.area() < whole.field.area());
    assert_eq!(starts(&part, 0), starts(&whole, 0));
}
