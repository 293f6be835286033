//! What judges many seasons: one season by itself, identities, soils.

use super::*;
use crate::model::{Alternative, Scenario};
use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;
use crate::season::tests::{alternative, scenario, sprinkler};
use crate::season::{self, HoursLaid, RunControl};
use crate::sprinkler::losses::Losses;
use crate::sprinkler::shape::Shape;

/// 60 days of 6 mm on a root zone of `taw_mm`, started full; Ky 1.1.
fn ground(taw_mm: f64) -> Ground {
    let day = CropDay::new(6.0, 0.0, 0.5, taw_mm, taw_mm);
    Ground { first_day: 0, days: vec![vec![day; 60]], depletion_mm: 0.0, ky: 1.1 }
}

fn windy(alternatives: Vec<Alternative>) -> Scenario {
    let mut scenario = scenario(4.0, 9, alternatives);
    scenario.weather = season::tests::windy(3.5);
    scenario.losses = Losses::PlayanDayNight;
    // 6 sets take three days; a pass every 6 days lays about 52 mm against a need of 36.
    scenario.calendar.pass_every_h = Some(6.0 * 24.0);
    scenario.calendar.set_time_h = 8.0;
    scenario
}

fn fixed_and_pair() -> Vec<Alternative> {
    let sprinkler = sprinkler(Shape::Triangular, 84.0);
    vec![
        alternative("fixed", &[0.0], sprinkler.clone()),
        alternative("pair", &[0.0, 30.0], sprinkler),
    ]
}

#[test]
fn reference_season_nought_is_the_single_season() {
    let scenario = windy(fixed_and_pair());
    let one = season::run(&scenario, RunControl::default()).unwrap();
    // Every hour in its own wind, it is the same season; in the nearest wind, within 0.05 points of CU.
    for (hours_laid, to) in [(HoursLaid::OwnWind, 1e-12), (HoursLaid::NearestWind, 5e-4)] {
        let laid = (1, hours_laid);
        let many = run_laid(&scenario, &ground(100.0), laid, RunControl::default()).unwrap();
        for (figures, found) in many.figures[0].iter().zip(&one.alternatives) {
            let interior = found.season_figures().interior.unwrap();
            assert!((figures.cu - interior.cu).abs() < to, "{} {}", figures.cu, interior.cu);
            let whole = found.season_figures().whole.unwrap();
            assert!((figures.irrigation_mm / whole.mean_depth_mm - 1.0).abs() < 10.0 * to);
        }
    }
}

#[test]
fn invariant_an_alternative_against_itself_is_exactly_the_same_in_every_season() {
    let [fixed, _] = fixed_and_pair().try_into().unwrap();
    let twice = windy(vec![fixed.clone(), Alternative { name: "again".into(), ..fixed }]);
    let seasons = run(&twice, &ground(80.0), 3, RunControl::default()).unwrap();
    assert!(seasons.figures.iter().all(|season| season[0] == season[1]));
    assert_ne!(seasons.figures[0][0], seasons.figures[1][0], "seasons must differ");
}

#[test]
fn invariant_threads_and_number_of_seasons_change_no_bit() {
    let scenario = windy(fixed_and_pair());
    let with = |threads: usize, count: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| run(&scenario, &ground(80.0), count, RunControl::default())).unwrap()
    };
    let (one, two, more) = (with(1, 5), with(2, 5), with(2, 6));
    assert_eq!(one.figures, two.figures);
    assert_eq!(one.maps[1].yield_fraction, two.maps[1].yield_fraction);
    // Landing maps reach to the fastest wind of all seasons, but share their nodes below it.
    assert_eq!(one.figures[..], more.figures[..5]);
}

/// Whoever runs alone ends with the pair that asked for the end; others finish the pairs they have begun.
#[test]
fn closed_a_stopped_run_keeps_what_is_finished() {
    let scenario = windy(fixed_and_pair());
    for (threads, most) in [(1, 4), (2, 6)] {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        let stopped =
            || run(&scenario, &ground(80.0), 9, RunControl::new(&|progress| progress.done < 4));
        let seasons = pool.install(stopped).unwrap();
        let finished = seasons.finished();
        assert!((4..=most).contains(&finished) && seasons.wanted == 9, "{finished} with {threads}");
        let yields = seasons.series(0, |figures| figures.yield_fraction);
        assert_eq!(yields.len(), finished);
        let mean = yields.iter().sum::<f64>() / finished as f64;
        let of_map = seasons.maps[0].yield_fraction.mean().unwrap();
        assert!((mean - of_map).abs() < 1e-12);
    }
}

#[test]
fn invariant_a_deeper_soil_keeps_more_of_the_gain_that_the_season_map_promises() {
    let scenario = windy(fixed_and_pair());
    let kept = |taw_mm: f64| {
        let seasons = run(&scenario, &ground(taw_mm), 4, RunControl::default()).unwrap();
        let gain = |of: fn(&SeasonFigures) -> f64| {
            let mean = |alternative| seasons.series(alternative, of).iter().sum::<f64>() / 4.0;
            mean(1) - mean(0)
        };
        assert!(gain(|f| f.cu) > 0.02 && gain(|f| f.yield_interior_worst_tenth) > 0.0);
        gain(|f| f.yield_interior) / gain(|f| f.yield_promised)
    };
    let (thin, medium, deep) = (kept(50.0), kept(100.0), kept(200.0));
    assert!(0.0 < thin && thin < medium && medium < deep, "{thin} {medium} {deep}");
}

#[test]
fn invariant_no_crop_makes_more_than_its_map_promises() {
    // Use is never more than the need, nor than all water of the season and the store. (The *gain*
    // between two alternatives may be more than promised.)
    let scenario = windy(fixed_and_pair());
    for taw_mm in [50.0, 200.0] {
        let seasons = run(&scenario, &ground(taw_mm), 2, RunControl::default()).unwrap();
        for figures in seasons.figures.iter().flatten() {
            assert!(figures.yield_interior < figures.yield_promised, "{figures:?}");
        }
    }
}

#[test]
fn closed_water_on_days_without_a_crop_is_told_apart() {
    let scenario = windy(fixed_and_pair());
    let mut late = ground(80.0);
    late.first_day = 1000;
    let figures = run(&scenario, &late, 1, RunControl::default()).unwrap().figures[0][0];
    assert!((figures.idle_mm - figures.irrigation_mm).abs() < 1e-9);
    assert!(figures.percolation_mm == 0.0 && figures.crop_use_mm > 0.0);
}
