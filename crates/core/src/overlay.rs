//! The overlay: from the footprints of a pass's sets to depths on the grid.
//!
//! depth(x, y) = Σ over sets i, Σ over sprinklers j of footprint(x − xⱼ, y − yᵢ).
//!
//! The sprinklers of a lateral stand a whole number of cells apart, and footprint rows of all sets
//! that reach a row of the field are added *before* they are repeated along the pipe (`strip`), so the
//! repetition is done once a row instead of once a set. `alike` lays sprinklers that all lay the same,
//! `each` those that do not. Water that falls outside the grid is left out; `off_grid` counts it for the
//! mass balance of the season.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

mod alike;
mod each;
mod off_grid;
mod sets;
mod spread;
mod strip;
mod window;

pub use alike::lay;
pub(crate) use each::{NodeSets, lay_each};
pub(crate) use off_grid::{off_grid, off_grid_each};
pub use sets::{LaidSet, PipeOnGrid};
pub(crate) use spread::Spread;
pub(crate) use window::{Laying, Onto, RowScratch};

#[cfg(test)]
#[path = "overlay_tests.rs"]
mod tests;
