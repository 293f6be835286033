//! What roots and soil spread of the water that falls, before the crop takes it.
//!
//! The depth on each cell is spread by a Gaussian in the plane, of a stated standard deviation, along
//! the rows and then along the columns: a cell gives each neighbor k cells away the share
//! Φ((k + ½) c/σ) − Φ((k − ½) c/σ) of what lies on it (c the cell, Φ the normal distribution), out to
//! 3 σ, and gets as much from there. A share that would leave the field stays where it fell, so the
//! water on the field is kept to round-off and an even depth stays even. Places of which only a part is
//! the field's take in and give as much as that part.
//!
//! Where the field is looked at in fewer places (`season::thinning`), c is their distance along or across; the
//! shares of a wider c spread by another variance, 2 Σ k² c² sₖ, and are brought to that of cells, less
//! what the water was widened by already (`sprinkler::widening`).
//!
//! Valid as a stand-in: that roots reach sideways and that soil water moves is known, how far is not.
//! Water of sweet corn was evened out by the soil (Stern & Bresler 1983), another study of maize found
//! nothing of the kind. Neglected: that it takes days, and depends on the soil. What cans catch is
//! not spread; only the crop sees it.

mod within;

use crate::model::Field;
use crate::overlay::Spread;
use crate::season::thinning::Thinning;
use crate::sprinkler::widening::variance_cells2;
use crate::statistics::normal_cdf;
use std::ops::Range;
pub(super) use within::{SpreadRoom, Within};

/// Standard deviations out to which water is spread.
const REACH: f64 = 3.0;

/// How water is spread on a field.
#[derive(Clone, Debug)]
pub(super) enum Smoothing {
    /// On its way, before it is laid along the pipe.
    OnItsWay(Spread),
    /// Where it lies: a boundary keeps it in.
    Within(Within),
}

/// How many cells far water is spread by a standard deviation of `deviation_m`.
pub(super) fn reach_cells(deviation_m: f64, cell_m: f64) -> usize {
    (REACH * deviation_m / cell_m).ceil().max(0.0) as usize
}

impl Smoothing {
    /// Spreading by a standard deviation of `deviation_m` on a field of which so much is looked at and
    /// which is folded to so many columns; `None` where that is nothing. A field with a boundary is
    /// never folded.
    pub(super) fn new(
        deviation_m: f64,
        field: &Field,
        (thinning, columns): (Thinning, usize),
    ) -> Option<Self> {
        let (cell_m, rows) = (field.grid.cell_m, thinning.grid(&field.grid).cells_across);
        let widened = variance_cells2(thinning.apart());
        let across = shares(deviation_m, cell_m, (thinning.rows(), widened));
        let along = shares(deviation_m, cell_m, (thinning.columns(), widened));
        if across.is_empty() || along.is_empty() {
            return None;
        }
        Some(match &field.boundary {
            None => Self::OnItsWay(Spread { along, across, field: (rows, columns) }),
            Some(boundary) => Self::Within(Within::new(along, across, boundary, thinning)),
        })
    }

    /// The rows from which water reaches `rows`.
    pub(super) fn around(&self, rows: &Range<usize>) -> Range<usize> {
        let (reach, field_rows) = match self {
            Self::OnItsWay(spread) => (spread.across.len(), spread.field.0),
            Self::Within(within) => within.reach_and_rows(),
        };
        rows.start.saturating_sub(reach)..(rows.end + reach).min(field_rows)
    }
}

/// Share that a place gives to those 1, 2 … places away on either side, `apart_cells` cells apart, by the
/// variance that cells have, less what water was widened by already, cell². Where it was widened by more
/// than that, shares are negative.
fn shares(deviation_m: f64, cell_m: f64, (apart_cells, widened): (usize, f64)) -> Vec<f64> {
    let on = |cell_m: f64| -> Vec<f64> {
        let below = |cells: f64| normal_cdf(cells * cell_m / deviation_m);
        let share = |k: usize| below(k as f64 + 0.5) - below(k as f64 - 0.5);
        (1..=reach_cells(deviation_m, cell_m)).map(share).collect()
    };
    let cells = on(cell_m);
    if apart_cells == 1 && widened == 0.0 {
        return cells;
    }
    let variance_m2 = |shares: &[f64], cell_m: f64| -> f64 {
        let moments = (1..).zip(shares).map(|(k, share)| f64::from(k * k) * share);
        2.0 * cell_m * cell_m * moments.sum::<f64>()
    };
    let apart_m = cell_m * apart_cells as f64;
    let mut places = on(apart_m);
    let wanted_m2 = variance_m2(&cells, cell_m) - widened * cell_m * cell_m;
    let found_m2 = variance_m2(&places, apart_m);
    if found_m2 <= LEAST_VARIANCE * wanted_m2.abs() || places.is_empty() {
        return vec![0.5 * wanted_m2 / (apart_m * apart_m)];
    }
    for share in &mut places {
        *share *= wanted_m2 / found_m2;
    }
    places
}

/// Below this part of the variance that is wanted, shares are round-off.
const LEAST_VARIANCE: f64 = 1e-6;

#[cfg(test)]
#[path = "smoothing_tests.rs"]
mod tests;
