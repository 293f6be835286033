use super::super::Can;
use super::super::tests::single_grid;
use super::*;
use crate::sprinkler::Pattern as _;
use crate::sprinkler::shape::{IdealPattern, Shape};
use crate::units::M_PER_FT;

fn across(across_m: f64) -> Shift {
    Shift { across_m, along_m: 0.0 }
}

/// A grid test with made-up depths, uneven both ways.
fn uneven(step_m: f64) -> CatchTest {
    let mut test = single_grid(12.0, step_m, 0.0);
    for can in &mut test.cans {
        let r = (can.x_m * can.x_m + 0.8 * can.y_m * can.y_m + can.x_m).abs().sqrt();
        can.depth_mm = Some((10.0 - r).max(0.0) + 0.1 * (can.x_m * 1.3).sin().abs());
    }
    test
}

#[test]
fn reference_ideal_shapes_as_a_leg_at_40_by_60_ft_fixed_and_paired() {
    // The table of the command `overlap`, computed apart: diameter ft, CU, and CU of a pair.
    for (shape, diameter_ft, fixed, pair) in [
        (Shape::Triangular, 80.0, 73.16, 96.61),
        (Shape::Triangular, 100.0, 93.11, 97.47),
        (Shape::Elliptical, 90.0, 91.76, 93.40),
        (Shape::Parabolic, 90.0, 91.15, 93.80),
    ] {
        let ideal = IdealPattern::new(shape, 0.5 * diameter_ft * M_PER_FT, 0.3).unwrap();
        let pattern = TestPattern::Leg(ideal.leg().clone());
        let spacing = Spacing { along_m: Some(40.0 * M_PER_FT), across_m: 60.0 * M_PER_FT };
        let cu = |shifts: &[Shift]| overlap(&pattern, spacing, shifts).unwrap().figures.cu * 100.0;
        let found = [cu(&[across(0.0)]), cu(&[across(0.0), across(30.0 * M_PER_FT)])];
        let miss = [found[0] - fixed, found[1] - pair];
        assert!(miss.iter().all(|m| m.abs() <= 0.1), "{shape:?} {diameter_ft}: {found:?}");
    }
}

#[test]
fn closed_a_pair_of_stops_is_the_overlap_at_half_the_spacing() {
    let pattern = TestPattern::of(&uneven(1.5)).unwrap();
    let whole = Spacing { along_m: Some(12.0), across_m: 18.0 };
    let half = Spacing { along_m: Some(12.0), across_m: 9.0 };
    let pair = overlap(&pattern, whole, &[across(0.0), across(9.0)]).unwrap();
    let single = overlap(&pattern, half, &[across(0.0)]).unwrap();
    assert!(pair.exact && single.exact);
    // A pass lays half as much as two at half the spacing; the figures are the same.
    assert!((pair.figures.cu - single.figures.cu).abs() < 1e-12);
    assert!((pair.figures.du_lq - single.figures.du_lq).abs() < 1e-12);
    assert!((2.0 * pair.figures.mean_depth_mm - single.figures.mean_depth_mm).abs() < 1e-12);
    // The same along the pipe.
    let joint = Shift { across_m: 0.0, along_m: 6.0 };
    let along = overlap(&pattern, whole, &[across(0.0), joint]).unwrap();
    let spacing = Spacing { along_m: Some(6.0), ..whole };
    let at_half = overlap(&pattern, spacing, &[across(0.0)]).unwrap();
    assert!((along.figures.cu - at_half.figures.cu).abs() < 1e-12);
}

#[test]
fn closed_an_overlap_on_the_cans_adds_the_cans_up() {
    // Period of 4 × 4 cans: each point is the sum of every fourth can each way.
    let test = uneven(1.5);
    let pattern = TestPattern::of(&test).unwrap();
    let spacing = Spacing { along_m: Some(6.0), across_m: 6.0 };
    let found = overlap(&pattern, spacing, &[across(0.0)]).unwrap();
    assert_eq!(found.depth_mm.dim(), (4, 4));
    for row in 0..4 {
        for column in 0..4 {
            let folds = |at: f64, from: usize| (((at + 12.0) / 1.5).round() as usize) % 4 == from;
            let cans = test.cans.iter().filter(|c| folds(c.y_m, row) && folds(c.x_m, column));
            let sum: f64 = cans.filter_map(|can| can.depth_mm).sum();
            assert!((found.depth_mm[(row, column)] - sum).abs() < 1e-9);
        }
    }
}

#[test]
fn invariant_water_is_kept_and_a_common_shift_changes_nothing() {
    let pattern = TestPattern::of(&uneven(1.5)).unwrap();
    let spacing = Spacing { along_m: Some(12.0), across_m: 18.0 };
    let still = overlap(&pattern, spacing, &[across(0.0)]).unwrap();
    let TestPattern::Grid(grid) = &pattern else { panic!("a grid") };
    let litres = grid.depth_mm.sum() * 1.5 * 1.5;
    assert!((still.figures.mean_depth_mm * 12.0 * 18.0 / litres - 1.0).abs() < 1e-12);
    let moved = overlap(&pattern, spacing, &[across(4.5)]).unwrap();
    assert!((still.figures.cu - moved.figures.cu).abs() < 1e-12);
    // Between the cans the water is kept but for what the interpolation rounds.
    let odd = Spacing { along_m: Some(12.192), across_m: 18.288 };
    let between = overlap(&pattern, odd, &[across(0.0)]).unwrap();
    assert!(!between.exact);
    let miss = between.figures.mean_depth_mm * 12.192 * 18.288 / litres - 1.0;
    assert!(miss.abs() < 0.02, "{miss}");
}

#[test]
fn closed_a_lateral_is_laid_over_itself_across_only() {
    let mut test = uneven(1.5);
    test.kind = Kind::Lines(super::super::Lines {
        at_m: vec![0.0],
        sprinkler_x_m: 0.0,
        sprinkler_spacing_m: None,
        outlet_spacing_m: None,
    });
    let spacing = Spacing { along_m: None, across_m: 12.0 };
    let found = overlap(&TestPattern::of(&test).unwrap(), spacing, &[across(0.0)]).unwrap();
    assert_eq!(found.depth_mm.dim(), (8, 17));
    let column: f64 =
        test.cans.iter().filter(|can| can.x_m == 0.0).filter_map(|can| can.depth_mm).sum();
    assert!((found.depth_mm.column(8).sum() - column).abs() < 1e-9);
}

#[test]
fn invariant_uneven_grids_and_bad_spacings_are_refused() {
    let mut test = uneven(1.5);
    let pattern = TestPattern::of(&test).unwrap();
    let bad = |along: f64, across_m: f64| {
        let spacing = Spacing { along_m: Some(along), across_m };
        overlap(&pattern, spacing, &[across(0.0)]).is_err()
    };
    assert!(bad(0.0, 18.0) && bad(12.0, f64::NAN) && bad(500.0, 18.0));
    assert!(overlap(&pattern, Spacing { along_m: Some(9.0), across_m: 9.0 }, &[]).is_err());
    test.cans[7].x_m += 0.4;
    assert!(matches!(TestPattern::of(&test), Err(CatchProblem::NoGrid(_))));
}

#[test]
fn closed_a_can_without_a_reading_takes_the_mean_of_its_neighbors() {
    let mut test = single_grid(3.0, 1.5, 0.0);
    test.cans[12].depth_mm = None;
    test.cans[11].depth_mm = Some(9.0);
    let grid = CanGrid::of(&test).unwrap();
    assert_eq!(grid.filled, 1);
    // Eight neighbors: one of 9 and seven of 1.
    assert!((grid.depth_mm[(2, 2)] - 2.0).abs() < 1e-12);
}

#[test]
fn closed_a_leg_is_the_mean_of_its_radii_and_ends_dry() {
    let mut test = single_grid(1.0, 1.0, 0.0);
    let can = |x: f64, y: f64, depth| Can { x_m: x, y_m: y, depth_mm: Some(depth), line: 0 };
    test.kind = Kind::Leg;
    test.cans = vec![
        can(2.0, 0.0, 4.0),
        can(-2.0, 0.0, 6.0),
        can(4.0, 0.0, 3.0),
        can(0.0, 4.0, 3.0),
        can(6.0, 0.0, 1.0),
    ];
    let leg = measured_leg(&test).unwrap();
    assert_eq!(leg.distance_m, [2.0, 4.0, 6.0, 8.0]);
    assert_eq!(leg.rate_mm_h, [5.0, 3.0, 1.0, 0.0]);
}

#[test]
fn closed_wet_cans_at_the_edge_say_that_water_fell_beyond() {
    let mut test = uneven(1.5);
    assert!(!TestPattern::of(&test).unwrap().is_cut_off(true));
    // The outermost column on the right, in the middle of the grid.
    let can = test.cans.iter().position(|c| c.x_m == 12.0 && c.y_m == 0.0).unwrap();
    test.cans[can].depth_mm = Some(4.0);
    let pattern = TestPattern::of(&test).unwrap();
    assert!(pattern.is_cut_off(true) && !pattern.is_cut_off(false));
}
