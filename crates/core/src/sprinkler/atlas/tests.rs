//! The atlas against the maker, over seasons.

use super::*;
use crate::sprinkler::attitude::Attitude;
use crate::sprinkler::footprint::{FootprintSettings, Phase};
use crate::sprinkler::landing::{LandingMap, LandingSettings, Winds};
use crate::sprinkler::pattern::Pattern as _;
use crate::sprinkler::shape::{IdealPattern, Shape};
use crate::sprinkler::{DragCorrection, DragForm, Jet, Launch, Leg, Sprinkler};
use crate::uniformity::{Uniformity, figures};
use crate::units::{M_PER_FT, MM_PER_IN};
use crate::weather::profile::{LogProfile, Surface};
use ndarray::{Array2, Axis, Slice};
use proptest::prelude::*;
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rayon::prelude::*;
use std::sync::LazyLock;

impl Atlas {
    /// With the sprinkler at one place.
    fn set_footprint(
        &self,
        slices: &[WindSlice],
        phase: Phase,
    ) -> Result<Footprint, SprinklerProblem> {
        let set = SetAt { slices, places: &[Places::cells_about(phase)] };
        self.footprints(&[set]).map(|mut all| all.remove(0).remove(0))
    }
}

const CELL_M: f64 = 2.0 * M_PER_FT;
const LAUNCH: Launch =
    Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.2 };
/// What scenarios start from.
pub(in crate::sprinkler) const DRAG: DragCorrection = DragCorrection {
    form: DragForm::AirAndGround,
    k1: 0.3,
    k2: 0.3,
    turbulence: 0.05,
    jet_length_m: 1.5,
    flattens: true,
};
const SETTINGS: FootprintSettings =
    FootprintSettings { rings_per_cell: 2.0, samples_per_cell: 2.0, subsamples: 4 };

/// A leg as measured: nearly even, and down to nothing over the last tenth.
pub(in crate::sprinkler) fn measured() -> Leg {
    let ft = [2.0, 6.0, 10.0, 14.0, 18.0, 22.0, 26.0, 30.0, 34.0, 38.0, 41.0, 44.0];
    let in_h = [0.165, 0.125, 0.105, 0.096, 0.091, 0.09, 0.091, 0.092, 0.091, 0.075, 0.04, 0.0];
    Leg::new(ft.map(|ft| ft * M_PER_FT).to_vec(), in_h.map(|r| r * MM_PER_IN).to_vec()).unwrap()
}

/// One that ends upright: the hardest to move by part of a cell.
pub(in crate::sprinkler) fn half_ellipse() -> Leg {
    IdealPattern::new(Shape::Elliptical, 13.7, 0.314).unwrap().leg().clone()
}

pub(in crate::sprinkler) fn maker(
    leg: &Leg,
    drag: &DragCorrection,
    settings: FootprintSettings,
) -> Arc<FootprintMaker> {
    let profile = LogProfile::new(Surface::SHORT_GRASS, 10.0).unwrap();
    let winds = Winds { profile, fastest_m_s: 12.0 };
    let fine = LandingSettings::default();
    let map = Arc::new(LandingMap::new(leg.radius_m(), &LAUNCH, drag, &winds, fine).unwrap());
    Arc::new(FootprintMaker::new(&[(leg, &map)], CELL_M, settings).unwrap())
}

const PASSES: usize = 12;
const SETS: usize = 22;
/// Rows from set to set, and columns from sprinkler to sprinkler: 60 and 40 ft.
const ROWS: usize = 30;
const COLUMNS: usize = 20;
/// Rows before the first set's.
const BEFORE: usize = 60;

/// Twelve hours of wind for every set: speed and direction that persist, calm now and then.
fn season(seed: u64) -> Vec<Vec<WindSlice>> {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let mut normal = move || (0..12).map(|_| random.random_range(-0.5..0.5)).sum::<f64>();
    let (mut strength, mut turn) = (0.0, 0.0);
    let set = |number: usize| {
        let mean_m_s = if number.is_multiple_of(2) { 3.5 } else { 2.0 };
        let hour = |hour: usize| {
            strength = 0.63 * strength + 0.78 * normal();
            turn = 0.76 * turn + 0.65 * normal();
            // Rayleigh speeds (Weibull of shape 2) by way of the normal.
            let beyond = 1.0 - crate::statistics::normal_cdf(strength);
            let speed_m_s: f64 = mean_m_s / 0.886 * (-beyond.max(1e-9).ln()).sqrt();
            let speed_m_s = if speed_m_s < 0.3 { 0.0 } else { speed_m_s.min(11.9) };
            let net = 1.0 - 0.05 - 0.02 * speed_m_s.min(8.0);
            let hours = if hour == 11 { 0.5 } else { 1.0 };
            WindSlice { hours, net, speed_m_s, towards_rad: 2.6 + 0.8 * turn }
        };
        (0..12).map(hour).collect()
    };
    (0..PASSES * SETS).map(set).collect()
}

/// Where a set stands, in cells across, in pass `pass`.
type Standing = fn(pass: usize, set: usize) -> f64;

fn fixed(_: usize, set: usize) -> f64 {
    (set * ROWS) as f64
}
fn two_stops(pass: usize, set: usize) -> f64 {
    (set * ROWS) as f64 + if pass.is_multiple_of(2) { -7.5 } else { 7.5 }
}
fn drifting(pass: usize, set: usize) -> f64 {
    (set * ROWS) as f64 + 0.37 * set as f64 - 4.0 + if pass.is_multiple_of(2) { -7.5 } else { 7.5 }
}

type Lay<'a> = &'a dyn Fn(&[WindSlice], Phase) -> Footprint;

/// The season's figures on one repeat along the pipe, without the outermost sets.
fn figures_of(season: &[Vec<WindSlice>], places: Standing, along: f64, lay: Lay<'_>) -> Uniformity {
    let mut depth = Array2::<f64>::zeros((2 * BEFORE + SETS * ROWS, COLUMNS));
    for (number, slices) in season.iter().enumerate() {
        let place = places(number / SETS, number % SETS);
        let footprint = lay(slices, Phase { along, across: place - place.floor() });
        for ((row, column), value) in footprint.values.indexed_iter() {
            let row = place.floor() as isize + footprint.first_row + (row + BEFORE) as isize;
            let column = footprint.first_column + column as isize;
            depth[(row as usize, column.rem_euclid(COLUMNS as isize) as usize)] += value;
        }
    }
    let inside = BEFORE + ROWS..BEFORE + (SETS - 2) * ROWS;
    figures(&depth.slice_axis(Axis(0), Slice::from(inside))).unwrap()
}

#[test]
fn reference_seasons_by_the_atlas_are_those_of_the_maker() {
    let plain = DragCorrection { turbulence: 0.0, form: DragForm::AirAndWind, ..DRAG };
    for (leg, drag, seed) in [(measured(), DRAG, 1), (half_ellipse(), plain, 2)] {
        let (maker, season) = (maker(&leg, &drag, SETTINGS), season(seed));
        let atlas = Atlas::new(Arc::clone(&maker));
        let both = |places: Standing, along: f64| {
            let exact = |set: &[WindSlice], phase| maker.set_footprint(set, phase).unwrap();
            let read = |set: &[WindSlice], phase| atlas.set_footprint(set, phase).unwrap();
            [figures_of(&season, places, along, &exact), figures_of(&season, places, along, &read)]
        };
        let found = [both(fixed, 0.0), both(two_stops, 0.3), both(drifting, 0.5)];
        let points = |figure: fn(&Uniformity) -> f64| {
            found.each_ref().map(|[exact, read]| 100.0 * (figure(read) - figure(exact)))
        };
        let (cu, du_lq) = (points(|f| f.cu), points(|f| f.du_lq));
        let told = format!("CU {cu:?} DUlq {du_lq:?}");
        assert!(cu.iter().chain(&du_lq).all(|apart| apart.abs() < 0.02), "{told}");
        // What standing elsewhere brings against the fixed pattern.
        assert!((cu[1] - cu[0]).abs() < 0.01 && (cu[2] - cu[0]).abs() < 0.01, "{told}");
    }
}

static ATLAS: LazyLock<Atlas> = LazyLock::new(|| Atlas::new(maker(&measured(), &DRAG, SETTINGS)));

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn invariant_mass(
        winds in prop::collection::vec((0.0..2.0f64, 0.0..1.0f64, 0.0..12.0f64, -4.0..4.0f64), 1..12),
        along in 0.0..=1.0f64, across in 0.0..=1.0f64,
    ) {
        let slices: Vec<WindSlice> = winds.iter().map(|&(hours, net, speed, towards_rad)| {
            let speed_m_s = if speed < 2.0 { 0.0 } else { speed };
            WindSlice { hours, net, speed_m_s, towards_rad }
        }).collect();
        let found = ATLAS.set_footprint(&slices, Phase { along, across }).unwrap();
        let litres = found.values.sum() * CELL_M * CELL_M;
        let net_hours: f64 = slices.iter().map(|slice| slice.hours * slice.net).sum();
        let expected = measured().discharge_l_s() * 3600.0 * net_hours;
        prop_assert!((litres - expected).abs() <= 1e-12 * expected, "{litres} {expected}");
        prop_assert!(found.values.iter().all(|depth| *depth >= 0.0));
    }
}

/// One value by place; 0 outside.
fn at(footprint: &Footprint, row: isize, column: isize) -> f64 {
    let place = (row - footprint.first_row, column - footprint.first_column);
    let place = (usize::try_from(place.0), usize::try_from(place.1));
    let (Ok(row), Ok(column)) = place else { return 0.0 };
    footprint.values.get((row, column)).copied().unwrap_or(0.0)
}

/// Share of the water that lies in other cells.
pub(in crate::sprinkler) fn misplaced(a: &Footprint, b: &Footprint) -> f64 {
    let places = (-80..80).flat_map(|row| (-80..80).map(move |column| (row, column)));
    let gap = places.map(|(row, column)| (at(a, row, column) - at(b, row, column)).abs());
    0.5 * gap.sum::<f64>() / a.values.sum()
}

#[test]
fn closed_at_the_speeds_that_are_laid_the_atlas_lays_what_the_maker_lays() {
    // What reading in the wind's own axes misplaces is left, wherever in its cell the sprinkler stands,
    // seen with tubes so fine that their grain is less; beside a speed that is laid, also that drops of all
    // sizes are carried alike.
    let fine = FootprintSettings { rings_per_cell: 8.0, samples_per_cell: 8.0, ..SETTINGS };
    let atlas = Atlas::new(maker(&measured(), &DRAG, fine));
    let off_corner = Phase { along: 0.3, across: 0.5 };
    for (speed_m_s, most) in [(3.0, 5e-4), (3.04, 2e-3), (0.0, 5e-4)] {
        for eighth in 0..8 {
            let towards_rad = 0.1 + f64::from(eighth) * std::f64::consts::FRAC_PI_4;
            let set = [WindSlice { hours: 1.0, net: 0.9, speed_m_s, towards_rad }];
            for phase in [Phase::CORNER, off_corner] {
                let exact = atlas.maker.set_footprint(&set, phase).unwrap();
                let share = misplaced(&exact, &atlas.set_footprint(&set, phase).unwrap());
                assert!(share < most, "{speed_m_s} {eighth} {phase:?}: {share}");
            }
        }
    }
}

#[test]
fn invariant_who_lays_a_speed_first_changes_no_bit() {
    let season = season(3);
    let on = |threads: usize, backward: bool| {
        let atlas = Atlas::new(Arc::clone(&ATLAS.maker));
        let lay = |set: &Vec<WindSlice>| {
            atlas.set_footprint(set, Phase { along: 0.2, across: 0.7 }).unwrap()
        };
        if backward {
            season[..40].iter().rev().map(lay).for_each(drop);
        }
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| season[..40].par_iter().map(lay).collect::<Vec<_>>())
    };
    let one = on(1, false);
    assert!(one == on(4, false) && one == on(2, true));
}

#[test]
fn invariant_beyond_its_memory_an_atlas_lays_the_same() {
    let (set, full) = (&season(4)[7], Atlas::new(Arc::clone(&ATLAS.maker)));
    let kept = |atlas: &Atlas| atlas.speeds[0].iter().filter(|known| known.get().is_some()).count();
    full.kept_bytes.store(MOST_BYTES, Ordering::Relaxed);
    let lay = |atlas: &Atlas| atlas.set_footprint(set, Phase::CORNER).unwrap();
    assert_eq!(lay(&full), lay(&ATLAS));
    assert!(kept(&full) == 0 && kept(&ATLAS) > 0);
}

#[test]
fn closed_a_tilted_sprinkler_is_laid_by_its_maker() {
    let jets = vec![Jet::new(measured(), LAUNCH)];
    let sprinkler = Sprinkler { jets, drag: DRAG, flow_control: None };
    let attitude =
        Attitude { roll_deg: 30.0, leveler_range_deg: 15.0, pipe_diameter_m: 0.13, riser_m: 0.3 };
    let profile = LogProfile::new(Surface::SHORT_GRASS, 10.0).unwrap();
    let winds = Winds { profile, fastest_m_s: 2.0 };
    let maker = FootprintMaker::standing(&sprinkler, attitude, &winds, CELL_M, SETTINGS).unwrap();
    let atlas = Atlas::new(Arc::new(maker));
    let set = [WindSlice { hours: 2.0, net: 0.9, speed_m_s: 1.4, towards_rad: 0.3 }];
    let exact = atlas.maker.set_footprint(&set, Phase::CORNER);
    assert!(atlas.set_footprint(&set, Phase::CORNER) == exact && exact.is_ok());
}

#[test]
fn invariant_bad_input_is_an_error_and_no_water_is_none() {
    let lay = |hours, speed_m_s| {
        let slice = WindSlice { hours, net: 1.0, speed_m_s, towards_rad: 0.0 };
        ATLAS.set_footprint(&[slice], Phase::CORNER)
    };
    assert!(lay(1.0, 13.0).is_err() && lay(f64::NAN, 1.0).is_err());
    assert!(lay(0.0, 1.0).unwrap().values.is_empty());
    assert!(ATLAS.set_footprint(&[], Phase::CORNER).unwrap().values.is_empty());
}
