//! The overlay where the sprinklers of a lateral do not lay the same: pressure falls along the pipe.
//!
//! Each sprinkler lays a blend of the footprints made at a few pressures (nodes), so
//! depth(x, y) = Σ over nodes n, Σ over sets i, Σ over sprinklers j of pₙⱼ · footprintₙ(x − xⱼ, y − yᵢ).
//!
//! The rows of all sets are still added before they are repeated, once for each node; the repeat is
//! a plain sum over the sprinklers that use the node, as there is no recursion for portions that
//! change along the pipe. Exact, and nothing is subtracted.

use super::{LaidSet, PipeOnGrid, ROWS_A_TASK, Reach, Strip};
use crate::grid::{DepthGrid, Grid};
use crate::statistics;
use pulp::{Arch, Simd, WithSimd};
use rayon::prelude::*;

/// What one node of pressure lays.
#[derive(Clone, Debug)]
pub struct NodeSets<'a> {
    /// Per sprinkler, how much of the footprint it lays; 0 for none.
    pub portions: &'a [f64],
    /// The sets with the footprints made at this pressure.
    pub sets: Vec<LaidSet<'a>>,
}

/// Lays the sets of all `nodes` down: `pass` becomes their depth and is added to `cumulative` (mm).
///
/// Returns the sum of the depths over all cells of the grid, mm · cells.
///
/// # Panics
/// If `pass` or `cumulative` is not of the grid's shape or not in standard layout.
pub fn lay_each(
    grid: &Grid,
    pipe: PipeOnGrid,
    nodes: &[NodeSets<'_>],
    pass: &mut DepthGrid,
    cumulative: &mut DepthGrid,
) -> f64 {
    let columns = grid.cells_along;
    let layout = "grids are in standard layout";
    let (pass, cumulative) = (
        pass.as_slice_mut().unwrap_or_else(|| panic!("{layout}")),
        cumulative.as_slice_mut().unwrap_or_else(|| panic!("{layout}")),
    );
    let all: Vec<LaidSet<'_>> = nodes.iter().flat_map(|node| node.sets.iter().copied()).collect();
    let reach = Reach::of(&all);
    let row_sums: Vec<f64> = pass
        .par_chunks_mut(columns * ROWS_A_TASK)
        .zip(cumulative.par_chunks_mut(columns * ROWS_A_TASK))
        .enumerate()
        .flat_map_iter(|(task, (pass, cumulative))| {
            let strip = Strip::new(pipe, reach);
            let first_row = task * ROWS_A_TASK;
            Arch::new().dispatch(Rows { strip, nodes, first_row, columns, pass, cumulative })
        })
        .collect();
    statistics::sum(&row_sums)
}

/// What one set lays outside the grid at one node, summed over cells, mm · cells; counted by itself
/// like [`off_grid`](super::off_grid), one sprinkler after another.
pub fn off_grid_each(grid: &Grid, pipe: PipeOnGrid, set: &LaidSet<'_>, portions: &[f64]) -> f64 {
    let used = portions.iter().enumerate().filter(|(_, portion)| **portion > 0.0);
    let outside = used.map(|(sprinkler, portion)| {
        let first_column = pipe.first_column + (sprinkler * pipe.spacing_cells) as isize;
        let alone = PipeOnGrid { first_column, sprinklers: 1, ..pipe };
        portion * super::off_grid(grid, alone, set)
    });
    outside.sum()
}

/// One task's rows; see [`super::Rows`].
struct Rows<'a> {
    strip: Strip,
    nodes: &'a [NodeSets<'a>],
    first_row: usize,
    columns: usize,
    pass: &'a mut [f64],
    cumulative: &'a mut [f64],
}

impl WithSimd for Rows<'_> {
    /// The sum of each row's depths.
    type Output = Vec<f64>;

    #[inline(always)]
    fn with_simd<S: Simd>(mut self, _: S) -> Vec<f64> {
        let mut sums = Vec::with_capacity(ROWS_A_TASK);
        let rows = self.pass.chunks_mut(self.columns).zip(self.cumulative.chunks_mut(self.columns));
        for (row, (pass, cumulative)) in (self.first_row..).zip(rows) {
            self.strip.all.fill(0.0);
            for node in self.nodes {
                self.strip.one_row(&node.sets, row);
                add_portions(&self.strip.one, self.strip.pipe.spacing_cells, node.portions, {
                    &mut self.strip.all
                });
            }
            sums.push(self.strip.write(pass, cumulative));
        }
        sums
    }
}

/// Adds `one` at every sprinkler, times that sprinkler's portion.
#[inline(always)]
fn add_portions(one: &[f64], spacing_cells: usize, portions: &[f64], all: &mut [f64]) {
    for (sprinkler, portion) in portions.iter().enumerate() {
        if *portion > 0.0 {
            let start = sprinkler * spacing_cells;
            for (to, from) in all[start..start + one.len()].iter_mut().zip(one) {
                *to += portion * from;
            }
        }
    }
}
