//! Nodes on which water is laid in the wind's own axes, and the weights by which it is spread among them.
//!
//! For places that are cells, nodes lie a quarter of a cell apart and the weights make of a lump the tent that
//! the maker makes of it (`own_wind`). For places farther apart they lie a quarter of the way apart, and the
//! weights widen the water too (`widening`); the tent is met by its variance.

use super::widening::BINOMIAL;

/// Weights of a node's own water and of that 1, 2 … nodes to either side, where nodes lie a quarter of a
/// cell apart: the tent of 4, 3, 2 and 1 quarters, drawn together.
pub(super) const TENT: [f64; 5] = [50.0 / 48.0, 36.0 / 48.0, 24.0 / 48.0, 12.0 / 48.0, -1.0 / 48.0];
/// The same for rates at nodes: their mean over a cell (the trapezoidal rule over five nodes), drawn
/// together.
pub(super) const MEAN: [f64; 4] = [12.0 / 48.0, 12.5 / 48.0, 6.0 / 48.0, -0.5 / 48.0];

/// Nodes and how water is spread among them, for places so many cells apart.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Nodes {
    /// To a cell's side.
    pub(super) to_a_cell: f64,
    /// Weights of lumps' water, and of rates in still air: the node's own, then those to either side.
    pub(super) lumps: Vec<f64>,
    pub(super) rates: Vec<f64>,
}

impl Nodes {
    /// For places so many cells apart.
    pub(super) fn new(apart: usize) -> Self {
        if apart == 1 {
            return Self { to_a_cell: 4.0, lumps: TENT.to_vec(), rates: MEAN.to_vec() };
        }
        let to_a_cell = 4.0 / apart as f64;
        // Laying on nodes and reading between them spread by a sixth of a node² each; rates are only read.
        let wanted = |cells2: f64, has: f64| 0.5 * (cells2 * to_a_cell * to_a_cell - has);
        let lumps = shared(wanted(1.0 / 6.0, 2.0 / 6.0), to_a_cell);
        let rates = shared(wanted(1.0 / 12.0, 1.0 / 6.0), 1.0);
        Self { to_a_cell, lumps, rates }
    }

    /// Nodes on every side that water may be spread to, and two that stay dry.
    pub(super) fn margin(&self) -> usize {
        self.lumps.len().max(self.rates.len()) + 1
    }
}

/// The binomial weights, each once more shared with its neighbors, times a factor.
fn shared(share: f64, factor: f64) -> Vec<f64> {
    let at = |k: usize| BINOMIAL.get(k).copied().unwrap_or(0.0);
    let one = |k: usize| {
        let before = if k == 0 { at(1) } else { at(k - 1) };
        factor * (at(k) + share * (before - 2.0 * at(k) + at(k + 1)))
    };
    (0..=BINOMIAL.len()).map(one).collect()
}
