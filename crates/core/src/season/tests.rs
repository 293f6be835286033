//! What judges a whole season: published overlaps of ideal shapes, identities, water, symmetry.

use super::*;
use crate::grid::Grid;
use crate::lateral::{
    Condition, Discharges, EdgeTreatment, Lateral, Lines, Machine, Outlets, SetOrder, Wheel,
};
use crate::model::{Alternative, Field, Scenario};
use crate::rotation::{Rotation, Shift};
use crate::schedule::{Calendar, Openings, SeasonLength};
use crate::season::RunControl;
use crate::sprinkler::losses::Losses;
use crate::sprinkler::shape::{IdealPattern, Shape};
use crate::sprinkler::{DragCorrection, DragForm, Jet, Launch, Sprinkler};
use crate::units::M_PER_FT;
use crate::weather::{AssumedAir, KeptWinds, WeatherSource, Wind, WindClimate};
use jiff::civil::date;
use proptest::prelude::*;

pub(crate) const FT: f64 = M_PER_FT;

/// A sprinkler of an ideal shape, wetted diameter in feet, 4.98 gpm (9/64 in nozzle sheet, 50 psi).
pub(crate) fn sprinkler(shape: Shape, diameter_ft: f64) -> Sprinkler {
    let pattern = IdealPattern::new(shape, 0.5 * diameter_ft * FT, 0.3142).unwrap();
    let launch = Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.2 };
    Sprinkler {
        jets: vec![Jet::new(pattern, launch)],
        drag: DragCorrection {
            form: DragForm::AirAndWind,
            k1: 0.5,
            k2: 0.2,
            turbulence: 0.0,
            ..DragCorrection::NONE
        },
        flow_control: None,
    }
}

pub(crate) fn alternative(name: &str, shifts_ft: &[f64], sprinkler: Sprinkler) -> Alternative {
    let shift = |across_ft: &f64| Shift { across_m: across_ft * FT, along_m: 0.0 };
    let wheel = Wheel::new(15.0 * FT, 20.0);
    Alternative {
        name: name.into(),
        lateral: Lateral {
            machine: Machine::WheelLine(wheel),
            sprinklers: 6,
            sprinkler_spacing_m: 40.0 * FT,
            first_sprinkler_m: 20.0 * FT,
            lines: Lines::default(),
        },
        outlets: Outlets {
            spacing_m: 60.0 * FT,
            first_m: 30.0 * FT,
            count: 6,
            reach_m: 30.0 * FT,
            field_width_m: f64::INFINITY,
        },
        rotation: Rotation::new(shifts_ft.iter().map(shift).collect()).unwrap(),
        sprinkler,
        edges: EdgeTreatment::Shift,
        calendar: None,
        feed: None,
        discharges: Discharges::default(),
        condition: Condition::default(),
    }
}

pub(crate) fn scenario(cell_ft: f64, passes: usize, alternatives: Vec<Alternative>) -> Scenario {
    Scenario {
        title: "test".into(),
        field: Field {
            grid: Grid::over(240.0 * FT, 360.0 * FT, cell_ft * FT),
            travel_bearing_deg: 30.0,
            boundary: None,
        },
        calendar: Calendar {
            start: date(2026, 5, 4).at(6, 0, 0, 0),
            length: SeasonLength::Passes(passes),
            set_time_h: 11.5,
            move_gap_h: 0.5,
            sets_a_day: Some(2),
            return_time_h: 0.0,
            idle_h: 0.0,
            pass_every_h: None,
            order: SetOrder::DryReturn,
            openings: Openings::default(),
            clock: crate::clock::FieldClock::default(),
        },
        weather: WeatherSource::Still,
        assumed_air: AssumedAir { temperature_c: 20.0, relative_humidity: 0.5 },
        losses: Losses::Fraction(0.0),
        alternatives,
        seed: 1,
        canopy_height_m: None,
        smoothing_m: 0.0,
        interior_margin_given_m: None,
        called: None,
        calibration: None,
    }
}

pub(crate) fn steady(speed_m_s: f64, from_deg: f64) -> WeatherSource {
    WeatherSource::Steady { wind: Wind { speed_m_s, from_deg }, measured_at_m: 2.0 }
}

/// A wind that changes from hour to hour, with this mean by day.
pub(crate) fn windy(day_mean_m_s: f64) -> WeatherSource {
    WeatherSource::Generated(WindClimate {
        day_mean_m_s,
        night_mean_m_s: 2.0,
        weibull_shape: 2.0,
        prevailing_from_deg: 240.0,
        night_prevailing_from_deg: 240.0,
        direction_spread_deg: 40.0,
        speed_persistence: 0.6,
        direction_persistence: 0.7,
        spell_share: 0.5,
        spell_length_h: 18.0,
        measured_at_m: 2.0,
        kept: KeptWinds::default(),
    })
}

fn interior(outcome: &Outcome, alternative: usize) -> (f64, f64) {
    let figures = outcome.alternatives[alternative].season_figures().interior.unwrap();
    (100.0 * figures.cu, 100.0 * figures.du_lq)
}

#[test]
fn published_ideal_shapes_at_40_by_60_ft_fixed_and_with_a_30_ft_offset() {
    // Ideal profiles after Christiansen 1942; figures derived from the definitions on a 90 × 90
    // grid of the 40 × 60 ft cell: CU/DU fixed, CU/DU of the offset pair. Tolerance 0.1 point.
    for (shape, diameter_ft, fixed, pair) in [
        (Shape::Triangular, 80.0, (73.16, 63.53), (96.61, 93.86)),
        (Shape::Triangular, 90.0, (84.58, 80.21), (96.84, 94.22)),
        (Shape::Triangular, 100.0, (93.11, 89.55), (97.47, 96.07)),
        (Shape::Elliptical, 80.0, (87.49, 79.66), (90.28, 82.35)),
        (Shape::Elliptical, 90.0, (91.76, 88.45), (93.40, 91.63)),
        (Shape::Elliptical, 100.0, (88.67, 82.62), (96.12, 93.69)),
        (Shape::Parabolic, 80.0, (79.50, 72.88), (92.56, 87.36)),
        (Shape::Parabolic, 90.0, (91.15, 86.17), (93.80, 90.39)),
        (Shape::Parabolic, 100.0, (95.31, 93.39), (96.33, 95.51)),
    ] {
        let sprinkler = sprinkler(shape, diameter_ft);
        let both = vec![
            alternative("fixed", &[0.0], sprinkler.clone()),
            alternative("pair", &[0.0, 30.0], sprinkler),
        ];
        let outcome = run(&scenario(0.5, 2, both), RunControl::default()).unwrap();
        for (found, wanted) in [(interior(&outcome, 0), fixed), (interior(&outcome, 1), pair)] {
            assert!(
                (found.0 - wanted.0).abs() <= 0.1 && (found.1 - wanted.1).abs() <= 0.1,
                "{shape:?} {diameter_ft} ft: {found:.3?} against {wanted:?}"
            );
        }
    }
}

#[test]
fn closed_an_offset_pair_is_the_pattern_at_half_the_spacing() {
    // Exact in still air: two shifts half an outlet spacing apart lay what one line lays at half
    // the spacing.
    let sprinkler = sprinkler(Shape::Triangular, 90.0);
    let pair = alternative("pair", &[0.0, 30.0], sprinkler.clone());
    let mut closer = alternative("closer", &[0.0], sprinkler);
    closer.outlets.spacing_m = 30.0 * FT;
    closer.outlets.count = 12;
    let (two, one) = (
        run(&scenario(2.0, 2, vec![pair]), RunControl::default()).unwrap(),
        run(&scenario(2.0, 1, vec![closer]), RunControl::default()).unwrap(),
    );
    let (two, one) = (two.alternatives[0].season_depth_mm(), one.alternatives[0].season_depth_mm());
    assert!(two.iter().zip(one).all(|(a, b)| (a - b).abs() < 1e-12));
}

#[test]
fn closed_mean_depth_is_discharge_over_spacing() {
    // 4.98 gpm (0.3142 L/s) at 40 × 60 ft: 5.07 mm/h; 11.5 h at 10 % losses: 52.5 mm.
    let mut season =
        scenario(2.0, 1, vec![alternative("a", &[0.0], sprinkler(Shape::Parabolic, 90.0))]);
    season.losses = Losses::Fraction(0.1);
    let outcome = run(&season, RunControl::default()).unwrap();
    let figures = outcome.alternatives[0].season_figures().interior.unwrap();
    let rate_mm_h = 0.3142 * 3600.0 / (40.0 * 60.0 * FT * FT);
    assert!((rate_mm_h - 5.07).abs() < 0.005);
    // The mean over whole periods of the pattern is exact; the interior holds 3 × 4 of them.
    assert!((figures.mean_depth_mm / (0.9 * 11.5 * rate_mm_h) - 1.0).abs() < 1e-9);
}

#[test]
fn closed_still_air_passes_are_all_alike_and_split_is_all_systematic() {
    let outcome = run(
        &scenario(2.0, 3, vec![alternative("a", &[0.0], sprinkler(Shape::Triangular, 90.0))]),
        RunControl::default(),
    )
    .unwrap();
    let split = outcome.alternatives[0].split.unwrap();
    // In still air the cells' own CV by Hart's factor; what that misses of CU is told.
    let cv = outcome.alternatives[0].season_figures().interior.unwrap().cv;
    let hart = (2.0 / std::f64::consts::PI).sqrt();
    assert!((split.systematic.value() - hart * cv).abs() < 1e-9 && split.random.value() < 1e-6);
    let (cu, _) = interior(&outcome, 0);
    let miss = (hart * cv - (1.0 - cu / 100.0)).abs();
    assert!((outcome.alternatives[0].split_miss.unwrap() - miss).abs() < 1e-9);
    let after: Vec<usize> =
        outcome.alternatives[0].snapshots.iter().map(|s| s.after_pass).collect();
    assert_eq!(after, [1, 2]);
}

#[test]
fn invariant_a_rotation_against_itself_differs_by_exactly_nothing() {
    let sprinkler = sprinkler(Shape::Elliptical, 90.0);
    let both = vec![
        alternative("one", &[0.0, 15.0], sprinkler.clone()),
        alternative("two", &[0.0, 15.0], sprinkler),
    ];
    let mut season = scenario(2.0, 3, both);
    season.weather = steady(3.3, 200.0);
    let outcome = run(&season, RunControl::default()).unwrap();
    let [one, two] = &outcome.alternatives[..] else { panic!("two alternatives") };
    assert_eq!(one.season_depth_mm(), two.season_depth_mm());
    assert_eq!(one.passes, two.passes);
}

#[test]
fn invariant_threads_change_no_bit() {
    let sprinkler = sprinkler(Shape::Parabolic, 88.0);
    let mut season = scenario(
        2.0,
        3,
        vec![
            alternative("fixed", &[0.0], sprinkler.clone()),
            alternative("three", &[0.0, 15.0, -15.0], sprinkler),
        ],
    );
    season.weather = windy(3.5);
    season.losses = Losses::PlayanDayNight;
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| run(&season, RunControl::default())).unwrap()
    };
    let (one, two) = (with(1), with(2));
    for (a, b) in one.alternatives.iter().zip(&two.alternatives) {
        assert_eq!(a.season_depth_mm(), b.season_depth_mm());
        assert_eq!((&a.passes, a.water, a.split), (&b.passes, b.water, b.split));
    }
}

#[test]
fn closed_a_run_stops_when_told_and_says_how_far_it_came() {
    let season = scenario(4.0, 5, vec![alternative("a", &[0.0], sprinkler(Shape::Uniform, 90.0))]);
    let stopped = run(&season, RunControl::new(&|progress| progress.done < 2)).unwrap_err();
    assert_eq!(stopped, SeasonError::Stopped { done: 2, total: 5 });
}

#[test]
fn closed_wind_pushes_the_water_the_way_it_blows() {
    // Travel bearing 30°, so +y points to 30° and a wind from 210° pushes along +y.
    let mut season =
        scenario(2.0, 1, vec![alternative("a", &[0.0], sprinkler(Shape::Triangular, 90.0))]);
    let center = |weather: WeatherSource, season: &mut Scenario| {
        season.weather = weather;
        season.alternatives[0].outlets.count = 1;
        season.alternatives[0].outlets.first_m = 180.0 * FT;
        let outcome = run(season, RunControl::default()).unwrap();
        let depth = outcome.alternatives[0].season_depth_mm().clone();
        let moment = |of: &dyn Fn((usize, usize)) -> usize| {
            depth.indexed_iter().map(|(at, d)| d * of(at) as f64).sum::<f64>() / depth.sum()
        };
        (moment(&|at| at.1) * 2.0 + 1.0, moment(&|at| at.0) * 2.0 + 1.0)
    };
    let (x, y) = center(WeatherSource::Still, &mut season);
    assert!((x - 120.0).abs() < 1e-6 && (y - 180.0).abs() < 1e-6, "{x} {y}");
    let (_, along_y) = center(steady(4.0, 210.0), &mut season);
    assert!(along_y > y + 2.0, "{along_y}");
    let (along_x, still_y) = center(steady(4.0, 300.0), &mut season);
    assert!(along_x > x + 1.0 && (still_y - y).abs() < 0.05, "{along_x} {still_y}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]
    #[test]
    fn invariant_water_balances_in_any_wind_and_off_the_field_too(
        speed in 0.0f64..9.0, from in 0.0f64..360.0, loss in 0.0f64..0.4, first in -20.0f64..60.0
    ) {
        let mut one = alternative("a", &[0.0, 15.0], sprinkler(Shape::Parabolic, 92.0));
        one.outlets.first_m = first * FT;
        let mut season = scenario(2.0, 2, vec![one]);
        season.weather = steady(speed, from);
        season.losses = Losses::Fraction(loss);
        let water = run(&season, RunControl::default()).unwrap().alternatives[0].water;
        prop_assert!(water.imbalance().abs() < 1e-9, "{water:?}");
        prop_assert!(water.off_field_m3 >= 0.0 && water.on_field_m3 > 0.0);
    }

    #[test]
    fn invariant_mirrored_field_and_wind_give_the_mirrored_depth(
        speed in 0.5f64..8.0, off_travel in 0.0f64..360.0
    ) {
        // Mirror in the y axis: the wind's angle off the travel bearing changes sign.
        let depth = |off_deg: f64| {
            let mut season =
                scenario(2.0, 1, vec![alternative("a", &[0.0], sprinkler(Shape::Elliptical, 86.0))]);
            season.weather = steady(speed, 30.0 + off_deg);
            run(&season, RunControl::default()).unwrap().alternatives[0].season_depth_mm().clone()
        };
        let (left, mut right) = (depth(off_travel), depth(-off_travel));
        right.invert_axis(ndarray::Axis(1));
        let peak = left.iter().copied().fold(0.0, f64::max);
        prop_assert!(left.iter().zip(&right).all(|(a, b)| (a - b).abs() < 1e-9 * peak));
    }

    #[test]
    fn invariant_more_water_scales_depth_and_leaves_uniformity(factor in 0.2f64..5.0) {
        let season = |set_time_h: f64| {
            let mut season =
                scenario(4.0, 1, vec![alternative("a", &[0.0], sprinkler(Shape::Triangular, 86.0))]);
            season.weather = steady(3.0, 77.0);
            season.calendar.sets_a_day = None;
            season.calendar.set_time_h = set_time_h;
            run(&season, RunControl::default()).unwrap().alternatives[0].season_figures().interior.unwrap()
        };
        let (once, more) = (season(6.0), season(6.0 * factor));
        prop_assert!((more.mean_depth_mm / once.mean_depth_mm / factor - 1.0).abs() < 1e-9);
        prop_assert!((more.cu - once.cu).abs() < 1e-9 && (more.du_lq - once.du_lq).abs() < 1e-9);
    }
}
