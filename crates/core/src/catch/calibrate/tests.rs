mod farms;

use super::super::rig::Fineness;
use super::super::tests::single_grid;
use super::super::{Kind, Lines, WindReading};
use super::study::simulated;
use super::*;
use crate::doubt::table::Doubt;
use crate::sprinkler::losses::Losses;
use crate::sprinkler::shape::{IdealPattern, Shape};
use crate::sprinkler::{DragCorrection, DragForm, Jet, Launch, Pattern as _, Sprinkler};
use crate::weather::AssumedAir;
use rand::SeedableRng;
use rand_distr::{Distribution, Normal};

const FEW: CalibrationOptions = CalibrationOptions {
    can_error: Some(0.05),
    pattern_error: 0.10,
    runs: 160,
    draws: 4096,
    points: 64,
};

fn sprinkler() -> Sprinkler {
    let launch = Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
    let pattern = IdealPattern::new(Shape::Elliptical, 13.5, 0.32).unwrap();
    Sprinkler {
        jets: vec![Jet::new(pattern.leg().clone(), launch)],
        drag: DragCorrection {
            form: DragForm::AirAndGround,
            k1: 0.3,
            k2: 0.3,
            turbulence: 0.05,
            jet_length_m: 1.5,
            flattens: true,
        },
        flow_control: None,
    }
}

fn rig(sprinkler: &Sprinkler) -> Rig<'_> {
    Rig {
        sprinkler,
        sprinkler_spacing_m: 12.0,
        losses: Losses::Fraction(0.1),
        losses_factor: 1.0,
        assumed_air: AssumedAir { temperature_c: 20.0, relative_humidity: 0.5 },
    }
}

/// Cans 2 m by 3 m apart on both sides of one lateral.
fn under_one(winds_m_s: &[f64]) -> CatchTest {
    let mut test = single_grid(18.0, 1.0, 0.0);
    test.cans.retain(|can| {
        let (x, y) = (can.x_m + 18.0, can.y_m + 18.0);
        x % 2.0 == 1.0 && x < 12.0 && y % 3.0 == 1.0
    });
    test.nozzle.discharge_l_s = Some(sprinkler().discharge_l_s());
    test.kind = Kind::Lines(Lines {
        at_m: vec![0.0],
        sprinkler_x_m: -17.0,
        sprinkler_spacing_m: Some(12.0),
        outlet_spacing_m: Some(18.0),
    });
    let wind =
        |speed_m_s: &f64| WindReading { hours: 0.25, speed_m_s: *speed_m_s, from_deg: 200.0 };
    test.wind = winds_m_s.iter().map(wind).collect();
    test
}

/// Every other of them: 30 cans or so, for quick tests.
fn few(winds_m_s: &[f64]) -> CatchTest {
    let mut test = under_one(winds_m_s);
    test.cans.retain(|can| (can.x_m + 17.0) % 4.0 == 0.0);
    test
}

fn with_depths(test: &CatchTest, depths_mm: &[f64]) -> CatchTest {
    let mut read = test.clone();
    for (can, depth_mm) in read.cans.iter_mut().zip(depths_mm) {
        can.depth_mm = Some(depth_mm.max(0.0));
    }
    read
}

/// Draws the errors that a study expects: reading, pattern and level.
struct Noise {
    random: rand::rngs::ChaCha8Rng,
    factor: nalgebra::DMatrix<f64>,
}

impl Noise {
    fn of(study: &Study, seed: u64) -> Self {
        let factor = study.errors().clone().cholesky().unwrap().l();
        Self { random: rand::rngs::ChaCha8Rng::seed_from_u64(seed), factor }
    }

    /// The test as it was read: errors in the cans that take part.
    fn read(&mut self, study: &Study, test: &CatchTest, exact: &[f64]) -> CatchTest {
        let unit = Normal::new(0.0, 1.0).unwrap();
        let drawn =
            nalgebra::DVector::from_fn(study.cans.len(), |_, _| unit.sample(&mut self.random));
        let off = &self.factor * drawn;
        let mut read = with_depths(test, exact);
        for (can, off) in study.cans.iter().zip(off.iter()) {
            read.cans[*can].depth_mm = Some((exact[*can] + off).max(0.0));
        }
        read
    }

    fn share(&mut self) -> f64 {
        rand_distr::Uniform::new(0.0, 1.0).unwrap().sample(&mut self.random)
    }
}

/// A study of a test's layout.
fn study(test: &CatchTest, rig: &Rig<'_>, prior: &Prior, options: &CalibrationOptions) -> Study {
    let exact = simulated(test, rig, &SprinklerPoint::of(prior.run(0)), &Fineness::COARSE).unwrap();
    Study::of(&with_depths(test, &exact), rig, (prior, options), &|_| true).unwrap()
}

#[derive(Default)]
struct Cover {
    held: [usize; NUMBERS],
    kept: [f64; NUMBERS],
    refused: usize,
    tests: usize,
}

/// Tests made with numbers drawn from the prior and errors as stated, each calibrated by itself.
fn cover(layouts: &[CatchTest], farms: usize, options: &CalibrationOptions) -> Cover {
    let sprinkler = sprinkler();
    let rig = rig(&sprinkler);
    let prior = Prior::around(&sprinkler.drag);
    let studies: Vec<Study> =
        layouts.iter().map(|test| study(test, &rig, &prior, options)).collect();
    let mut noises: Vec<Noise> =
        studies.iter().zip(1..).map(|(study, seed)| Noise::of(study, seed)).collect();
    let mut cover = Cover { tests: farms, ..Cover::default() };
    for _ in 0..farms {
        let truth: [f64; NUMBERS] =
            std::array::from_fn(|number| prior.quantile(number, noises[0].share()));
        let point = SprinklerPoint::of(truth);
        let evidence: Vec<Evidence> = layouts
            .iter()
            .zip(&studies)
            .zip(&mut noises)
            .map(|((test, study), noise)| {
                let exact = simulated(test, &rig, &point, &Fineness::default()).unwrap();
                study.evidence(&noise.read(study, test, &exact)).unwrap()
            })
            .collect();
        let weighted = weigh(&prior, &evidence, options.draws);
        cover.refused += usize::from(matches!(
            checked(&prior, &weighted, &evidence),
            Err(CalibrationProblem::CannotFollow { .. } | CalibrationProblem::TooFew { .. })
        ));
        for (number, narrowed) in narrowed(&prior, &weighted).iter().enumerate() {
            let [low, _, high] = narrowed.posterior;
            cover.held[number] += usize::from((low..=high).contains(&truth[number]));
            cover.kept[number] += narrowed.kept() / farms as f64;
        }
    }
    cover
}

fn found(test: &CatchTest) -> Result<Calibrated, CalibrationProblem> {
    let sprinkler = sprinkler();
    calibrate(&rig(&sprinkler), std::slice::from_ref(test), &FEW, &|_| true)
}

fn made(test: &CatchTest, truth: [f64; NUMBERS]) -> CatchTest {
    let sprinkler = sprinkler();
    let point = SprinklerPoint::of(truth);
    let depths = simulated(test, &rig(&sprinkler), &point, &Fineness::COARSE).unwrap();
    with_depths(test, &depths)
}

#[test]
fn reference_a_test_in_wind_narrows_what_acts_in_wind_around_the_truth() {
    let truth = [0.6, 0.2, 0.08, 1.0, 0.98, 1.2];
    let found = found(&made(&few(&[3.5]), truth)).unwrap();
    for narrowed in &found.doubts {
        let [low, _, high] = narrowed.posterior;
        let number = TESTED.iter().position(|doubt| *doubt == narrowed.doubt).unwrap();
        assert!((low..=high).contains(&truth[number]), "{narrowed:?}");
    }
    let kept: Vec<f64> = found.doubts.iter().map(Narrowed::kept).collect();
    assert!(kept[1] < 0.7 && kept[3] < 0.6 && kept[4] < 0.8, "{kept:?}");
    assert!(found.effective > 500.0 && found.points.len() == FEW.points);
    // Far from the prior's middle a sound can may be taken for a bad one.
    assert!(found.tests[0].left_out.len() <= 2, "{:?}", found.tests[0].left_out);
    assert!(found.tests[0].surface_error < 0.10, "{}", found.tests[0].surface_error);
    assert!((found.tests[0].discharge_ratio - 1.0).abs() < 1e-9);
}

#[test]
fn closed_still_air_says_nothing_of_what_acts_in_wind() {
    let found = found(&made(&few(&[0.0]), [0.6, 0.2, 0.08, 1.0, 1.05, 1.2])).unwrap();
    let kept = |doubt: Doubt| found.doubts.iter().find(|d| d.doubt == doubt).unwrap();
    for doubt in [Doubt::DragK1, Doubt::DragK2, Doubt::Turbulence, Doubt::JetLength] {
        let share = kept(doubt).kept();
        assert!((share - 1.0).abs() < 0.08 && !kept(doubt).is_narrowed(), "{doubt:?}: {share}");
    }
    assert!(kept(Doubt::Radius).is_narrowed());
}

#[test]
fn closed_what_cannot_be_informed_is_refused() {
    let none = calibrate(&rig(&sprinkler()), &[], &FEW, &|_| true);
    assert_eq!(none, Err(CalibrationProblem::NoTest));
    // Water where no draw lays any: a level pass out to the last can.
    let level = with_depths(&few(&[3.5]), &vec![6.0; few(&[3.5]).cans.len()]);
    let refused = found(&level).unwrap_err();
    assert!(matches!(refused, CalibrationProblem::CannotFollow { .. }), "{refused}");
    assert!(refused.to_string().contains("cannot follow this test"), "{refused}");
    // Cans so bad that they say nothing.
    let test = made(&few(&[3.5]), [0.6, 0.2, 0.08, 1.0, 1.0, 1.0]);
    let options = CalibrationOptions { can_error: Some(5.0), pattern_error: 1.0, ..FEW };
    let refused = calibrate(&rig(&sprinkler()), std::slice::from_ref(&test), &options, &|_| true)
        .unwrap_err();
    assert!(matches!(refused, CalibrationProblem::NothingNarrowed(_)), "{refused}");
    let stopped =
        calibrate(&rig(&sprinkler()), std::slice::from_ref(&test), &FEW, &|_| false).unwrap_err();
    assert!(matches!(stopped, CalibrationProblem::Stopped { done: 32, .. }), "{stopped}");
    let mut dry = test;
    dry.cans.iter_mut().for_each(|can| can.depth_mm = Some(0.0));
    assert_eq!(found(&dry), Err(CatchProblem::Dry.into()));
}

#[test]
fn invariant_a_spilled_can_moves_nothing_and_a_run_repeats_to_the_digit() {
    let test = made(&few(&[3.5]), [0.6, 0.2, 0.08, 1.0, 1.0, 1.0]);
    let mut spilled = test.clone();
    let at = spilled.cans.iter().position(|can| can.depth_mm.unwrap_or(0.0) > 4.0).unwrap();
    spilled.cans[at].depth_mm = Some(0.2);
    let (whole, spilled) = (found(&test).unwrap(), found(&spilled).unwrap());
    // Its neighbors may be named with it.
    let left_out = &spilled.tests[0].left_out;
    assert!(left_out.contains(&at) && left_out.len() <= 4, "{left_out:?}");
    assert!(!whole.tests[0].left_out.contains(&at));
    for (a, b) in whole.doubts.iter().zip(&spilled.doubts) {
        let off = (a.posterior[1] - b.posterior[1]).abs() / (a.prior[2] - a.prior[0]);
        assert!(off < 0.08, "{a:?} {b:?}");
    }
    assert_eq!(whole, found(&test).unwrap());
}

#[test]
fn reference_ranges_of_nine_tenths_cover_the_truth_nine_times_in_ten() {
    let found = cover(&[few(&[3.5])], 60, &FEW);
    // Six numbers of 60 made farms: of 360, 99 % of samples of a true 90 % hold 309 to 338 (binomial,
    // as if the six were independent); of 60 by itself 48 to 59. When written: see the long test.
    let all: usize = found.held.iter().sum();
    assert!((309..=338).contains(&all), "{:?}", found.held);
    assert!(found.held.iter().all(|held| (47..=60).contains(held)), "{:?}", found.held);
    assert!(found.refused <= 2, "{}", found.refused);
}

#[test]
#[ignore = "two minutes: 200 made farms with one test and with two"]
fn reference_ranges_cover_over_two_hundred_made_farms() {
    let options = CalibrationOptions { runs: 320, ..FEW };
    let (one, two) = (under_one(&[3.1, 3.6, 2.9, 4.2]), under_one(&[1.2, 1.8, 1.5]));
    for layouts in [vec![one.clone()], vec![one, two]] {
        let found = cover(&layouts, 200, &options);
        eprintln!(
            "{} tests: held {:?} of {}, kept {:.2?}, refused {}",
            layouts.len(),
            found.held,
            found.tests,
            found.kept,
            found.refused
        );
        // 99 % of samples of 200 at a true 90 % hold 169 to 191. When written, in the order of a point's
        // numbers: one test 174, 179, 177, 181, 177, 183; two tests 172, 172, 180, 184, 179, 184. Widths
        // kept: 0.44, 0.28, 0.66, 0.28, 0.37, 0.91 and 0.33, 0.23, 0.62, 0.23, 0.20, 0.85. Refused, mostly for too few
        // effective draws of the 4096: 4 and 11.
        assert!(found.held.iter().all(|held| (169..=191).contains(held)), "{:?}", found.held);
    }
}

#[test]
fn reference_coarse_runs_lay_what_fine_ones_lay() {
    let sprinkler = sprinkler();
    let rig = rig(&sprinkler);
    let test = under_one(&[3.1, 3.6, 2.9, 4.2]);
    let mut worst = 0.0_f64;
    for truth in [[0.3, 0.3, 0.05, 1.5, 1.0, 1.0], [0.8, 0.5, 0.1, 0.8, 1.04, 1.0]] {
        let laid =
            |fine: &Fineness| simulated(&test, &rig, &SprinklerPoint::of(truth), fine).unwrap();
        let (fine, coarse) = (laid(&Fineness::default()), laid(&Fineness::COARSE));
        let mean = fine.iter().sum::<f64>() / fine.len() as f64;
        let squares: f64 = fine.iter().zip(&coarse).map(|(a, b)| (a - b).powi(2)).sum();
        worst = worst.max((squares / fine.len() as f64).sqrt() / mean);
    }
    // When written: 1.5 % of the mean depth.
    assert!(worst < 0.02, "{worst}");
}
