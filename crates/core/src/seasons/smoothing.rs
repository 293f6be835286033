//! What roots and soil spread of the water that falls, before the crop takes it.
//!
//! The depth on each cell is spread by a Gaussian in the plane, of a stated standard deviation, along
//! the rows and then along the columns: a cell gives each neighbor k cells away the share
//! Φ((k + ½) c/σ) − Φ((k − ½) c/σ) of what lies on it (c the cell, Φ the normal distribution), out to
//! 3 σ, and gets as much from there. A share that would leave the field stays where it fell, so the
//! water on the field is kept to round-off and an even depth stays even.
//!
//! Valid as a stand-in: that roots reach sideways and that soil water moves is known, how far is not.
//! Water of sweet corn was evened out by the soil (Stern & Bresler 1983), another study of maize found
//! nothing of the kind. Neglected: that it takes days, and depends on the soil. What cans catch is
//! not spread; only the crop sees it.

use crate::grid::DepthGrid;
use crate::model::Field;
use crate::statistics::normal_cdf;
use ndarray::Array2;
use std::ops::Range;

/// Standard deviations out to which water is spread.
const REACH: f64 = 3.0;

/// Spreading on one field.
#[derive(Clone, Debug)]
pub(super) struct Smoothing {
    /// Share that a cell gives the neighbors 1, 2 … cells away on either side.
    shares: Vec<f64>,
    /// 1 on the field, 0 off it; `None` where all cells are the field's.
    inside: Option<Array2<f64>>,
    spread_mm: DepthGrid,
    flow_mm: Vec<f64>,
}

/// How many cells far water is spread by a standard deviation of `deviation_m`.
pub(super) fn reach_cells(deviation_m: f64, cell_m: f64) -> usize {
    (REACH * deviation_m / cell_m).ceil().max(0.0) as usize
}

impl Smoothing {
    /// Spreading by a standard deviation of `deviation_m`; `None` where that is nothing. A field with
    /// a boundary is never folded, so its cells are those of the grid.
    pub(super) fn new(deviation_m: f64, field: &Field) -> Option<Self> {
        let cell_m = field.grid.cell_m;
        let cells = reach_cells(deviation_m, cell_m);
        if cells == 0 {
            return None;
        }
        let below = |cells: f64| normal_cdf(cells * cell_m / deviation_m);
        let share = |k: usize| below(k as f64 + 0.5) - below(k as f64 - 0.5);
        let inside = |inside: &bool| f64::from(u8::from(*inside));
        Some(Self {
            shares: (1..=cells).map(share).collect(),
            inside: field.boundary.as_ref().map(|boundary| boundary.inside().map(inside)),
            spread_mm: DepthGrid::zeros((0, 0)),
            flow_mm: Vec::new(),
        })
    }

    /// `depth_mm` as the crop gets it.
    pub(super) fn spread(&mut self, depth_mm: &DepthGrid) -> &DepthGrid {
        let wet = |row: &usize| depth_mm.row(*row).iter().any(|depth| *depth > 0.0);
        let (rows, columns) = depth_mm.dim();
        let first = (0..rows).find(wet).unwrap_or(rows);
        let end = (first..rows).rev().find(wet).map_or(first, |last| last + 1);
        self.spread_mm.clone_from(depth_mm);
        for row in first..end {
            let cells = row * columns..(row + 1) * columns;
            for k in (1..columns).take(self.shares.len()) {
                self.flow(depth_mm, cells.start..cells.end - k, k, self.shares[k - 1]);
            }
        }
        let along_mm = self.spread_mm.clone();
        let reach = self.shares.len();
        let last = (end + reach).min(rows);
        for row in first.saturating_sub(reach)..last {
            for k in (1..last - row).take(reach) {
                let cells = row * columns..(row + 1) * columns;
                self.flow(&along_mm, cells, k * columns, self.shares[k - 1]);
            }
        }
        &self.spread_mm
    }

    /// What flows between `cells` and those that lie `apart` further on in the order of the grid.
    fn flow(&mut self, from: &DepthGrid, cells: Range<usize>, apart: usize, share: f64) {
        let further = cells.start + apart..cells.end + apart;
        let (Some(from), Some(to)) = (from.as_slice(), self.spread_mm.as_slice_mut()) else {
            return;
        };
        let pairs = from[cells.clone()].iter().zip(&from[further.clone()]);
        self.flow_mm.clear();
        self.flow_mm.extend(pairs.map(|(near, far)| share * (near - far)));
        if let Some(inside) = self.inside.as_ref().and_then(|inside| inside.as_slice()) {
            let both = inside[cells.clone()].iter().zip(&inside[further.clone()]);
            self.flow_mm.iter_mut().zip(both).for_each(|(flow, (a, b))| *flow *= a * b);
        }
        to[cells].iter_mut().zip(&self.flow_mm).for_each(|(to, flow)| *to -= flow);
        to[further].iter_mut().zip(&self.flow_mm).for_each(|(to, flow)| *to += flow);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::boundary::Boundary;
    use crate::grid::Grid;

    fn field(boundary: Option<&[[f64; 2]]>) -> Field {
        let grid = Grid { cells_along: 40, cells_across: 30, cell_m: 0.5 };
        let boundary =
            boundary.map(|corners| Boundary::new(vec![corners.to_vec()], &grid).unwrap());
        Field { grid, travel_bearing_deg: 0.0, boundary }
    }

    fn spread(deviation_m: f64, field: &Field, depth_mm: &DepthGrid) -> DepthGrid {
        Smoothing::new(deviation_m, field).unwrap().spread(depth_mm).clone()
    }

    #[test]
    fn closed_a_drop_in_the_middle_becomes_a_gaussian_of_the_stated_deviation() {
        let field = field(None);
        let mut drop_mm = field.grid.zeros();
        drop_mm[(15, 20)] = 1.0;
        let spread_mm = spread(1.5, &field, &drop_mm);
        let along = |power: i32| -> f64 {
            let moment =
                |((_, x), mm): ((usize, usize), &f64)| mm * (0.5 * (x as f64 - 20.0)).powi(power);
            spread_mm.indexed_iter().map(moment).sum()
        };
        assert!((along(0) - 1.0).abs() < 1e-12 && along(1).abs() < 1e-12);
        // Cutting off at 3 σ takes 2.7 % of the second moment (0.973 of σ²); whole cells add c²/12.
        let expected = 0.973 * 1.5 * 1.5 + 0.25 / 12.0;
        assert!((along(2) / expected - 1.0).abs() < 0.01, "{} {expected}", along(2));
        assert!(
            (spread_mm[(15, 20)] - spread_mm.iter().copied().fold(0.0, f64::max)).abs() < 1e-15
        );
    }

    #[test]
    fn invariant_water_is_kept_and_an_even_depth_stays_even_whatever_the_edge() {
        let ell = [[0.0, 0.0], [20.0, 0.0], [20.0, 7.0], [11.0, 7.0], [11.0, 15.0], [0.0, 15.0]];
        for (boundary, deviation_m) in [(None, 0.4), (None, 2.0), (Some(&ell[..]), 2.0)] {
            let field = field(boundary);
            let uneven_mm =
                DepthGrid::from_shape_fn((30, 40), |(r, c)| ((r * 7 + c * 3) % 11) as f64);
            let spread_mm = spread(deviation_m, &field, &uneven_mm);
            let whole = field.whole();
            let (before, after) = (whole.of(&uneven_mm).sum(), whole.of(&spread_mm).sum());
            assert!((after / before - 1.0).abs() < 1e-12, "{before} {after}");
            assert!((field.outside_sum(&uneven_mm) - field.outside_sum(&spread_mm)).abs() < 1e-9);
            let (cu, evened) = (whole.figures(&uneven_mm), whole.figures(&spread_mm));
            assert!(evened.unwrap().cu > cu.unwrap().cu);
            let even_mm = field.grid.zeros() + 3.0;
            assert!(
                spread(deviation_m, &field, &even_mm).iter().all(|mm| (mm - 3.0).abs() < 1e-12)
            );
        }
    }

    #[test]
    fn closed_no_distance_is_no_spreading() {
        assert!(Smoothing::new(0.0, &field(None)).is_none());
    }
}
