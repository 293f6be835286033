//! What a sprinkler lays in an hour of one speed of wind, in the wind's own axes, and how its water at any
//! place of the field is read there for any direction of that wind.
//!
//! An upright sprinkler's water falls alike in every direction of the wind, turned with it. So the jets'
//! water is laid once a speed, down the wind and to one side of it (the other is its mirror image), on
//! nodes a quarter of a cell apart; an hour's water is read there at the places where it is wanted, in a
//! small part of the time that laying it takes.
//!
//! **A lump is shared as the maker shares it.** There each cell takes of a lump by nearness along each
//! axis: a tent two cells wide. A tent two nodes wide (lumps laid on nodes by the same rule), added up over
//! seven nodes with weights 1, 2, 3, 4, 3, 2, 1 quarters, is that tent exactly. Its axes are the wind's here
//! and the field's there: turned, it keeps its water, its center and its variance of a sixth of a cell²
//! every way, and differs from the fourth moments on.
//!
//! **Reading between nodes** is linear, which spreads by f (1 − f) node² along each axis at a part f of the
//! way from one node to the next: a sixth in the mean. That much is taken off beforehand (weights −1, 14,
//! −1 twelfths), so what is left has no one sign and is 1/96 of a cell² at most.
//!
//! **Rates are kept in steps** of 1/32,767 of the greatest, in 16 bits, each beside that of the node above: so
//! the four about a place lie side by side and come in one piece, and what is laid at a speed stays close to
//! the processor while it is read. A rate is off by half a step at most, one way or the other.
//!
//! **Still air** is read like a wind: there water is the mean over a cell of the leg's rates at nodes.
//!
//! Source: tents add up to wider tents as linear B-splines do (de Boor 1978, A Practical Guide to Splines;
//! from memory, a test holds it). Neglected: the fourth moments.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::nodes::Nodes;
use super::scratch::Scratch;
use pulp::{Arch, Simd, WithSimd};

/// Lumps on their way to nodes.
pub(super) struct OwnWindLaying {
    on: Scratch,
    nodes: Nodes,
    water: f64,
    moment: f64,
}

impl OwnWindLaying {
    /// For lumps that lie at most so many cells from the sprinkler.
    pub(super) fn new(reach_cells: f64, nodes: Nodes) -> Self {
        let on = Scratch::new(reach_cells * nodes.to_a_cell + nodes.margin() as f64);
        Self { on, nodes, water: 0.0, moment: 0.0 }
    }

    /// Lays a lump so many cells down the wind and to its side, and as much at its mirror image.
    #[inline]
    pub(super) fn lay(&mut self, along: f64, cross: f64, volume: f64) {
        let (center, to_a_cell) = (self.on.center as f64, self.nodes.to_a_cell);
        let (column, row) = (center + along * to_a_cell, center + cross.abs() * to_a_cell);
        self.on.lay(column, row, volume);
        self.water += volume;
        self.moment += volume * along;
    }

    pub(super) fn finish(self) -> OwnWind {
        let drift_cells = self.moment / self.water;
        OwnWind::of(&self.on, (&self.nodes, &self.nodes.lumps), drift_cells)
    }
}

/// Spreads water on nodes by the weights, along rows and across them.
struct Spreading<'a> {
    cells: Vec<f64>,
    columns: usize,
    weights: &'a [f64],
}

impl WithSimd for Spreading<'_> {
    type Output = (Vec<[i16; 2]>, f64);

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> (Vec<[i16; 2]>, f64) {
        // A row's end is followed by the next one's start; both are dry, so all rows are spread as one.
        let along = spread(&self.cells, (1, self.weights));
        let rates = spread(&along, (self.columns, self.weights));
        let most = rates.iter().fold(0.0_f64, |most, rate| most.max(rate.abs()));
        let step = if most > 0.0 { most / f64::from(i16::MAX) } else { 1.0 };
        let in_steps = |rate: &f64| (rate / step).round_ties_even() as i16;
        let steps: Vec<i16> = rates.iter().map(in_steps).collect();
        let above = steps[self.columns..].iter().copied().chain(std::iter::repeat(0));
        (steps.iter().copied().zip(above).map(|(own, above)| [own, above]).collect(), step)
    }
}

/// Spreads by the weights among nodes `apart`; those at the ends, which are dry, stay empty.
#[inline(always)]
fn spread(cells: &[f64], (apart, weights): (usize, &[f64])) -> Vec<f64> {
    let reach = weights.len() - 1;
    let inside = cells.len() - 2 * reach * apart;
    let seen = |k: usize| &cells[k * apart..][..inside];
    let mut all = vec![0.0; cells.len()];
    let to = &mut all[reach * apart..][..inside];
    to.iter_mut().zip(seen(reach)).for_each(|(to, own)| *to = weights[0] * own);
    for (k, weight) in weights.iter().enumerate().skip(1) {
        let both = seen(reach - k).iter().zip(seen(reach + k));
        to.iter_mut().zip(both).for_each(|(to, (one, other))| *to += weight * (one + other));
    }
    all
}

/// Rates in a wind that blows along the rows, by the water of a cell.
#[derive(Debug)]
pub(super) struct OwnWind {
    pub(super) to_a_cell: f64,
    /// Column and row of the sprinkler; the column may lie beyond those that are there.
    pub(super) center: (f64, f64),
    pub(super) columns: usize,
    /// At each node its rate and that of the node above it, in steps.
    pub(super) rates: Vec<[i16; 2]>,
    /// A step of the rates.
    pub(super) step: f64,
    /// The circle that holds all water: how far down the wind its middle lies, and its radius, nodes.
    pub(super) circle: (f64, f64),
    /// How far the center of mass lies down the wind, cells.
    pub(super) drift_cells: f64,
}

impl OwnWind {
    /// Of what lies on the upper half of a square of nodes, spread by `weights`.
    fn of(on: &Scratch, (nodes, weights): (&Nodes, &[f64]), drift_cells: f64) -> Self {
        let margin = nodes.margin();
        let is_wet = |volume: &f64| *volume != 0.0;
        let wet = |(row, volumes): (usize, &[f64])| {
            Some((row, volumes.iter().position(is_wet)?, volumes.iter().rposition(is_wet)?))
        };
        let wet: Vec<_> = on.rows_from_the_center().enumerate().filter_map(wet).collect();
        let first = wet.iter().map(|(_, first, _)| *first).min().unwrap_or(on.center);
        let last = wet.iter().map(|(_, _, last)| *last).max().unwrap_or(on.center);
        let rows = wet.last().map_or(0, |(row, ..)| row + 1);
        // Below the axis lies what lies above it: mirrored rows come first, dry ones last.
        let columns = last + 1 - first + 2 * margin;
        let mut cells = vec![0.0; (rows + 2 * margin) * columns];
        for (k, row) in on.rows_from_the_center().take(rows).enumerate() {
            // On the axis a lump and its image meet.
            let factor = if k == 0 { 2.0 } else { 1.0 };
            let mirrored = (1..=margin).contains(&k).then(|| margin - k);
            for at in [Some(margin + k), mirrored].into_iter().flatten() {
                let to = cells[at * columns + margin..].iter_mut().zip(&row[first..=last]);
                to.for_each(|(to, volume)| *to = factor * volume);
            }
        }
        let (rates, step) = Arch::new().dispatch(Spreading { cells, columns, weights });
        let middle = 0.5 * (first + last) as f64;
        let from_middle = |(row, first, last): &(usize, usize, usize)| {
            let along = (middle - *first as f64).max(*last as f64 - middle);
            along.hypot(*row as f64)
        };
        let radius = wet.iter().map(from_middle).fold(0.0, f64::max) + margin as f64;
        let center = on.center as f64;
        Self {
            to_a_cell: nodes.to_a_cell,
            center: (center - first as f64 + margin as f64, margin as f64),
            columns,
            rates,
            step,
            circle: (middle - center, radius),
            drift_cells,
        }
    }

    /// Of rates in still air, by the distance from the sprinkler, cells; nothing from `reach_cells` on.
    pub(super) fn still(reach_cells: f64, nodes: &Nodes, rate_at: impl Fn(f64) -> f64) -> Self {
        let mut on = Scratch::new(reach_cells * nodes.to_a_cell + nodes.margin() as f64);
        let center = on.center;
        on.fill_from_the_center(|row, column| {
            let apart = (column as f64 - center as f64).hypot(row as f64);
            let rate = rate_at(apart / nodes.to_a_cell);
            // As if a mirror image were added to it.
            if row == 0 { 0.5 * rate } else { rate }
        });
        Self::of(&on, (nodes, &nodes.rates), 0.0)
    }

    /// Memory it takes, bytes.
    pub(super) fn bytes(&self) -> usize {
        size_of::<Self>() + size_of_val(self.rates.as_slice())
    }
}

#[cfg(test)]
#[path = "own_wind/tests.rs"]
mod tests;
