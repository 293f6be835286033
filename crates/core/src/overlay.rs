//! The overlay: from the footprints of a pass's sets to depths on the grid.
//!
//! depth(x, y) = Σ over sets i, Σ over sprinklers j of footprint(x − xⱼ, y − yᵢ).
//!
//! The sprinklers of a lateral stand a whole number of cells apart, and footprint rows of all sets
//! that reach a row of the field are added *before* they are repeated along the pipe (`strip`), so the
//! repetition is done once a row instead of once a set. `alike` lays sprinklers that all lay the same,
//! `each` those that do not. Water that falls outside the grid is left out; the mass balance of the
//! season counts it.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

mod alike;
mod each;
mod strip;
mod window;

pub use alike::lay;
pub(crate) use alike::off_grid;
pub(crate) use each::{NodeSets, lay_each, off_grid_each};
pub use strip::{LaidSet, PipeOnGrid};
pub(crate) use window::{Laying, RowScratch};

#[cfg(test)]
#[path = "overlay_tests.rs"]
mod tests;
