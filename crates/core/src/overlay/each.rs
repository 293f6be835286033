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

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::sets::{LaidSet, PipeOnGrid, near};
use super::strip::{FillRow, Reach, Strip, lay_rows};
use crate::grid::{DepthGrid, Grid};
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
    /// The same in whole blocks.
    padded: usize,
    /// Stretches that a footprint reaches over.
    reach: usize,
    /// Per stretch, portions and where in the rows of the nodes the cells stand that they multiply,
    /// in blocks.
    stretches: Vec<Vec<(f64, usize)>>,
}

impl Mix {
    pub(super) fn new(strip: &Strip, nodes: &[NodeSets<'_>]) -> Self {
        let PipeOnGrid { spacing_cells, sprinklers, .. } = strip.pipe;
        let spacing_cells = spacing_cells.max(1);
        let padded = spacing_cells.next_multiple_of(BLOCK);
        let reach = strip.reach.cells.div_ceil(spacing_cells);
        let mut stretches = vec![Vec::new(); (sprinklers + reach).saturating_sub(1)];
        for (node, NodeSets { portions, .. }) in nodes.iter().enumerate() {
            let used = portions.iter().enumerate().take(sprinklers);
            for (sprinkler, portion) in used.filter(|(_, portion)| **portion > 0.0) {
                for part in 0..reach {
                    let at = (node * reach + part) * padded / BLOCK;
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
    fn fill(&self, ones: &[f64], all: &mut Vec<f64>) {
        all.resize(self.stretches.len() * self.spacing_cells + self.padded, 0.0);
        let (ones, _) = ones.as_chunks::<BLOCK>();
        for (stretch, portions) in self.stretches.iter().enumerate() {
            let first = stretch * self.spacing_cells;
            // What stands beyond the stretch is written anew with the next one.
            fill_stretch(ones, portions, &mut all[first..first + self.padded]);
        }
    }

    /// Fills the field's row from the nodes' rows, of which the first cell lies in column `start`.
    #[inline(always)]
    fn write(&self, ones: &[f64], start: isize, row: &mut [f64], room: &mut Vec<f64>) {
        room.resize(self.padded, 0.0);
        let (ones, _) = ones.as_chunks::<BLOCK>();
        let columns = row.len() as isize;
        row[..start.clamp(0, columns) as usize].fill(0.0);
        let mut end = start;
        for portions in &self.stretches {
            let first = end;
            end += self.spacing_cells as isize;
            if first >= 0 && first + self.padded as isize <= columns {
                let first = first as usize;
                fill_stretch(ones, portions, &mut row[first..first + self.padded]);
            } else if end > 0 && first < columns {
                fill_stretch(ones, portions, room);
                let (from, to) = (first.max(0), end.min(columns));
                let seen = &room[(from - first) as usize..(to - first) as usize];
                row[from as usize..to as usize].copy_from_slice(seen);
            }
        }
        row[end.clamp(0, columns) as usize..].fill(0.0);
    }
}

/// Fills a stretch.
#[inline(always)]
fn fill_stretch(ones: &[[f64; BLOCK]], portions: &[(f64, usize)], to: &mut [f64]) {
    let (mut to, _) = to.as_chunks_mut::<BLOCK>();
    let mut done = 0;
    while to.len() > 5 {
        let (these, rest) = to.split_at_mut(4);
        blocks::<4>((ones, done), portions, these);
        (to, done) = (rest, done + 4);
    }
    // As many at once as there are: a number that is known makes the loop one of registers.
    match to.len() {
        1 => blocks::<1>((ones, done), portions, to),
        2 => blocks::<2>((ones, done), portions, to),
        3 => blocks::<3>((ones, done), portions, to),
        4 => blocks::<4>((ones, done), portions, to),
        _ => blocks::<5>((ones, done), portions, to),
    }
}

/// Cells that are filled together.
const BLOCK: usize = 4;

/// Fills `N` blocks of a stretch, of which so many are done, from those of the nodes' rows.
#[inline(always)]
fn blocks<const N: usize>(
    (ones, done): (&[[f64; BLOCK]], usize),
    portions: &[(f64, usize)],
    to: &mut [[f64; BLOCK]],
) {
    let mut sums = [[0.0; BLOCK]; N];
    for (portion, at) in portions {
        let Some(ones) = ones[at + done..].first_chunk::<N>() else { continue };
        for block in 0..N {
            for cell in 0..BLOCK {
                sums[block][cell] = portion.mul_add(ones[block][cell], sums[block][cell]);
            }
        }
    }
    to.copy_from_slice(&sums);
}

/// Sets near some rows, whose sprinklers lay blends of what the nodes lay.
pub(super) struct Blended<'m, 'a> {
    mix: &'m Mix,
    /// Per node.
    sets: Vec<Vec<LaidSet<'a>>>,
    /// Scratch: the row of every node, cut into padded stretches.
    ones: Vec<f64>,
    /// A stretch of which the field has only a part.
    room: Vec<f64>,
}

impl<'m, 'a> Blended<'m, 'a> {
    pub(super) fn new(mix: &'m Mix, sets: Vec<Vec<LaidSet<'a>>>) -> Self {
        let ones = vec![0.0; sets.len() * mix.node_cells()];
        Self { mix, sets, ones, room: Vec::new() }
    }
}

impl Blended<'_, '_> {
    /// Adds up the row of every node; whether anything falls on it.
    #[inline(always)]
    fn add_up(&mut self, strip: &mut Strip, row: usize) -> bool {
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
        is_reached
    }
}

impl FillRow for Blended<'_, '_> {
    #[inline(always)]
    fn fill<S: Simd>(&mut self, _: S, strip: &mut Strip, row: usize) -> bool {
        let is_reached = self.add_up(strip, row);
        if is_reached {
            self.mix.fill(&self.ones, &mut strip.all);
        }
        is_reached
    }

    #[inline(always)]
    fn write<S: Simd>(&mut self, _: S, strip: &mut Strip, row: usize, to: &mut [f64]) -> bool {
        let is_reached = self.add_up(strip, row);
        if is_reached {
            self.mix.write(&self.ones, strip.start(), to, &mut self.room);
            strip.mend_ends(to);
        }
        is_reached
    }
}
