//! What judges seasons that are taken over: the plain run, which lays them all.

use crate::model::Scenario;
use crate::season::tests::{FT, alternative, scenario, sprinkler, windy};
use crate::season::{Laid, LandingMapCache, Outcome, RunControl, Seasons, run, run_changed};
use crate::sprinkler::losses::Losses;
use crate::sprinkler::shape::Shape;
use crate::weather::WeatherSource;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

type Means = Seasons<f64>;

/// The season after others, with how many passes were laid for it.
fn again(scenario: &Scenario, before: &Means) -> (Outcome, Means, usize) {
    let laid = AtomicUsize::new(0);
    let mean_mm = |pass: Laid<'_>| {
        laid.fetch_add(1, Ordering::SeqCst);
        pass.pass_mm.mean().unwrap()
    };
    let cache = LandingMapCache::with_footprints(1 << 20);
    let control = RunControl::default().with_landing_maps(&cache);
    let (outcome, seasons) = run_changed(scenario, before, &mean_mm, control).unwrap();
    (outcome, seasons, laid.into_inner())
}

fn assert_is_the_plain_run(found: &Outcome, seasons: &Means, scenario: &Scenario) {
    let plain = run(scenario, RunControl::default()).unwrap();
    assert_eq!((&found.notices, found.wind), (&plain.notices, plain.wind));
    for ((one, other), season) in found.alternatives.iter().zip(&plain.alternatives).zip(seasons) {
        assert_eq!(one.season_depth_mm(), other.season_depth_mm());
        assert_eq!((&one.passes, one.water, one.split), (&other.passes, other.water, other.split));
        assert_eq!((&one.plan, one.split_miss), (&other.plan, other.split_miss));
        let means = other.passes.iter().map(|pass| pass.alone.whole.unwrap().mean_depth_mm);
        let mut pairs = season.passes.iter().zip(means);
        assert!(pairs.all(|(one, other)| (one - other).abs() < 1e-9));
    }
}

fn two_in_wind() -> Scenario {
    let sprinkler = sprinkler(Shape::Parabolic, 88.0);
    let both = vec![
        alternative("fixed", &[0.0], sprinkler.clone()),
        alternative("moved", &[0.0, 15.0], sprinkler),
    ];
    let mut season = scenario(2.0, 4, both);
    season.weather = windy(3.5);
    season.losses = Losses::PlayanDayNight;
    season
}

#[test]
fn reference_a_moved_stop_leaves_the_other_alternatives_as_they_were() {
    let mut season = two_in_wind();
    let (outcome, first, laid) = again(&season, &Vec::new());
    assert_eq!(laid, 8);
    assert_is_the_plain_run(&outcome, &first, &season);
    let (outcome, same, laid) = again(&season, &first);
    assert_eq!(laid, 0);
    assert_is_the_plain_run(&outcome, &same, &season);
    let moved = alternative("moved", &[0.0, 15.0, -15.0], sprinkler(Shape::Parabolic, 88.0));
    season.alternatives[1] = moved;
    let (outcome, changed, laid) = again(&season, &same);
    assert_eq!(laid, 4);
    assert!(Arc::ptr_eq(&changed[0], &first[0]) && !Arc::ptr_eq(&changed[1], &first[1]));
    assert_is_the_plain_run(&outcome, &changed, &season);
    // The order in which alternatives stand changes nothing of any.
    season.alternatives.reverse();
    let (outcome, turned, laid) = again(&season, &changed);
    assert_eq!(laid, 0);
    assert_is_the_plain_run(&outcome, &turned, &season);
}

#[test]
fn reference_whatever_a_season_follows_from_lays_it_anew() {
    let season = two_in_wind();
    let (_, before, _) = again(&season, &Vec::new());
    let changes: [fn(&mut Scenario); 9] = [
        |season| season.seed += 1,
        |season| season.losses = Losses::Fraction(0.1),
        |season| season.weather = WeatherSource::Still,
        |season| season.canopy_height_m = Some(0.5),
        |season| season.interior_margin_given_m = Some(30.0 * FT),
        |season| season.field.travel_bearing_deg += 1.0,
        |season| season.calendar.set_time_h -= 1.0,
        |season| season.assumed_air.relative_humidity += 0.2,
        |season| {
            for one in &mut season.alternatives {
                one.lateral.first_sprinkler_m += 1.0;
            }
        },
    ];
    for (number, change) in changes.iter().enumerate() {
        let mut changed = season.clone();
        change(&mut changed);
        let (outcome, seasons, laid) = again(&changed, &before);
        assert_eq!(laid, 8, "change {number}");
        assert_is_the_plain_run(&outcome, &seasons, &changed);
    }
}

#[test]
fn closed_a_run_that_is_stopped_says_how_far_it_came() {
    let season = two_in_wind();
    let control = RunControl::new(&|progress| progress.done < 2);
    let stopped = run_changed::<()>(&season, &[], &|_| (), control).unwrap_err();
    assert_eq!(stopped.to_string(), "stopped after pass 2 of 4");
}
