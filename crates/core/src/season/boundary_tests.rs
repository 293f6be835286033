//! What judges a season on a field with a boundary: the rectangle, counting by hand, water.

use super::tests::{alternative, scenario, sprinkler, windy};
use super::*;
use crate::boundary::{Boundary, Corner};
use crate::model::Scenario;
use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;
use crate::season::RunControl;
use crate::seasons;
use crate::sprinkler::shape::Shape;
use crate::units::M_PER_FT as FT;

fn windy_pair() -> Scenario {
    let sprinkler = sprinkler(Shape::Triangular, 84.0);
    let both = vec![
        alternative("fixed", &[0.0], sprinkler.clone()),
        alternative("pair", &[0.0, 30.0], sprinkler),
    ];
    let mut scenario = scenario(4.0, 3, both);
    scenario.weather = windy(3.5);
    scenario
}

fn with(rings_ft: &[&[Corner]]) -> Scenario {
    let mut scenario = windy_pair();
    let ring = |ring: &&[Corner]| ring.iter().map(|[x, y]| [x * FT, y * FT]).collect();
    let rings = rings_ft.iter().map(ring).collect();
    scenario.field.boundary = Boundary::new(rings, &scenario.field.grid);
    assert!(scenario.field.boundary.is_some());
    scenario
}

const WHOLE: &[Corner] = &[[0.0, 0.0], [240.0, 0.0], [240.0, 360.0], [0.0, 360.0]];
/// The rectangle of 240 × 360 ft less a corner.
const CUT: &[Corner] = &[[0.0, 0.0], [240.0, 0.0], [240.0, 200.0], [100.0, 360.0], [0.0, 360.0]];
const HOLE: &[Corner] = &[[80.0, 100.0], [160.0, 100.0], [160.0, 180.0], [80.0, 180.0]];

fn ground() -> Ground {
    let day = CropDay::new(6.0, 0.0, 0.5, 100.0, 100.0);
    Ground { first_day: 0, days: vec![vec![day; 60]], depletion_mm: 0.0, ky: 1.1 }
}

#[test]
fn reference_a_boundary_round_the_rectangle_changes_nothing() {
    let (plain, round) = (windy_pair(), with(&[WHOLE]));
    let (one, other) =
        (run(&plain, RunControl::default()).unwrap(), run(&round, RunControl::default()).unwrap());
    for (one, other) in one.alternatives.iter().zip(&other.alternatives) {
        assert_eq!(one.season_depth_mm(), other.season_depth_mm());
        let profiles = one.passes[0].profile_mm.iter().zip(&other.passes[0].profile_mm);
        assert!(profiles.into_iter().all(|(one, other)| (one / other - 1.0).abs() < 1e-13));
        let regions = |found: &AlternativeOutcome| {
            let found = found.season_figures().clone();
            [found.whole, found.interior, found.first_strip, found.last_strip].map(Option::unwrap)
        };
        for (one, other) in regions(one).iter().zip(regions(other)) {
            assert_eq!(one.cells, other.cells);
            assert!((one.cu - other.cu).abs() < 1e-12 && (one.du_lq - other.du_lq).abs() < 1e-12);
        }
        assert!((one.water.off_field_m3 / other.water.off_field_m3 - 1.0).abs() < 1e-12);
    }
    // The same with soil and crop, where the plain field is folded and the other is not.
    let many =
        |scenario: &Scenario| seasons::run(scenario, &ground(), 2, RunControl::default()).unwrap();
    let (one, other) = (many(&plain), many(&round));
    for (one, other) in one.figures.iter().flatten().zip(other.figures.iter().flatten()) {
        for (a, b) in [
            (one.cu, other.cu),
            (one.yield_fraction, other.yield_fraction),
            (one.yield_interior_worst_tenth, other.yield_interior_worst_tenth),
            (one.off_field_mm, other.off_field_mm),
            (one.percolation_mm, other.percolation_mm),
        ] {
            assert!((a - b).abs() < 1e-9 * b.abs().max(1.0), "{one:?}\n{other:?}");
        }
    }
}

#[test]
fn reference_figures_inside_are_those_of_the_cells_picked_out_by_hand() {
    let scenario = with(&[CUT, HOLE]);
    let outcome = run(&scenario, RunControl::default()).unwrap();
    let found = &outcome.alternatives[1];
    let inside = |row: usize, column: usize| {
        let (x, y) = (4.0 * column as f64 + 2.0, 4.0 * row as f64 + 2.0);
        let in_hole = (80.0..160.0).contains(&x) && (100.0..180.0).contains(&y);
        // The cut runs from (240, 200) to (100, 360).
        !in_hole && (x - 100.0) * 160.0 + (y - 360.0) * 140.0 < 0.0
    };
    let depth_mm = found.season_depth_mm();
    let picked: Vec<f64> = depth_mm
        .indexed_iter()
        .filter(|((row, column), _)| inside(*row, *column))
        .map(|(_, depth)| *depth)
        .collect();
    let whole = found.season_figures().whole.unwrap();
    assert_eq!(whole.cells, picked.len());
    let mean = picked.iter().sum::<f64>() / picked.len() as f64;
    assert!((whole.mean_depth_mm / mean - 1.0).abs() < 1e-12);
    let deviation = picked.iter().map(|depth| (depth - mean).abs()).sum::<f64>();
    assert!((whole.cu - (1.0 - deviation / (mean * picked.len() as f64))).abs() < 1e-12);
    assert!(
        (scenario.field.area().m2() / scenario.field.grid.cell_area_m2()).round() as usize
            == picked.len()
    );
    let on_field_m3 = mean * scenario.field.area().m2() / 1000.0;
    assert!((found.water.on_field_m3 / on_field_m3 - 1.0).abs() < 1e-12);
}

#[test]
fn invariant_water_beside_the_boundary_is_off_the_field_and_the_balance_closes() {
    let (plain, cut) = (windy_pair(), with(&[CUT, HOLE]));
    let (whole, part) =
        (run(&plain, RunControl::default()).unwrap(), run(&cut, RunControl::default()).unwrap());
    for (whole, part) in whole.alternatives.iter().zip(&part.alternatives) {
        assert!(part.water.imbalance().abs() < WATER_TOLERANCE);
        assert_eq!(part.water.gross_m3, whole.water.gross_m3);
        assert!(part.water.off_field_m3 > 1.5 * whole.water.off_field_m3);
        let landed = |water: &WaterBalance| water.on_field_m3 + water.off_field_m3;
        assert!((landed(&part.water) / landed(&whole.water) - 1.0).abs() < 1e-12);
    }
    // Seasons with soil and crop check their own balance: a run that does not close is an error.
    let many = seasons::run(&cut, &ground(), 2, RunControl::default()).unwrap();
    for figures in many.figures.iter().flatten() {
        assert!(figures.imbalance_mm().abs() < 1e-9 * figures.gross_mm);
    }
}

#[test]
fn reference_season_nought_inside_a_boundary_is_the_single_season() {
    let scenario = with(&[CUT, HOLE]);
    let laid = (1, HoursLaid::OwnWind);
    let many = seasons::run_laid(&scenario, &ground(), laid, RunControl::default()).unwrap();
    let one = run(&scenario, RunControl::default()).unwrap();
    for (figures, found) in many.figures[0].iter().zip(&one.alternatives) {
        let interior = found.season_figures().interior.unwrap();
        // Every hour in its own wind: the same season.
        assert!((figures.cu - interior.cu).abs() < 1e-12, "{} {}", figures.cu, interior.cu);
        let whole = found.season_figures().whole.unwrap();
        assert!((figures.irrigation_mm / whole.mean_depth_mm - 1.0).abs() < 1e-12);
    }
}
