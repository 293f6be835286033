use super::super::rig::simulate_single;
use super::super::tests::single_grid;
use super::*;
use crate::catch::CatchTest;
use crate::sprinkler::{DragCorrection, DragForm, Jet, Pattern, Sprinkler};
use rand::SeedableRng;
use rand_distr::{Distribution, Normal};

const DRAG: DragCorrection =
    DragCorrection { form: DragForm::AirAndWind, k2: 0.2, turbulence: 0.1, ..DragCorrection::NONE };
const OPTIONS: FitOptions = FitOptions { drag: DRAG, confidence_level: 0.9, radius_m: Some(14.0) };

/// The leg of the made tests, on the knots that a fit of cans 2 m apart uses (14 m in 8 pieces).
fn leg() -> Leg {
    let r_m = (0..=8).map(|knot| 1.75 * f64::from(knot)).collect();
    Leg::new(r_m, vec![4.5, 4.2, 4.0, 4.1, 4.3, 4.0, 3.0, 1.5, 0.0]).unwrap()
}

/// What a sprinkler with this leg and K1 lays into cans 2 m apart.
fn made(leg: &Leg, k1: f64, wind_m_s: f64) -> CatchTest {
    let mut test = single_grid(20.0, 2.0, wind_m_s);
    let launch = Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
    let sprinkler = Sprinkler {
        jets: vec![Jet::new(leg.clone(), launch)],
        drag: DragCorrection { k1, ..DRAG },
        flow_control: None,
    };
    let depths = simulate_single(&test, &sprinkler, 1.0).unwrap();
    for (can, depth) in test.cans.iter_mut().zip(depths) {
        can.depth_mm = Some(depth);
    }
    test
}

/// The same cans read with an error of 5 % of the depth and 0.1 mm.
fn read_with_error(test: &CatchTest, seed: u64) -> CatchTest {
    let mut rng = rand::rngs::ChaCha8Rng::seed_from_u64(seed);
    let unit = Normal::new(0.0, 1.0).unwrap();
    let mut noisy = test.clone();
    for can in &mut noisy.cans {
        let depth = can.depth_mm.unwrap();
        let error = 0.05 * depth * unit.sample(&mut rng) + 0.1 * unit.sample(&mut rng);
        // A dry can stays dry; no can holds less than nothing.
        can.depth_mm = Some(if depth > 0.05 { (depth + error).max(0.0) } else { 0.0 });
    }
    noisy
}

#[test]
fn reference_a_made_test_without_errors_is_fitted_back() {
    let test = made(&leg(), 0.6, 4.0);
    let found = fit(&test, &OPTIONS).unwrap();
    let k1 = found.k1.clone().unwrap();
    assert_eq!(k1.found, K1Found::Determined);
    // Another grid of cells and a ladder of K1 are all that differ.
    assert!((k1.k1 - 0.6).abs() < 0.02, "{}", k1.k1);
    for (r, rate) in leg().distance_m.iter().zip(&leg().rate_mm_h) {
        assert!((found.leg.rate_at(*r) - rate).abs() < 0.25, "{r} m: {}", found.leg.rate_at(*r));
    }
    assert!(found.rms_of_mean < 0.02 && found.r_squared > 0.999, "{found:?}");
}

#[test]
fn reference_limits_of_k1_rates_and_volume_cover_at_their_rate_over_many_seeds() {
    let exact = made(&leg(), 0.6, 4.0);
    let fitter = Fitter::new(&exact, &OPTIONS).unwrap();
    let seeds = 400;
    let truth_l = leg().discharge_l_s() * 3600.0 * exact.duration_h;
    let (mut k1, mut rates, mut volume, mut total) = (0, [0; 8], 0, 0.0);
    for seed in 0..seeds {
        let found = fitter.fit(&read_with_error(&exact, seed), &OPTIONS).unwrap();
        let of_k1 = found.k1.unwrap();
        total += of_k1.k1;
        k1 += usize::from(of_k1.interval.unwrap().holds(0.6));
        for (knot, held) in rates.iter_mut().enumerate() {
            let interval = found.rate_intervals[knot];
            *held += usize::from(interval.is_some_and(|i| i.holds(leg().rate_mm_h[knot])));
        }
        volume += usize::from(found.caught_l.holds(truth_l));
    }
    let share = |held: usize| held as f64 / seeds as f64;
    let (of_k1, of_volume) = (share(k1), share(volume));
    let of_rates = rates.map(share);
    // 400 seeds: a true 90 % shows as 87–93 nineteen times in twenty. When written: K1 90.0 %, the
    // eight rates 87.8–94.0 %, volume 94.8 %, mean of K1 0.600.
    assert!((total / seeds as f64 - 0.6).abs() < 0.01);
    assert!((0.85..0.96).contains(&of_k1), "K1 {of_k1}");
    assert!(of_rates.iter().all(|rate| (0.84..0.97).contains(rate)), "{of_rates:?}");
    assert!((0.83..0.97).contains(&of_volume), "{of_volume}");
}

#[test]
fn reference_k1_is_found_with_a_leg_of_another_family_and_no_radius_given() {
    // A parabola of 13.3 m is no sum of hats on the fit's knots; the radius is not given.
    let ideal = crate::sprinkler::shape::IdealPattern::new(
        crate::sprinkler::shape::Shape::Parabolic,
        13.3,
        0.3,
    );
    let exact = made(ideal.unwrap().leg(), 0.8, 5.0);
    let options = FitOptions { radius_m: None, ..OPTIONS };
    let fitter = Fitter::new(&exact, &options).unwrap();
    let (mut held, mut total, seeds) = (0, 0.0, 200);
    for seed in 0..seeds {
        let found =
            fitter.fit(&read_with_error(&exact, 1000 + seed), &options).unwrap().k1.unwrap();
        held += usize::from(found.interval.unwrap().holds(0.8));
        total += found.k1;
    }
    let (share, mean) = (held as f64 / seeds as f64, total / seeds as f64);
    // When written: 94.0 % held, mean 0.841. The mean is off by 0.04: the price of a wrong radius.
    assert!((mean - 0.8).abs() < 0.05, "{mean}");
    assert!(share > 0.85, "{share}");
}

#[test]
fn invariant_light_wind_tells_k1_as_far_as_the_cans_do_and_still_air_does_not() {
    // At 0.5 m/s the drag's form acts already, and 441 cans see it: no rule of thumb denies that.
    let light = fit(&read_with_error(&made(&leg(), 0.6, 0.5), 1), &OPTIONS).unwrap();
    let k1 = light.k1.unwrap();
    assert!(k1.found == K1Found::Determined && k1.interval.unwrap().holds(0.6), "{k1:?}");
    let mut still = made(&leg(), 0.6, 0.0);
    still.wind.clear();
    let found = fit(&still, &OPTIONS).unwrap();
    assert_eq!(found.k1, None);
    let caught = found.volume.unwrap().caught_l / 2.0 / 3600.0;
    assert!((caught / leg().discharge_l_s() - 1.0).abs() < 0.01, "{caught}");
}

#[test]
fn closed_cans_that_show_no_pattern_are_not_explained() {
    let mut test = made(&leg(), 0.6, 4.0);
    assert!(!fit(&read_with_error(&test, 1), &OPTIONS).unwrap().explains_nothing());
    // Any order of depths that has nothing to do with the distance.
    for (index, can) in test.cans.iter_mut().enumerate() {
        can.depth_mm = Some(1.0 + ((index * 7919) % 101) as f64 / 50.0);
    }
    let found = fit(&test, &OPTIONS).unwrap();
    assert!(found.explains_nothing(), "{}", found.r_squared);
}

#[test]
fn closed_a_radial_leg_is_fitted_where_it_is_linear() {
    let mut test = single_grid(1.0, 1.0, 0.0);
    test.kind = Kind::Leg;
    test.cans = (0..15)
        .map(|i| {
            let x_m = f64::from(i) + 0.5;
            let depth_mm = Some(2.0 * (7.5 - 0.5 * x_m).max(0.0));
            crate::catch::Can { x_m, y_m: 0.0, depth_mm, line: 0 }
        })
        .collect();
    let options = FitOptions { radius_m: Some(15.0), ..OPTIONS };
    let found = fit(&test, &options).unwrap();
    for r in [0.0, 3.0, 7.0, 12.0] {
        assert!((found.leg.rate_at(r) - (7.5 - 0.5 * r)).abs() < 1e-6);
    }
    assert!(found.k1.is_none() && found.rms_mm_h < 1e-6);
}

#[test]
fn invariant_what_cannot_be_fitted_is_refused_with_its_reason() {
    let mut test = made(&leg(), 0.6, 4.0);
    test.nozzle.pressure_kpa = None;
    assert_eq!(fit(&test, &OPTIONS).unwrap_err(), CatchProblem::NotNoted("pressure"));
    let mut few = made(&leg(), 0.6, 4.0);
    few.cans.truncate(3);
    assert!(fit(&few, &OPTIONS).is_err());
    let mut dry = made(&leg(), 0.6, 4.0);
    dry.cans.iter_mut().for_each(|can| can.depth_mm = Some(0.0));
    assert_eq!(fit(&dry, &OPTIONS).unwrap_err(), CatchProblem::Dry);
    assert!(
        fit(
            &made(&leg(), 0.6, 4.0),
            &FitOptions { drag: DragCorrection { k2: 2.0, ..DRAG }, ..OPTIONS }
        )
        .is_err()
    );
}
