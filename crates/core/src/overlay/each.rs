//! The overlay where the sprinklers of a lateral do not lay the same: pressure falls along the pipe,
//! or each delivers its own.
//!
//! Each sprinkler lays a blend of the footprints made at a few pressures (nodes), times its own
//! discharge over the stated one, so
//! depth(x, y) = Σ over nodes n, Σ over sets i, Σ over sprinklers j of pₙⱼ · footprintₙ(x − xⱼ, y − yᵢ).
//!
//! The rows of all sets are still added before they are repeated, once for each node; the repeat is
//! a plain sum over the sprinklers that use the node, as there is no recursion for portions that
//! change along the pipe. Exact, and nothing is subtracted.

use super::alike::off_grid_of;
use super::strip::{FillRow, LaidSet, PipeOnGrid, Reach, Strip, lay_rows};
use crate::grid::{DepthGrid, Grid};

/// What one node of pressure lays.
#[derive(Clone, Debug)]
pub(crate) struct NodeSets<'a> {
    /// Per sprinkler, how much of the footprint it lays; 0 for none.
    pub(crate) portions: &'a [f64],
    /// The sets with the footprints made at this pressure.
    pub(crate) sets: Vec<LaidSet<'a>>,
}

/// Lays the sets of all `nodes` down: `pass` becomes their depth and is added to `cumulative` (mm).
///
/// Returns the sum of the depths over all cells of the grid, mm · cells.
///
/// # Panics
/// If `pass` or `cumulative` is not of the grid's shape or not in standard layout.
pub(crate) fn lay_each(
    grid: &Grid,
    pipe: PipeOnGrid,
    nodes: &[NodeSets<'_>],
    pass: &mut DepthGrid,
    cumulative: &mut DepthGrid,
) -> f64 {
    let all = nodes.iter().flat_map(|node| &node.sets);
    lay_rows(grid, &Strip::new(pipe, Reach::of(all)), Blended(nodes), pass, cumulative)
}

/// What one set lays outside the grid at one node, summed over cells, mm · cells; counted by itself
/// like [`off_grid`](super::off_grid).
pub(crate) fn off_grid_each(
    grid: &Grid,
    pipe: PipeOnGrid,
    set: &LaidSet<'_>,
    portions: &[f64],
) -> f64 {
    let pipe = PipeOnGrid { sprinklers: pipe.sprinklers.min(portions.len()), ..pipe };
    off_grid_of(grid, pipe, set, |sprinkler| portions[sprinkler])
}

/// Sets whose sprinklers lay blends of what the nodes lay.
#[derive(Clone, Copy)]
pub(super) struct Blended<'a>(pub(super) &'a [NodeSets<'a>]);

impl FillRow for Blended<'_> {
    #[inline(always)]
    fn fill(&self, strip: &mut Strip, row: usize) -> bool {
        let mut is_reached = false;
        for node in self.0 {
            if !strip.one_row(&node.sets, row) {
                continue;
            }
            if !is_reached {
                strip.all.fill(0.0);
            }
            is_reached = true;
            let spacing_cells = strip.pipe.spacing_cells;
            add_portions(&strip.one, spacing_cells, node.portions, &mut strip.all);
        }
        is_reached
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
