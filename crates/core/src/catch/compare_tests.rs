use super::super::rig::{Rig, simulate};
use super::super::tests::single_grid;
use super::super::{Kind, Lines};
use super::*;
use crate::sprinkler::losses::Losses;
use crate::sprinkler::{DragCorrection, DragForm, Jet, Launch, Leg, Sprinkler};
use crate::weather::AssumedAir;

fn sprinkler() -> Sprinkler {
    let launch = Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
    let leg = Leg::new(vec![0.0, 12.0], vec![6.0, 0.0]).unwrap();
    Sprinkler {
        jets: vec![Jet::new(leg, launch)],
        drag: DragCorrection {
            form: DragForm::AirAndWind,
            k1: 0.8,
            k2: 0.2,
            turbulence: 0.1,
            ..DragCorrection::NONE
        },
        flow_control: None,
    }
}

fn rig(sprinkler: &Sprinkler, loss: f64) -> Rig<'_> {
    Rig {
        sprinkler,
        sprinkler_spacing_m: 9.0,
        losses: Losses::Fraction(loss),
        losses_factor: 1.0,
        assumed_air: AssumedAir { temperature_c: 20.0, relative_humidity: 0.5 },
    }
}

/// Cans in one period of 9 × 12 m between two of many laterals.
fn between(wind_m_s: f64) -> CatchTest {
    let mut test = single_grid(12.0, 1.0, wind_m_s);
    test.cans.retain(|c| (0.0..9.0).contains(&c.x_m) && (0.0..12.0).contains(&c.y_m));
    test.kind = Kind::Lines(Lines {
        at_m: vec![-24.0, -12.0, 0.0, 12.0, 24.0, 36.0],
        sprinkler_x_m: 0.0,
        sprinkler_spacing_m: Some(9.0),
        outlet_spacing_m: Some(12.0),
    });
    test
}

#[test]
fn invariant_all_of_the_water_falls_on_a_period_whatever_the_wind() {
    let sprinkler = sprinkler();
    for wind_m_s in [0.0, 3.0, 6.0] {
        let test = between(wind_m_s);
        let depths = simulate(&test, &rig(&sprinkler, 0.1)).unwrap();
        // One sprinkler's water over its 9 × 12 m, less a tenth, in two hours.
        let wanted = sprinkler.discharge_l_s() * 3600.0 * 2.0 * 0.9 / 108.0;
        let mean = depths.iter().sum::<f64>() / depths.len() as f64;
        assert!((mean / wanted - 1.0).abs() < 0.01, "{wind_m_s} m/s: {mean} {wanted}");
    }
}

#[test]
fn reference_still_air_is_the_leg_summed_over_the_sprinklers() {
    let sprinkler = sprinkler();
    let test = between(0.0);
    let depths = simulate(&test, &rig(&sprinkler, 0.0)).unwrap();
    for (can, depth) in test.cans.iter().zip(depths) {
        let mut sum = 0.0;
        for line in -2..=3 {
            for k in -3..=3 {
                let (dx, dy) = (can.x_m - 9.0 * f64::from(k), can.y_m - 12.0 * f64::from(line));
                sum += 2.0 * sprinkler.jets[0].leg().rate_at(dx.hypot(dy));
            }
        }
        // On the top of a cone a cell's mean lies under its middle.
        assert!((depth - sum).abs() < 0.02 * sum + 0.15, "{can:?}: {depth} {sum}");
    }
}

#[test]
fn closed_figures_of_the_differences() {
    let mut test = between(0.0);
    test.cans.truncate(4);
    for (can, depth) in test.cans.iter_mut().zip([1.0, 2.0, 3.0, 4.0]) {
        can.depth_mm = Some(depth);
    }
    let found = compare(&test, &[2.0, 4.0, 6.0, 8.0], 0.9).unwrap();
    assert!((found.correlation.unwrap() - 1.0).abs() < 1e-12);
    assert!((found.mean_difference_mm - 2.5).abs() < 1e-12);
    // Differences 1, 2, 3, 4: √(30/4); over their means both are the same.
    assert!((found.rms_mm - 7.5_f64.sqrt()).abs() < 1e-12 && found.pattern_rms < 1e-12);
    assert!((found.simulated.cu - found.measured.figures.cu).abs() < 1e-12);
    let level = compare(&test, &[5.0; 4], 0.9).unwrap();
    assert_eq!(level.correlation, None);
    assert!(compare(&test, &[5.0; 3], 0.9).is_err());
    test.cans[0].depth_mm = None;
    assert!(compare(&test, &[5.0; 4], 0.9).is_err());
}
