//! Spreading, on its way and where a boundary keeps it in.

use super::*;
use crate::boundary::Boundary;
use crate::grid::{DepthGrid, Grid};
use crate::overlay::{LaidSet, Laying, Onto, PipeOnGrid, RowScratch};
use crate::sprinkler::footprint::Footprint;

fn field(boundary: Option<&[[f64; 2]]>) -> Field {
    let grid = Grid { cells_along: 40, cells_across: 30, cell_m: 0.5 };
    let boundary = boundary.map(|corners| Boundary::new(vec![corners.to_vec()], &grid).unwrap());
    Field { grid, travel_bearing_deg: 0.0, boundary }
}

fn spread(deviation_m: f64, field: &Field, depth_mm: &DepthGrid) -> DepthGrid {
    let columns = field.grid.cells_along;
    let every_cell = (Thinning::NONE, columns);
    let smoothing = Smoothing::new(deviation_m, field, every_cell).unwrap();
    let mut spread_mm = field.grid.zeros();
    // A few rows at a time, as a season goes.
    for first in (0..field.grid.cells_across).step_by(7) {
        let rows = first..(first + 7).min(field.grid.cells_across);
        let around = smoothing.around(&rows);
        let to = &mut spread_mm.as_slice_mut().unwrap()[rows.start * columns..rows.end * columns];
        match &smoothing {
            Smoothing::Within(within) => {
                let from = around.start * columns..around.end * columns;
                let (from, mut room) = (&depth_mm.as_slice().unwrap()[from], SpreadRoom::default());
                to.copy_from_slice(within.spread(from, (around, rows), &mut room));
            }
            Smoothing::OnItsWay(spread) => {
                // The whole field as what one sprinkler lays, and a second one far beside it.
                let values = depth_mm.clone();
                let footprint = Footprint { first_row: 0, first_column: 0, values };
                let pipe = PipeOnGrid { first_column: 0, spacing_cells: 90, sprinklers: 2 };
                let sets = [LaidSet { footprint: &footprint, row: 0, column: 0 }];
                let mut scratch = RowScratch::spread(pipe, sets.iter(), spread);
                let laid = (pipe, Laying::Alike(&sets), Onto::Nothing);
                scratch.lay(laid, rows, (to, columns));
            }
        }
    }
    spread_mm
}

#[test]
fn closed_a_drop_in_the_middle_becomes_a_gaussian_of_the_stated_deviation() {
    let field = field(None);
    let mut drop_mm = field.grid.zeros();
    drop_mm[(15, 20)] = 1.0;
    let spread_mm = spread(1.5, &field, &drop_mm);
    let along = |power: i32| -> f64 {
        let moment =
            |((_, x), mm): ((usize, usize), &f64)| mm * (0.5 * (x as f64 - 20.0)).powi(power);
        spread_mm.indexed_iter().map(moment).sum()
    };
    assert!((along(0) - 1.0).abs() < 1e-12 && along(1).abs() < 1e-12);
    // Cutting off at 3 σ takes 2.7 % of the second moment (0.973 of σ²); whole cells add c²/12.
    let expected = 0.973 * 1.5 * 1.5 + 0.25 / 12.0;
    assert!((along(2) / expected - 1.0).abs() < 0.01, "{} {expected}", along(2));
    assert!((spread_mm[(15, 20)] - spread_mm.iter().copied().fold(0.0, f64::max)).abs() < 1e-15);
}

#[test]
fn invariant_water_is_kept_and_an_even_depth_stays_even_whatever_the_edge() {
    let ell = [[0.0, 0.0], [20.0, 0.0], [20.0, 7.0], [11.0, 7.0], [11.0, 15.0], [0.0, 15.0]];
    for (boundary, deviation_m) in [(None, 0.4), (None, 2.0), (Some(&ell[..]), 2.0)] {
        let field = field(boundary);
        let uneven_mm = DepthGrid::from_shape_fn((30, 40), |(r, c)| ((r * 7 + c * 3) % 11) as f64);
        let spread_mm = spread(deviation_m, &field, &uneven_mm);
        let whole = field.whole();
        let (before, after) = (whole.of(&uneven_mm).sum(), whole.of(&spread_mm).sum());
        assert!((after / before - 1.0).abs() < 1e-12, "{before} {after}");
        let outside = |depth_mm| field.boundary.as_ref().map_or(0.0, |of| of.sums(depth_mm).1);
        assert!((outside(&uneven_mm) - outside(&spread_mm)).abs() < 1e-9);
        let (cu, evened) = (whole.figures(&uneven_mm), whole.figures(&spread_mm));
        assert!(evened.unwrap().cu > cu.unwrap().cu);
        let even_mm = field.grid.zeros() + 3.0;
        assert!(spread(deviation_m, &field, &even_mm).iter().all(|mm| (mm - 3.0).abs() < 1e-12));
    }
}

#[test]
fn closed_places_keep_the_water_of_their_part_of_the_field_and_the_variance_of_its_cells() {
    let corner = [[0.0, 0.0], [17.7, 1.0], [20.0, 12.1], [7.9, 15.0]];
    let field = field(Some(&corner));
    let thinning = Thinning::test(3, 4);
    let grid = thinning.grid(&field.grid);
    let columns = grid.cells_along;
    let Some(Smoothing::Within(within)) = Smoothing::new(0.7, &field, (thinning, columns)) else {
        panic!("a boundary keeps water in");
    };
    let parts: Vec<f64> =
        (0..grid.cells_across).flat_map(|row| within.inside(row)).copied().collect();
    assert!(parts.iter().any(|part| *part > 0.0 && *part < 1.0));
    let uneven_mm =
        DepthGrid::from_shape_fn(grid.zeros().dim(), |(r, c)| ((r * 7 + c * 3) % 11) as f64);
    let rows = 0..grid.cells_across;
    let mut room = SpreadRoom::default();
    let mut spread = |depth_mm: &DepthGrid| {
        let all = (rows.clone(), rows.clone());
        within.spread(depth_mm.as_slice().unwrap(), all, &mut room).to_vec()
    };
    let water = |depth_mm: &[f64]| -> f64 {
        parts.iter().zip(depth_mm).map(|(part, depth_mm)| part * depth_mm).sum()
    };
    let (before, after) = (water(uneven_mm.as_slice().unwrap()), water(&spread(&uneven_mm)));
    assert!((after / before - 1.0).abs() < 1e-12, "{before} {after}");
    assert!(spread(&(grid.zeros() + 3.0)).iter().all(|mm| (mm - 3.0).abs() < 1e-12));
    for deviation_m in [0.1, 0.2, 0.7, 5.0] {
        let variance_m2 = |apart: usize| -> f64 {
            let shares = shares(deviation_m, 0.5, (apart, variance_cells2(apart)));
            let moments = (1..).zip(shares).map(|(k, share)| f64::from(k * k) * share);
            2.0 * 0.25 * (apart * apart) as f64 * moments.sum::<f64>()
        };
        let (cells, columns) = (variance_m2(1), variance_m2(3));
        let widened = 0.25 * variance_cells2(3);
        assert!((columns + widened - cells).abs() < 1e-9, "{deviation_m}: {cells} {columns}");
    }
}

#[test]
fn closed_no_distance_is_no_spreading() {
    assert!(Smoothing::new(0.0, &field(None), (Thinning::NONE, 40)).is_none());
}

/// What `spread` should give: cell by cell, as the head of the module has it.
fn spread_cell_by_cell(deviation_m: f64, field: &Field, fell_mm: &DepthGrid) -> DepthGrid {
    let inside = field.boundary.as_ref().unwrap().inside();
    let shares = shares(deviation_m, field.grid.cell_m, (1, 0.0));
    let flown = |depth_mm: &DepthGrid, (down, right): (isize, isize)| {
        DepthGrid::from_shape_fn(depth_mm.dim(), |at| {
            let from = |k: isize| {
                let row = at.0.checked_add_signed(k * down)?;
                let column = at.1.checked_add_signed(k * right)?;
                (*inside.get((row, column))? && inside[at])
                    .then(|| depth_mm[(row, column)] - depth_mm[at])
            };
            let flows = (1..).zip(&shares).map(|(k, share)| {
                share * (from(k).unwrap_or_default() + from(-k).unwrap_or_default())
            });
            depth_mm[at] + flows.sum::<f64>()
        })
    };
    flown(&flown(fell_mm, (0, 1)), (1, 0))
}

#[test]
fn reference_blocks_of_a_bounded_field_spread_as_one_cell_after_another() {
    // Many blocks and a corner off; one block and a part; smaller than a block, and than water goes.
    for (cells_along, cells_across, deviation_m) in
        [(117, 40, 0.6), (32, 20, 0.3), (17, 9, 0.6), (16, 1, 2.0), (5, 3, 2.0), (1, 1, 0.6)]
    {
        let grid = Grid { cells_along, cells_across, cell_m: 0.5 };
        let (x, y) = (grid.length_along_m(), grid.width_across_m());
        let ring = [[0.0, 0.0], [x, 0.0], [x, 0.6 * y], [0.6 * x, y], [0.0, y]];
        let boundary = Boundary::new(vec![ring.to_vec()], &grid).unwrap();
        let field = Field { grid, travel_bearing_deg: 0.0, boundary: Some(boundary) };
        let depth_mm = |(r, c)| ((r * 7 + c * 3) % 11) as f64;
        let fell_mm = DepthGrid::from_shape_fn((cells_across, cells_along), depth_mm);
        let found_mm = spread(deviation_m, &field, &fell_mm);
        let expected_mm = spread_cell_by_cell(deviation_m, &field, &fell_mm);
        for (found, expected) in found_mm.iter().zip(&expected_mm) {
            assert!((found - expected).abs() < 1e-12, "{cells_along}: {found} {expected}");
        }
    }
}
