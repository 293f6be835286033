use super::*;
use crate::grid::Grid;
use crate::overlay::PipeOnGrid;
use crate::season::thinning::Thinning;

/// A field folded so that columns 6 to 9 stand for 6 repeats, and its values, folded and real.
fn folded() -> (Grid, CompactField, DepthGrid, DepthGrid) {
    let grid = Grid { cells_along: 34, cells_across: 25, cell_m: 1.0 };
    let pipe = PipeOnGrid { first_column: 2, spacing_cells: 4, sprinklers: 8 };
    let compact = CompactField::new((&grid, Thinning::NONE), pipe, 4, Some(1));
    let small = compact.grid(&grid);
    assert!(small.cells_along < 20, "{small:?}");
    let value = |(row, column): (usize, usize)| 3.0 + ((row * 7 + column * 11) % 17) as f64;
    let folded = DepthGrid::from_shape_fn((25, small.cells_along), value);
    let real = compact.unfold(&folded);
    (grid, compact, folded, real)
}

#[test]
fn reference_figures_of_the_folded_field_are_those_of_the_real_one() {
    let (grid, compact, folded, real) = folded();
    for window in [grid.whole(), grid.inset(5.0), grid.inset(8.0), grid.edge_strip(3.0, true)] {
        let region = Region::Window(window);
        let weighted = WeightedRegion::of(&region, &compact);
        let figures = region.figures(&real).unwrap();
        assert!((weighted.mean(&folded) - figures.mean_depth_mm).abs() < 1e-12);
        let (cu, du_lq) = weighted.cu_and_du_lq(&folded);
        assert!((cu - figures.cu).abs() < 1e-12 && (du_lq - figures.du_lq).abs() < 1e-12);
        let mut all: Vec<f64> = region.of(&real).iter().copied().collect();
        all.sort_by(f64::total_cmp);
        let lowest = &all[..(all.len() / 10).max(1)];
        let plain = lowest.iter().sum::<f64>() / lowest.len() as f64;
        assert!((weighted.worst_tenth(&folded) - plain).abs() < 1e-12);
    }
}

#[test]
fn closed_a_dry_part_has_no_figures() {
    let (grid, compact, folded, _) = folded();
    let weighted = WeightedRegion::of(&Region::Window(grid.whole()), &compact);
    assert!(weighted.cu_and_du_lq(&(0.0 * folded)).0.is_nan());
}
