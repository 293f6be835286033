//! What judges lines that share a field and both sides of a mainline: sums of one-sided seasons, mirror
//! images, water that closes.

use super::tests::{FT, alternative, scenario, sprinkler, windy};
use super::*;
use crate::grid::DepthGrid;
use crate::lateral::{Lines, Sharing};
use crate::model::Scenario;
use crate::sprinkler::shape::Shape;

/// Six outlets, field of 560 by 360 ft; with both sides a mainline in the middle, three sprinklers on
/// each side of it.
fn field(lines: Lines, shifts_ft: &[f64]) -> Scenario {
    let mut own = alternative("own", shifts_ft, sprinkler(Shape::Triangular, 88.0));
    own.lateral.sprinklers = 3;
    own.lateral.first_sprinkler_m = 140.0 * FT;
    own.lateral.lines = lines;
    let mut scenario = scenario(4.0, 2, vec![own]);
    scenario.calendar.sets_a_day = None;
    scenario
}

fn both(count: usize) -> Lines {
    // Right: 140, 180, 220 ft; left: 20, 60, 100 ft.
    Lines { count, left_first_m: Some(20.0 * FT), ..Lines::default() }
}

fn depth(scenario: &Scenario) -> DepthGrid {
    run(scenario, RunControl::default()).unwrap().alternatives[0].season_depth_mm().clone()
}

fn close(one: &DepthGrid, other: &DepthGrid) {
    let (most, miss) = one
        .iter()
        .zip(other)
        .fold((0.0_f64, 0.0_f64), |(most, miss), (a, b)| (most.max(*a), miss.max((a - b).abs())));
    assert!(most > 1.0 && miss <= 1e-9 * most, "{miss} of {most}");
}

#[test]
fn reference_both_sides_are_the_sum_of_each_in_still_air() {
    let right = depth(&field(Lines::default(), &[0.0]));
    let mut left = field(Lines::default(), &[0.0]);
    left.alternatives[0].lateral.first_sprinkler_m = 20.0 * FT;
    let sum = &right + &depth(&left);
    for count in [1, 2] {
        close(&depth(&field(both(count), &[0.0])), &sum);
    }
}

#[test]
fn reference_lines_that_share_a_field_water_as_one_does_in_still_air() {
    let one = depth(&field(Lines::default(), &[0.0, 15.0]));
    for sharing in [Sharing::AtOnce, Sharing::ByTurns] {
        for count in [2, 3] {
            let several = Lines { count, sharing, ..Lines::default() };
            close(&depth(&field(several, &[0.0, 15.0])), &one);
        }
    }
}

#[test]
fn invariant_the_two_sides_mirror_each_other_also_where_each_sprinkler_delivers_its_own() {
    let mut asked = field(both(1), &[0.0]);
    asked.alternatives[0].discharges.single = vec![(0, 1.3), (2, 0.5)];
    let found = depth(&asked);
    let columns = found.ncols();
    // 240 ft of field, the mainline at 120 ft.
    let mirrored = DepthGrid::from_shape_fn(found.raw_dim(), |(row, column)| {
        found[(row, columns - 1 - column)]
    });
    close(&found, &mirrored);
    // What leaves the nozzles is that of three sprinklers on either side.
    let gross = |scenario: &Scenario| {
        run(scenario, RunControl::default()).unwrap().alternatives[0].water.gross_m3
    };
    let even = gross(&field(both(1), &[0.0]));
    assert!((gross(&asked) / even - (1.3 + 1.0 + 0.5) / 3.0).abs() < 1e-12);
}

#[test]
fn invariant_water_closes_in_wind_and_every_line_keeps_its_time() {
    for (count, sides) in [(1, true), (2, true), (4, true), (3, false)] {
        let lines = if sides { both(count) } else { Lines { count, ..Lines::default() } };
        for sharing in [Sharing::AtOnce, Sharing::ByTurns] {
            let mut asked = field(Lines { sharing, ..lines }, &[0.0, 15.0]);
            asked.weather = windy(4.0);
            // The season refuses water that does not close.
            let found = run(&asked, RunControl::default()).unwrap();
            for pass in &found.alternatives[0].plan.passes {
                for line in 0..count {
                    let own: Vec<_> = pass.sets.iter().filter(|set| set.line == line).collect();
                    assert!(!own.is_empty());
                    // Half an hour to move.
                    assert!(own.windows(2).all(|two| two[1].start_h >= two[0].end_h + 0.5 - 1e-9));
                }
            }
        }
    }
}
