//! The overlay where the sprinklers of a lateral do not lay the same: pressure falls along the pipe,
//! or each delivers its own.
//!
//! Each sprinkler lays a blend of the footprints made at a few pressures (nodes), times its own
//! discharge over the stated one, so
//! depth(x, y) = Σ over nodes n, Σ over sets i, Σ over sprinklers j of pₙⱼ · footprintₙ(x − xⱼ, y − yᵢ).
//!
//! The rows of all sets are still added before they are repeated, once for each node. There is no
//! recursion for portions that change along the pipe, but the cells between two sprinklers get water
//! from the same few of them in every row: with p cells from one to the next, cell r of stretch b gets
//! Σ over n, Σ over k of pₙ,b₋ₖ · rowₙ(k·p + r). Which portions these are is listed once a pass, and each
//! cell is then written once. Exact, and nothing is subtracted.

use super::sets::{LaidSet, PipeOnGrid, near};
use super::strip::{FillRow, Reach, Strip, lay_rows};
use crate::grid::{DepthGrid, Grid};
use crate::statistics::LANES;
use pulp::Simd;
use std::ops::Range;

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
    let strip = Strip::new(pipe, Reach::of(nodes.iter().flat_map(|node| &node.sets)));
    let mix = Mix::new(&strip, nodes);
    let of_rows = |rows: Range<usize>| {
        Blended::new(&mix, nodes.iter().map(|node| near(&node.sets, &rows)).collect())
    };
    lay_rows(grid, &strip, of_rows, pass, cumulative)
}

/// What falls between one sprinkler and the next, stretch after stretch of the pipe.
#[derive(Clone, Debug, Default)]
pub(super) struct Mix {
    /// What it was made for: sprinklers and portions of every node.
    sprinklers: usize,
    portions: Vec<Vec<f64>>,
    spacing_cells: usize,
    /// The same as whole vectors.
    padded: usize,
    /// Stretches that a footprint reaches over.
    reach: usize,
    /// Per stretch, portions and where in the rows of the nodes the cells stand that they multiply,
    /// in blocks of lanes.
    stretches: Vec<Vec<(f64, usize)>>,
}

impl Mix {
    pub(super) fn new(strip: &Strip, nodes: &[NodeSets<'_>]) -> Self {
        let PipeOnGrid { spacing_cells, sprinklers, .. } = strip.pipe;
        let spacing_cells = spacing_cells.max(1);
        let padded = spacing_cells.next_multiple_of(LANES);
        let reach = strip.reach.cells.div_ceil(spacing_cells);
        let mut stretches = vec![Vec::new(); (sprinklers + reach).saturating_sub(1)];
        for (node, NodeSets { portions, .. }) in nodes.iter().enumerate() {
            let used = portions.iter().enumerate().take(sprinklers);
            for (sprinkler, portion) in used.filter(|(_, portion)| **portion > 0.0) {
                for part in 0..reach {
                    let at = (node * reach + part) * padded / LANES;
                    stretches[sprinkler + part].push((*portion, at));
                }
            }
        }
        let portions = nodes.iter().map(|node| node.portions.to_vec()).collect();
        Self { sprinklers, portions, spacing_cells, padded, reach, stretches }
    }

    /// Whether it is what [`Mix::new`] would make.
    pub(super) fn is_of(&self, strip: &Strip, nodes: &[NodeSets<'_>]) -> bool {
        let PipeOnGrid { spacing_cells, sprinklers, .. } = strip.pipe;
        (self.sprinklers, self.spacing_cells) == (sprinklers, spacing_cells.max(1))
            && self.reach == strip.reach.cells.div_ceil(self.spacing_cells)
            && self.portions.len() == nodes.len()
            && self.portions.iter().zip(nodes).all(|(own, node)| own == node.portions)
    }

    /// Cells that the row of a node takes, cut into stretches.
    fn node_cells(&self) -> usize {
        self.reach * self.padded
    }

    /// Fills `all` from the nodes' rows.
    #[inline(always)]
    fn fill<S: Simd>(&self, simd: S, ones: &[f64], all: &mut Vec<f64>) {
        all.resize(self.stretches.len() * self.spacing_cells + self.padded, 0.0);
        let (ones, _) = ones.as_chunks::<LANES>();
        for (stretch, portions) in self.stretches.iter().enumerate() {
            let first = stretch * self.spacing_cells;
            // What stands beyond the stretch is written anew with the next one.
            let (mut to, _) = all[first..first + self.padded].as_chunks_mut::<LANES>();
            let mut done = 0;
            while to.len() > 4 {
                let (these, rest) = to.split_at_mut(3);
                blocks::<S, 3>(simd, (ones, done), portions, these);
                (to, done) = (rest, done + 3);
            }
            // As many at once as there are: a number that is known makes the loop one of registers.
            match to.len() {
                1 => blocks::<S, 1>(simd, (ones, done), portions, to),
                2 => blocks::<S, 2>(simd, (ones, done), portions, to),
                3 => blocks::<S, 3>(simd, (ones, done), portions, to),
                _ => blocks::<S, 4>(simd, (ones, done), portions, to),
            }
        }
    }
}

/// Fills `N` blocks of a stretch, of which so many are done, from those of the nodes' rows.
#[inline(always)]
fn blocks<S: Simd, const N: usize>(
    simd: S,
    (ones, done): (&[[f64; LANES]], usize),
    portions: &[(f64, usize)],
    to: &mut [[f64; LANES]],
) {
    let vectors = LANES / S::F64_LANES;
    let mut sums = [[simd.splat_f64s(0.0); LANES]; N];
    for (portion, at) in portions {
        let portion = simd.splat_f64s(*portion);
        let Some(ones) = ones[at + done..].first_chunk::<N>() else { continue };
        for (sums, one) in sums.iter_mut().zip(ones) {
            let (one, _) = S::as_simd_f64s(one);
            for vector in 0..vectors {
                sums[vector] = simd.mul_add_f64s(portion, one[vector], sums[vector]);
            }
        }
    }
    for (to, sums) in to.iter_mut().zip(&sums) {
        S::as_mut_simd_f64s(to).0.copy_from_slice(&sums[..vectors]);
    }
}

/// Sets near some rows, whose sprinklers lay blends of what the nodes lay.
pub(super) struct Blended<'m, 'a> {
    mix: &'m Mix,
    /// Per node.
    sets: Vec<Vec<LaidSet<'a>>>,
    /// Scratch: the row of every node, cut into padded stretches.
    ones: Vec<f64>,
}

impl<'m, 'a> Blended<'m, 'a> {
    pub(super) fn new(mix: &'m Mix, sets: Vec<Vec<LaidSet<'a>>>) -> Self {
        let ones = vec![0.0; sets.len() * mix.node_cells()];
        Self { mix, sets, ones }
    }
}

impl FillRow for Blended<'_, '_> {
    #[inline(always)]
    fn fill<S: Simd>(&mut self, simd: S, strip: &mut Strip, row: usize) -> bool {
        let mut is_reached = false;
        if let Some(spreading) = strip.spreading() {
            spreading.clear_ends();
        }
        let nodes = self.ones.chunks_mut(self.mix.node_cells().max(1)).zip(&self.mix.portions);
        for (sets, (ones, portions)) in self.sets.iter().zip(nodes) {
            if strip.one_row(sets, row) {
                is_reached = true;
                strip.add_ends(|sprinkler| portions.get(sprinkler).copied().unwrap_or(0.0));
                let cut = strip.one.chunks(self.mix.spacing_cells);
                for (to, from) in ones.chunks_mut(self.mix.padded).zip(cut) {
                    to[..from.len()].copy_from_slice(from);
                }
            } else {
                ones.fill(0.0);
            }
        }
        if is_reached {
            self.mix.fill(simd, &self.ones, &mut strip.all);
        }
        is_reached
    }
}
