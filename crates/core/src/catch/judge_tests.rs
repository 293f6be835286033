use super::super::tests::single_grid;
use super::*;

/// Cans under one lateral along y = 0, 3 m apart, from `low_m` to `high_m` across it.
fn under_one(low_m: f64, high_m: f64, depth_mm: impl Fn(f64) -> f64) -> CatchTest {
    let mut test = single_grid(3.0, 3.0, 0.0);
    let rows = ((high_m - low_m) / 3.0).round() as usize;
    let can = |i: usize| {
        let y_m = low_m + 3.0 * (i / 3) as f64;
        Can { x_m: 3.0 * (i % 3) as f64, y_m, depth_mm: Some(depth_mm(y_m)), line: i + 1 }
    };
    test.cans = (0..3 * (rows + 1)).map(can).collect();
    test.kind = Kind::Lines(Lines {
        at_m: vec![0.0],
        sprinkler_x_m: 0.0,
        sprinkler_spacing_m: Some(9.0),
        outlet_spacing_m: Some(18.0),
    });
    test
}

fn triangle(y_m: f64) -> f64 {
    18.0 - y_m.abs()
}

fn depths(test: &CatchTest, depth_mm: impl Fn(f64) -> f64) -> Vec<f64> {
    test.cans.iter().map(|can| depth_mm(can.y_m)).collect()
}

#[test]
fn closed_a_triangle_overlaps_to_a_level_pass_from_one_side_or_both() {
    for (low_m, mirrored) in [(-18.0, false), (0.0, true)] {
        let test = under_one(low_m, 18.0, triangle);
        // Half the width and twice the depth: 36 mm under the pipe, nothing midway.
        let narrow = |y_m: f64| 2.0 * (18.0 - 2.0 * y_m.abs()).max(0.0);
        let found = judge(&test, &depths(&test, narrow), Some(18.0), 0.9).unwrap();
        let Pass::Overlapped { mirrored: was, .. } = found.pass else { panic!("overlapped") };
        assert_eq!(was, mirrored);
        assert!(
            (found.cu.measured - 1.0).abs() < 1e-9 && (found.du_lq.measured - 1.0).abs() < 1e-9
        );
        // Depths 36, 24, 12, 0, 12, 24 mm: mean 18, mean deviation 10: CU 1 − 10/18.
        assert!((found.cu.simulated - (1.0 - 10.0 / 18.0)).abs() < 1e-9, "{:?}", found.cu);
        // A level pass has no limits of its own: 1.645 standard errors of the model alone.
        assert!((found.cu.allowed - 1.6449 * 0.0309).abs() < 1e-5);
        assert!((found.du_lq.allowed - 1.6449 * 1.59 * 0.0309).abs() < 1e-5);
        assert!(!found.passes());
        assert!(judge(&test, &depths(&test, triangle), Some(18.0), 0.9).unwrap().passes());
    }
}

#[test]
fn invariant_one_row_of_cans_will_do_and_the_level_of_depths_does_not_matter() {
    let mut test = under_one(-18.0, 18.0, |y_m| triangle(y_m) + 0.4 * (y_m * 1.7).sin());
    let rows = |test: &CatchTest, factor: f64| {
        let model = depths(test, |y_m| factor * triangle(y_m));
        judge(test, &model, Some(18.0), 0.9).unwrap()
    };
    let (three, twice) = (rows(&test, 1.0), rows(&test, 2.0));
    assert!((three.cu.simulated - twice.cu.simulated).abs() < 1e-12);
    test.cans.retain(|can| can.x_m == 0.0);
    let one = rows(&test, 1.0);
    assert!((one.cu.measured - three.cu.measured).abs() < 1e-12);
    assert!(one.passes());
}

#[test]
fn closed_what_cannot_be_overlapped_is_refused_and_wet_edges_are_told() {
    let test = under_one(-18.0, 18.0, triangle);
    let model = depths(&test, triangle);
    assert_eq!(judge(&test, &model, None, 0.9), Err(CatchProblem::NotNoted("outlet spacing")));
    assert!(judge(&test, &model[1..], Some(18.0), 0.9).is_err());
    let short = under_one(-12.0, 12.0, triangle);
    let found = judge(&short, &depths(&short, triangle), Some(18.0), 0.9).unwrap();
    assert!(matches!(found.pass, Pass::Overlapped { cut_off: true, .. }));
    let single = single_grid(6.0, 2.0, 3.0);
    let model = single.depths_mm();
    assert!(matches!(judge(&single, &model, Some(18.0), 0.9), Err(CatchProblem::WrongKind(_))));
}
