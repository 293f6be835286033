//! Invariants of footprints, and how far they have converged.

use super::*;
use crate::sprinkler::pattern::Pattern;
use crate::sprinkler::shape::{IdealPattern, Shape};
use crate::sprinkler::{DragCorrection, DragForm, Launch};
use crate::units::M_PER_FT;
use crate::weather::profile::{LogProfile, Surface};
use ndarray::Array2;
use proptest::prelude::*;
use std::sync::LazyLock;

const CELL_M: f64 = 2.0 * M_PER_FT;
const LAUNCH: Launch =
    Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.2 };
const CORRECTED: DragCorrection = DragCorrection {
    form: DragForm::AirAndWind,
    k1: 0.5,
    k2: 0.2,
    turbulence: 0.0,
    ..DragCorrection::NONE
};
const GUSTY: DragCorrection = DragCorrection { turbulence: 0.1, ..CORRECTED };
const COARSE: LandingSettings = LandingSettings { classes: 20, azimuths: 13, speed_step_m_s: 1.0 };

fn leg(shape: Shape, radius_m: f64, discharge_l_s: f64) -> Leg {
    IdealPattern::new(shape, radius_m, discharge_l_s).unwrap().leg().clone()
}

fn ellipse() -> Leg {
    leg(Shape::Elliptical, 14.0, 0.314)
}

fn map(
    radius_m: f64,
    drag: &DragCorrection,
    fastest_m_s: f64,
    fine: LandingSettings,
) -> Arc<LandingMap> {
    let profile = LogProfile::new(Surface::SHORT_GRASS, 2.0).unwrap();
    let winds = Winds { profile, fastest_m_s };
    Arc::new(LandingMap::new(radius_m, &LAUNCH, drag, &winds, fine).unwrap())
}

fn set_footprint(
    jets: &[(&Leg, &Arc<LandingMap>)],
    slices: &[WindSlice],
    cell_m: f64,
    phase: Phase,
    settings: FootprintSettings,
) -> Result<Footprint, SprinklerProblem> {
    FootprintMaker::new(jets, cell_m, settings)?.set_footprint(slices, phase)
}

fn slice(speed_m_s: f64, towards_rad: f64) -> WindSlice {
    WindSlice { hours: 1.0, net: 1.0, speed_m_s, towards_rad }
}

/// One value by place, wherever the footprint was cut; 0 outside.
fn at(footprint: &Footprint, row: isize, column: isize) -> f64 {
    let place = (row - footprint.first_row, column - footprint.first_column);
    let place = (usize::try_from(place.0), usize::try_from(place.1));
    let (Ok(row), Ok(column)) = place else { return 0.0 };
    footprint.values.get((row, column)).copied().unwrap_or(0.0)
}

/// Greatest difference between two footprints, the second one's rows read through `row_of`.
fn greatest_gap(a: &Footprint, b: &Footprint, row_of: impl Fn(isize) -> isize) -> f64 {
    let places = -80..=80;
    let rows = places.clone().flat_map(|row| places.clone().map(move |column| (row, column)));
    rows.map(|(row, column)| (at(a, row, column) - at(b, row_of(row), column)).abs())
        .fold(0.0, f64::max)
}

fn peak(footprint: &Footprint) -> f64 {
    footprint.values.iter().copied().fold(0.0, f64::max)
}

/// CU (percent) where sprinklers stand at 40 × 60 ft without end: the footprint wrapped round.
fn cu_40_by_60_ft(footprint: &Footprint) -> f64 {
    let mut field = Array2::<f64>::zeros((30, 20));
    for ((row, column), value) in footprint.values.indexed_iter() {
        let row = (footprint.first_row + row as isize).rem_euclid(30) as usize;
        let column = (footprint.first_column + column as isize).rem_euclid(20) as usize;
        field[(row, column)] += value;
    }
    let mean = field.sum() / 600.0;
    100.0 * (1.0 - field.iter().map(|depth| (depth - mean).abs()).sum::<f64>() / 600.0 / mean)
}

static PAIR: LazyLock<(Arc<LandingMap>, Arc<LandingMap>)> =
    LazyLock::new(|| (map(14.0, &CORRECTED, 10.0, COARSE), map(14.0, &GUSTY, 10.0, COARSE)));

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn invariant_mass(
        winds in prop::collection::vec((0.0..2.0f64, 0.0..1.0f64, 0.0..10.0f64, -4.0..4.0f64), 1..5),
        along in 0.0..=1.0f64, across in 0.0..=1.0f64, cell_m in 0.3..2.0f64, gusty: bool,
    ) {
        let map = if gusty { &PAIR.1 } else { &PAIR.0 };
        let slices: Vec<WindSlice> = winds.iter().map(|&(hours, net, speed, towards_rad)| {
            // A fifth of the winds are calms.
            let speed_m_s = if speed < 2.0 { 0.0 } else { speed };
            WindSlice { hours, net, speed_m_s, towards_rad }
        }).collect();
        let leg = ellipse();
        let settings = FootprintSettings::default();
        let phase = Phase { along, across };
        let found = set_footprint(&[(&leg, map)], &slices, cell_m, phase, settings).unwrap();
        let litres = found.values.sum() * cell_m * cell_m;
        let net_hours: f64 = slices.iter().map(|slice| slice.hours * slice.net).sum();
        let expected = leg.discharge_l_s() * 3600.0 * net_hours;
        prop_assert!((litres - expected).abs() <= 1e-12 * expected, "{litres} {expected}");
    }

    #[test]
    fn invariant_mirror_image(
        speed in 0.0..10.0f64, towards_rad in -4.0..4.0f64,
        along in 0.0..=1.0f64, across in 0.0..=1.0f64, gusty: bool,
    ) {
        let map = if gusty { &PAIR.1 } else { &PAIR.0 };
        let leg = ellipse();
        let lay = |towards_rad, across| {
            let slices = [slice(speed, towards_rad), slice(0.0, 0.0)];
            let phase = Phase { along, across };
            let jets = [(&leg, map)];
            set_footprint(&jets, &slices, CELL_M, phase, FootprintSettings::default()).unwrap()
        };
        let (left, right) = (lay(towards_rad, across), lay(-towards_rad, 1.0 - across));
        // Offsets count from the sprinkler's cell, which is mirrored too: row i against row −i.
        prop_assert!(greatest_gap(&left, &right, |row| -row) < 1e-11 * peak(&left));
    }
}

#[test]
fn closed_still_air_is_the_radial_footprint() {
    let (leg, phase) = (ellipse(), Phase { along: 0.25, across: 0.5 });
    let jets = [(&leg, &PAIR.0)];
    let maker = FootprintMaker::new(&jets, CELL_M, FootprintSettings::default()).unwrap();
    let set = maker.set_footprint(&[slice(0.0, 1.0)], phase).unwrap();
    let still = maker.still_footprint(phase).unwrap();
    assert!(greatest_gap(&set, &still, |row| row) < 1e-12);
}

#[test]
fn closed_still_air_gives_back_the_leg_within_1_percent_of_the_peak() {
    for shape in [Shape::Triangular, Shape::Parabolic, Shape::Elliptical] {
        let leg = leg(shape, 14.0, 0.314);
        let none = map(14.0, &CORRECTED, 0.0, COARSE);
        let jets = [(&leg, &none)];
        let maker = FootprintMaker::new(&jets, CELL_M, FootprintSettings::default()).unwrap();
        let still = maker.still_footprint(Phase { along: 0.5, across: 0.5 }).unwrap();
        for column in -24..=24_isize {
            let r_m = column.abs() as f64 * CELL_M;
            // Where the half ellipse falls upright, a cell's mean is not the rate at its center.
            if shape == Shape::Elliptical && r_m > 14.0 - 2.0 * CELL_M {
                continue;
            }
            let gap = (at(&still, 0, column) - leg.rate_at(r_m)).abs() / peak(&still);
            // A cone's tip lies 0.0168 of the peak under its point: mean distance in the cell.
            let most = if column == 0 { 0.018 } else { 0.01 };
            assert!(gap < most, "{shape:?} at {r_m} m: {gap}");
        }
    }
}

#[test]
fn invariant_almost_still_air_is_still_air() {
    // All water goes through the landing map, in a wind of 1 mm/s. What differs is the lumps' width
    // (cell²/12 of variance), most at the upright edge of the half ellipse, and the grain of the
    // tubes. Measured on 2 ft cells: 1.1, 1.2 and 1.7 % of the peak, 0.01, 0.04 and 0.12 CU points.
    for (shape, most_gap, most_cu) in [
        (Shape::Triangular, 0.013, 0.05),
        (Shape::Parabolic, 0.013, 0.05),
        (Shape::Elliptical, 0.018, 0.15),
    ] {
        let leg = leg(shape, 14.0, 0.314);
        let fine = LandingSettings { speed_step_m_s: 0.001, ..COARSE };
        let map = map(14.0, &CORRECTED, 0.001, fine);
        let jets = [(&leg, &map)];
        let maker = FootprintMaker::new(&jets, CELL_M, FootprintSettings::default()).unwrap();
        let set = maker.set_footprint(&[slice(0.001, 0.7)], Phase::CORNER).unwrap();
        let still = maker.still_footprint(Phase::CORNER).unwrap();
        let gap = greatest_gap(&set, &still, |row| row) / peak(&still);
        let cu = (cu_40_by_60_ft(&set) - cu_40_by_60_ft(&still)).abs();
        assert!(gap < most_gap && cu < most_cu, "{shape:?}: {gap} of the peak, {cu} CU points");
    }
}

#[test]
fn invariant_nodes_and_tubes_converge() {
    let leg = ellipse();
    let finest = LandingSettings { classes: 100, azimuths: 73, speed_step_m_s: 0.25 };
    let maps =
        [COARSE, LandingSettings::default(), finest].map(|fine| map(14.0, &CORRECTED, 8.0, fine));
    let cu = |map: &Arc<LandingMap>, tubes: f64, wind: WindSlice| {
        let settings = FootprintSettings {
            rings_per_cell: tubes,
            samples_per_cell: tubes,
            ..FootprintSettings::default()
        };
        let jets = [(&leg, map)];
        cu_40_by_60_ft(&set_footprint(&jets, &[wind], CELL_M, Phase::CORNER, settings).unwrap())
    };
    // Measured, CU points: 0.6 with 1 tube a cell, 0.03 with 2, 0.01 with 4; 0.5 with the coarse map,
    // 0.14 with the default one.
    for (speed_m_s, towards_rad) in [(0.3, 0.2), (0.75, 0.4), (1.75, 0.0), (2.5, 0.3), (7.5, 1.57)]
    {
        let wind = slice(speed_m_s, towards_rad);
        let best = cu(&maps[2], 8.0, wind);
        let tubes = [1.0, 2.0, 4.0].map(|tubes| (cu(&maps[2], tubes, wind) - best).abs());
        let nodes = [0, 1].map(|fine| (cu(&maps[fine], 8.0, wind) - best).abs());
        let as_used = (cu(&maps[1], 3.0, wind) - best).abs();
        let told = format!("{speed_m_s} m/s: {tubes:?}, {nodes:?}, {as_used}");
        assert!(tubes[0] < 0.8 && tubes[1] < 0.05 && tubes[2] < 0.02, "{told}");
        assert!(nodes[0] < 0.6 && nodes[1] < 0.2 && as_used < 0.2, "{told}");
    }
}

#[test]
fn invariant_jets_and_slices_add() {
    let legs = [ellipse(), leg(Shape::Triangular, 9.0, 0.1)];
    let maps = [map(14.0, &GUSTY, 6.0, COARSE), map(9.0, &GUSTY, 6.0, COARSE)];
    let slices = [slice(5.3, 0.4), slice(0.0, 0.0), slice(2.0, 3.0)];
    let lay = |jets: &[(&Leg, &Arc<LandingMap>)], slices: &[WindSlice]| {
        let settings = FootprintSettings::default();
        set_footprint(jets, slices, CELL_M, Phase::CORNER, settings).unwrap()
    };
    let (one, two) = ((&legs[0], &maps[0]), (&legs[1], &maps[1]));
    let whole = lay(&[one, two], &slices);
    let parts = [&slices[..1], &slices[1..]].map(|some| [lay(&[one], some), lay(&[two], some)]);
    for row in -60..60 {
        for column in -60..60 {
            let sum: f64 = parts.iter().flatten().map(|part| at(part, row, column)).sum();
            // The still-air parts are each brought to their exact mass, hence not to the last digit.
            let gap = (at(&whole, row, column) - sum).abs();
            assert!(gap < 1e-3 * peak(&whole), "{row} {column}: {gap}");
        }
    }
}

#[test]
fn closed_turbulence_widens_by_its_variance() {
    let leg = ellipse();
    let variance = |map: &Arc<LandingMap>| {
        let slices = [slice(5.0, 0.0)];
        let settings = FootprintSettings::default();
        let found =
            set_footprint(&[(&leg, map)], &slices, CELL_M, Phase::CORNER, settings).unwrap();
        let mut sums = [0.0; 2];
        for ((row, _), value) in found.values.indexed_iter() {
            let y_m = ((found.first_row + row as isize) as f64 + 0.5) * CELL_M;
            sums[0] += value;
            sums[1] += value * y_m * y_m;
        }
        sums[1] / sums[0]
    };
    // σ = 0.1 · 5 m/s · flight of about 1.5 s: 0.75 m, so about 0.56 m².
    let widened = variance(&PAIR.1) - variance(&PAIR.0);
    assert!((0.4..0.8).contains(&widened), "{widened} m²");
}

#[test]
fn closed_wind_carries_the_pattern_downwind() {
    let leg = ellipse();
    let settings = FootprintSettings::default();
    let slices = [slice(5.0, std::f64::consts::FRAC_PI_2)];
    let jets = [(&leg, &PAIR.0)];
    let found = set_footprint(&jets, &slices, CELL_M, Phase::CORNER, settings).unwrap();
    let rows = found.values.indexed_iter();
    let moment: f64 = rows.map(|((row, _), v)| v * (found.first_row + row as isize) as f64).sum();
    let center_m = (moment / found.values.sum() + 0.5) * CELL_M;
    assert!((3.0..9.0).contains(&center_m), "{center_m} m");
}

#[test]
fn invariant_bad_input_is_an_error() {
    let leg = ellipse();
    let settings = FootprintSettings::default();
    let lay = |slice: WindSlice, phase| {
        set_footprint(&[(&leg, &PAIR.0)], &[slice], CELL_M, phase, settings)
    };
    let beyond = lay(slice(10.5, 0.0), Phase::CORNER);
    assert!(matches!(beyond, Err(SprinklerProblem::WindBeyondMap { .. })));
    assert!(lay(slice(f64::NAN, 0.0), Phase::CORNER).is_err());
    assert!(lay(slice(1.0, f64::INFINITY), Phase::CORNER).is_err());
    assert!(lay(WindSlice { net: 1.1, ..slice(1.0, 0.0) }, Phase::CORNER).is_err());
    assert!(lay(slice(1.0, 0.0), Phase { along: -0.1, across: 0.0 }).is_err());
    assert!(matches!(FootprintMaker::new(&[], CELL_M, settings), Err(SprinklerProblem::NoJets)));
    let other = map(13.0, &CORRECTED, 0.0, COARSE);
    let mixed = FootprintMaker::new(&[(&leg, &other)], CELL_M, settings);
    assert!(matches!(mixed, Err(SprinklerProblem::WrongMap { .. })));
}

/// The bits of a footprint, folded (FNV-1a 64): equal for equal digits and places.
fn folded(footprint: &Footprint) -> u64 {
    let offsets = [footprint.first_row as u64, footprint.first_column as u64];
    let bits = offsets.into_iter().chain(footprint.values.iter().map(|depth| depth.to_bits()));
    bits.fold(0xcbf2_9ce4_8422_2325, |hash, word| (hash ^ word).wrapping_mul(0x0000_0100_0000_01b3))
}

#[test]
fn regress_upright_footprints_keep_every_bit() {
    // Two jets, gusts, calm hours among windy ones, off the cell's corner; with turbulence and
    // without.
    let legs = [ellipse(), leg(Shape::Triangular, 9.0, 0.1)];
    let slices = [slice(5.3, 0.4), slice(0.0, 0.0), slice(2.0, 3.0), slice(0.6, -2.2)];
    let phase = Phase { along: 0.25, across: 0.7 };
    let found = [&CORRECTED, &GUSTY].map(|drag| {
        let maps = [map(14.0, drag, 6.0, COARSE), map(9.0, drag, 6.0, COARSE)];
        let jets = [(&legs[0], &maps[0]), (&legs[1], &maps[1])];
        let settings = FootprintSettings::default();
        folded(&set_footprint(&jets, &slices, CELL_M, phase, settings).unwrap())
    });
    assert_eq!(found, [1_488_052_163_745_056_158, 611_150_853_046_125_807]);
}
