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

use crate::model::Field;
use crate::overlay::Spread;
use crate::season::thinning::Thinning;
use crate::sprinkler::widening::variance_cells2;
use crate::statistics::normal_cdf;
use ndarray::Array2;
use pulp::{Arch, Simd, WithSimd};
use std::ops::Range;

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

/// Spreading within a boundary.
#[derive(Clone, Debug)]
pub(super) struct Within {
    /// Share that a cell gives the neighbors 1, 2 … columns away on either side.
    along: Vec<f64>,
    /// The same for rows.
    across: Vec<f64>,
    /// How much of each cell is the field's: 1 on it, 0 off it.
    inside: Array2<f64>,
}

/// How many cells far water is spread by a standard deviation of `deviation_m`.
pub(super) fn reach_cells(deviation_m: f64, cell_m: f64) -> usize {
    (REACH * deviation_m / cell_m).ceil().max(0.0) as usize
}

/// Room for rows on their way.
#[derive(Clone, Debug, Default)]
pub(super) struct SpreadRoom {
    along_mm: Vec<f64>,
    spread_mm: Vec<f64>,
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
            Some(boundary) => {
                let mut inside = Array2::zeros((rows, columns));
                for ((row, column), is_inside) in boundary.inside().indexed_iter() {
                    let place = (row / thinning.rows(), column / thinning.columns());
                    inside[place] += f64::from(u8::from(*is_inside));
                }
                let inside = inside / thinning.cells();
                Self::Within(Within { along, across, inside })
            }
        })
    }

    /// The rows from which water reaches `rows`.
    pub(super) fn around(&self, rows: &Range<usize>) -> Range<usize> {
        let (reach, field_rows) = match self {
            Self::OnItsWay(spread) => (spread.across.len(), spread.field.0),
            Self::Within(within) => (within.across.len(), within.inside.nrows()),
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

impl Within {
    /// What the crop gets on `rows` of what fell on the rows `around` them: `depth_mm`, of `columns`
    /// each.
    pub(super) fn spread<'b>(
        &self,
        depth_mm: &[f64],
        columns: usize,
        (around, rows): (Range<usize>, Range<usize>),
        room: &'b mut SpreadRoom,
    ) -> &'b [f64] {
        let SpreadRoom { along_mm, spread_mm } = room;
        along_mm.resize(around.len() * columns, 0.0);
        spread_mm.resize(rows.len() * columns, 0.0);
        let by = self;
        Arch::new().dispatch(Spreading {
            by,
            depth_mm,
            columns,
            around,
            rows,
            along_mm,
            spread_mm,
        });
        spread_mm
    }
}

/// The spreading of some rows as work that is compiled a second time for wider vectors.
struct Spreading<'a> {
    by: &'a Within,
    depth_mm: &'a [f64],
    columns: usize,
    around: Range<usize>,
    rows: Range<usize>,
    along_mm: &'a mut [f64],
    spread_mm: &'a mut [f64],
}

impl WithSimd for Spreading<'_> {
    type Output = ();

    #[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let Self { by, depth_mm, columns, around, rows, along_mm, spread_mm } = self;
        let fell = depth_mm.chunks_exact(columns).zip(along_mm.chunks_exact_mut(columns));
        for (row, (depth_mm, along_mm)) in around.clone().zip(fell) {
            let inside = by.inside.row(row);
            along(&by.along, depth_mm, inside.to_slice().unwrap_or_default(), along_mm);
        }
        let of = |row: usize| {
            let first = (row - around.start) * columns;
            &along_mm[first..first + columns]
        };
        for (row, spread_mm) in rows.zip(spread_mm.chunks_exact_mut(columns)) {
            across(by, row, of, spread_mm);
        }
    }
}

/// A row spread along itself.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn along(shares: &[f64], from: &[f64], inside: &[f64], to: &mut [f64]) {
    to.copy_from_slice(from);
    for (k, share) in (1..from.len()).zip(shares) {
        let near = ..from.len() - k;
        let far = k..;
        let (before, behind) =
            ((&from[near], &inside[near]), (&from[far.clone()], &inside[far.clone()]));
        add_flow(*share, before, behind, &mut to[near]);
        add_flow(*share, behind, before, &mut to[far]);
    }
}

/// A row spread across the rows, from what `of` gives of each.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn across<'a>(by: &Within, row: usize, of: impl Fn(usize) -> &'a [f64], to: &mut [f64]) {
    to.copy_from_slice(of(row));
    let is_inside = |row: usize| by.inside.row(row).to_slice();
    let Some(own) = is_inside(row) else { return };
    for (k, share) in (1..).zip(&by.across) {
        let before = row.checked_sub(k);
        let behind = (row + k < by.inside.nrows()).then_some(row + k);
        for other in [before, behind].into_iter().flatten() {
            if let Some(theirs) = is_inside(other) {
                add_flow(*share, (of(row), own), (of(other), theirs), to);
            }
        }
    }
}

/// What flows to each of its own cells from its neighbor, where both are inside: as much as the neighbor has
/// of the field.
#[expect(clippy::inline_always, reason = "is compiled for its caller's vectors only so")]
#[inline(always)]
fn add_flow(
    share: f64,
    (own, inside): (&[f64], &[f64]),
    (other, other_inside): (&[f64], &[f64]),
    to: &mut [f64],
) {
    let cells = own.iter().zip(other).zip(inside.iter().zip(other_inside));
    for (to, ((own, other), (a, b))) in to.iter_mut().zip(cells) {
        let from = if *a > 0.0 { *b } else { 0.0 };
        *to += share * from * (other - own);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::boundary::Boundary;
    use crate::grid::{DepthGrid, Grid};
    use crate::overlay::{LaidSet, Laying, Onto, PipeOnGrid, RowScratch};
    use crate::sprinkler::footprint::Footprint;

    fn field(boundary: Option<&[[f64; 2]]>) -> Field {
        let grid = Grid { cells_along: 40, cells_across: 30, cell_m: 0.5 };
        let boundary =
            boundary.map(|corners| Boundary::new(vec![corners.to_vec()], &grid).unwrap());
        Field { grid, travel_bearing_deg: 0.0, boundary }
    }

    fn spread(deviation_m: f64, field: &Field, depth_mm: &DepthGrid) -> DepthGrid {
        let columns = field.grid.cells_along;
        let every_cell = (Thinning::NONE, columns);
        let smoothing = Smoothing::new(deviation_m, field, every_cell).unwrap();
        let mut spread_mm = field.grid.zeros();
        // A few rows at a time, as a season goes.
        for first in (0..field.grid.cells_across).step_by(7) {
            let rows = first..(first + 7).min(field.grid.cells_across);
            let around = smoothing.around(&rows);
            let to =
                &mut spread_mm.as_slice_mut().unwrap()[rows.start * columns..rows.end * columns];
            match &smoothing {
                Smoothing::Within(within) => {
                    let from = around.start * columns..around.end * columns;
                    let (from, mut room) =
                        (&depth_mm.as_slice().unwrap()[from], SpreadRoom::default());
                    to.copy_from_slice(within.spread(from, columns, (around, rows), &mut room));
                }
                Smoothing::OnItsWay(spread) => {
                    // The whole field as what one sprinkler lays, and a second one far beside it.
                    let values = depth_mm.clone();
                    let footprint = Footprint { first_row: 0, first_column: 0, values };
                    let pipe = PipeOnGrid { first_column: 0, spacing_cells: 90, sprinklers: 2 };
                    let sets = [LaidSet { footprint: &footprint, row: 0, column: 0 }];
                    let mut scratch = RowScratch::spread(pipe, sets.iter(), spread);
                    let laid = (pipe, Laying::Alike(&sets), Onto::Nothing);
                    scratch.lay(laid, rows, (to, columns));
                }
            }
        }
        spread_mm
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
            let outside = |depth_mm| field.boundary.as_ref().map_or(0.0, |of| of.sums(depth_mm).1);
            assert!((outside(&uneven_mm) - outside(&spread_mm)).abs() < 1e-9);
            let (cu, evened) = (whole.figures(&uneven_mm), whole.figures(&spread_mm));
            assert!(evened.unwrap().cu > cu.unwrap().cu);
            let even_mm = field.grid.zeros() + 3.0;
            assert!(
                spread(deviation_m, &field, &even_mm).iter().all(|mm| (mm - 3.0).abs() < 1e-12)
            );
        }
    }

    #[test]
    fn closed_places_keep_the_water_of_their_part_of_the_field_and_the_variance_of_its_cells() {
        let corner = [[0.0, 0.0], [17.7, 1.0], [20.0, 12.1], [7.9, 15.0]];
        let field = field(Some(&corner));
        let thinning = Thinning::test(3, 4);
        let grid = thinning.grid(&field.grid);
        let columns = grid.cells_along;
        let Some(Smoothing::Within(within)) = Smoothing::new(0.7, &field, (thinning, columns))
        else {
            panic!("a boundary keeps water in");
        };
        assert!(within.inside.iter().any(|part| *part > 0.0 && *part < 1.0));
        let uneven_mm =
            DepthGrid::from_shape_fn(grid.zeros().dim(), |(r, c)| ((r * 7 + c * 3) % 11) as f64);
        let rows = 0..grid.cells_across;
        let mut room = SpreadRoom::default();
        let mut spread = |depth_mm: &DepthGrid| {
            let all = (rows.clone(), rows.clone());
            within.spread(depth_mm.as_slice().unwrap(), columns, all, &mut room).to_vec()
        };
        let water = |depth_mm: &[f64]| -> f64 {
            within.inside.iter().zip(depth_mm).map(|(part, depth_mm)| part * depth_mm).sum()
        };
        let (before, after) = (water(uneven_mm.as_slice().unwrap()), water(&spread(&uneven_mm)));
        assert!((after / before - 1.0).abs() < 1e-12, "{before} {after}");
        assert!(spread(&(grid.zeros() + 3.0)).iter().all(|mm| (mm - 3.0).abs() < 1e-12));
        for deviation_m in [0.1, 0.2, 0.7, 5.0] {
            let variance_m2 = |apart: usize| -> f64 {
                let shares = shares(deviation_m, 0.5, (apart, variance_cells2(apart)));
                let moments = (1..).zip(shares).map(|(k, share)| f64::from(k * k) * share);
                2.0 * 0.25 * (apart * apart) as f64 * moments.sum::<f64>()
            };
            let (cells, columns) = (variance_m2(1), variance_m2(3));
            let widened = 0.25 * variance_cells2(3);
            assert!((columns + widened - cells).abs() < 1e-9, "{deviation_m}: {cells} {columns}");
        }
    }

    #[test]
    fn closed_no_distance_is_no_spreading() {
        assert!(Smoothing::new(0.0, &field(None), (Thinning::NONE, 40)).is_none());
    }
}
