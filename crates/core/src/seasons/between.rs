//! What a season left at the places that were looked at, read on all cells of the folded field.
//!
//! Depths, yields and losses are read between their places by fourteen neighbors along the rows and fourteen
//! across them, by Lagrange's polynomial (Abramowitz & Stegun 1964, 25.2; from memory, the tests hold it to
//! polynomials); depths are read as they were before their water was made wider (`sprinkler::widening`).
//! Near an edge four neighbors are read, and drawn out beyond the last place.
//!
//! Neglected: that yields bend where water begins to be enough; there the polynomial overshoots a little,
//! which is cut off at nothing and at the full yield.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::compact::CompactField;
use crate::grid::DepthGrid;
use crate::season::thinning::{READ_REACH, Thinning};
use crate::sprinkler::widening::ROUNDS;
use pulp::{Arch, Simd, WithSimd};

/// Places along an axis from which a cell is read. As many to either side of a repeat must repeat as well, so
/// that it may be read as one line.
const TAPS: usize = 2 * READ_REACH;
/// The same near an edge.
const EDGE_TAPS: usize = 4;

/// How a line of cells is read from a line of places.
#[derive(Debug)]
struct Line {
    /// Cells to a place.
    every: usize,
    places: usize,
    cells: usize,
    /// For each of the cells of a place: how many places the first that it is read from lies from its own,
    /// and their weights.
    inner: Vec<(isize, [f64; TAPS])>,
    /// How much of the widening is undone: a node's distance, in half places.
    narrowed: f64,
}

impl Line {
    /// For water that was widened for places `apart` cells apart; 0 for what was not.
    fn new((every, apart): (usize, usize), places: usize, cells: usize) -> Self {
        let narrowed = apart as f64 / (8 * every) as f64;
        let weights = |cell: usize| {
            // From the middle of its place, in places.
            let at = (cell as f64 + 0.5) / every as f64 - 0.5;
            let first = at.floor() as isize + 1 - READ_REACH as isize;
            (first, lagrange(at - first as f64, narrowed))
        };
        Self { every, places, cells, narrowed, inner: (0..every).map(weights).collect() }
    }

    /// The first of the places that a cell is read from, and their weights.
    fn of(&self, cell: usize) -> (usize, [f64; TAPS]) {
        let (place, within) = (cell / self.every, cell % self.every);
        let (first, weights) = self.inner[within];
        let first = place as isize + first;
        if first >= 0 && first as usize + TAPS <= self.places {
            return (first as usize, weights);
        }
        // By the nearest few of the first or last.
        let at = (cell as f64 + 0.5) / self.every as f64 - 0.5;
        let low = (at.floor() as isize + 1 - (EDGE_TAPS / 2) as isize).max(0) as usize;
        let low = low.min(self.places - EDGE_TAPS);
        let first = low.min(self.places - TAPS);
        let mut weights = [0.0; TAPS];
        let few: [f64; EDGE_TAPS] = lagrange(at - low as f64, self.narrowed);
        weights[low - first..][..EDGE_TAPS].copy_from_slice(&few);
        (first, weights)
    }
}

/// Lagrange's weights of places 0, 1, 2 … for reading at `at` what was widened, as it was before.
///
/// Widening is cosh⁸(z), z = `narrowed` · d/dx in places (two nodes' weights 1, 2, 1 quarters are
/// cosh² of half their distance); so sech⁸(z), a series in z², is applied to the polynomial.
fn lagrange<const N: usize>(at: f64, narrowed: f64) -> [f64; N] {
    let undone = sech_power::<N>(2 * ROUNDS);
    std::array::from_fn(|own| {
        // The own polynomial about `at`, its coefficients from the constant up.
        let mut polynomial = [0.0; N];
        polynomial[0] = 1.0;
        for other in (0..N).filter(|other| *other != own) {
            let scale = own as f64 - other as f64;
            for power in (0..N).rev() {
                let lower = if power > 0 { polynomial[power - 1] } else { 0.0 };
                polynomial[power] = ((at - other as f64) * polynomial[power] + lower) / scale;
            }
        }
        let mut factorial = 1.0;
        let derivatives = polynomial.into_iter().enumerate().map(|(power, coefficient)| {
            factorial *= power.max(1) as f64;
            coefficient * factorial * narrowed.powi(power as i32)
        });
        let derivatives: Vec<f64> = derivatives.collect();
        derivatives
            .iter()
            .step_by(2)
            .zip(undone)
            .map(|(derivative, share)| derivative * share)
            .sum()
    })
}

/// The first coefficients of sech^`power`(z) in powers of z².
fn sech_power<const N: usize>(power: i32) -> [f64; N] {
    let mut cosh = [1.0; N];
    for n in 1..N {
        cosh[n] = cosh[n - 1] / ((2 * n) * (2 * n - 1)) as f64;
    }
    let mut found = [1.0; N];
    for n in 1..N {
        // Powers of a series (Knuth 1997, The Art of Computer Programming 2, 4.7; from memory, a test holds
        // it to the function).
        let terms = (1..=n).map(|k| {
            let factor = f64::from(-power) * k as f64 - (n - k) as f64;
            factor * cosh[k] * found[n - k]
        });
        found[n] = terms.sum::<f64>() / n as f64;
    }
    found
}

/// Room for reading, kept from season to season.
#[derive(Debug, Default)]
pub(crate) struct ReadingRoom {
    /// Rows of places read along.
    along: Vec<f64>,
    /// Those cells of a row that lie alike in their place.
    alike: Vec<f64>,
}

/// What is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Read {
    /// Depths, as cans would catch them.
    Depths,
    /// What became of the water in the soil, at most so much.
    Soil(f64),
}

/// What a season left on all cells, and room for it.
#[derive(Debug, Default)]
pub(super) struct OnCells {
    season_mm: DepthGrid,
    yields: DepthGrid,
    room: ReadingRoom,
}

impl OnCells {
    /// Depths and yields on all cells, from those at the places that are looked at.
    pub(super) fn of<'a>(
        &'a mut self,
        compact: &CompactField,
        season_mm: &'a DepthGrid,
        yields: &'a DepthGrid,
    ) -> [&'a DepthGrid; 2] {
        if compact.thinning() == Thinning::NONE {
            return [season_mm, yields];
        }
        read(season_mm, compact, Read::Depths, &mut self.season_mm, &mut self.room);
        read(yields, compact, Read::Soil(1.0), &mut self.yields, &mut self.room);
        [&self.season_mm, &self.yields]
    }
}

/// Makes `to` what `places` are on all cells of the folded field, none of it below nothing.
pub(crate) fn read(
    places: &DepthGrid,
    compact: &CompactField,
    what: Read,
    to: &mut DepthGrid,
    room: &mut ReadingRoom,
) {
    let ([rows, _], columns) = (compact.real(), compact.on_cells().folded_columns());
    if to.dim() != (rows, columns) {
        *to = DepthGrid::zeros((rows, columns));
    }
    let thinning = compact.thinning();
    let from = places.as_slice().unwrap_or(&[]);
    let Some(to) = to.as_slice_mut() else { return };
    let (place_rows, place_columns) = places.dim();
    let (widened, most) = match what {
        Read::Depths => (thinning.apart(), f64::INFINITY),
        Read::Soil(most) => (0, most),
    };
    let along = Line::new((thinning.columns(), widened), place_columns, columns);
    let across = Line::new((thinning.rows(), widened), place_rows, rows);
    Arch::new().dispatch(Reading { from, along, across, most, room, to });
}

/// Reading as work that is compiled a second time for wider vectors.
struct Reading<'a> {
    from: &'a [f64],
    along: Line,
    across: Line,
    most: f64,
    room: &'a mut ReadingRoom,
    to: &'a mut [f64],
}

impl WithSimd for Reading<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let Self { from, along, across, most, room, to } = self;
        let columns = along.cells;
        let ReadingRoom { along: read, alike } = room;
        read.resize(across.places * columns, 0.0);
        let rows = from.chunks_exact(along.places).zip(read.chunks_exact_mut(columns));
        rows.for_each(|(places, cells)| read_row(&along, places, cells, alike));
        for (row, to) in to.chunks_exact_mut(columns).enumerate() {
            let (first, weights) = across.of(row);
            let places: [&[f64]; TAPS] =
                std::array::from_fn(|k| &read[(first + k) * columns..][..columns]);
            weigh(&weights, places, to);
            for to in to {
                *to = to.max(0.0).min(most);
            }
        }
    }
}

/// Makes `to` the weighted sum of lists.
#[inline(always)]
fn weigh(weights: &[f64; TAPS], lists: [&[f64]; TAPS], to: &mut [f64]) {
    let lists = lists.map(|list| &list[..to.len()]);
    for (i, to) in to.iter_mut().enumerate() {
        let mut sum = 0.0;
        for k in 0..TAPS {
            sum += weights[k] * lists[k][i];
        }
        *to = sum;
    }
}

/// Reads a row of cells from a row of places.
#[inline(always)]
fn read_row(line: &Line, places: &[f64], cells: &mut [f64], alike: &mut Vec<f64>) {
    let inside = line.places + 1 - TAPS;
    alike.resize(inside, 0.0);
    for (within, (first, weights)) in line.inner.iter().enumerate() {
        // All cells that lie alike in their place, but for those near the ends: a list of places seen from
        // many places.
        weigh(weights, std::array::from_fn(|k| &places[k..][..inside]), alike);
        let skipped = first.unsigned_abs() * line.every + within;
        let to = cells.iter_mut().skip(skipped).step_by(line.every);
        to.zip(&*alike).for_each(|(to, read)| *to = *read);
    }
    let near = TAPS * line.every;
    for cell in (0..near.min(line.cells)).chain(line.cells.saturating_sub(near)..line.cells) {
        let (first, weights) = line.of(cell);
        let near = &places[first..first + TAPS];
        cells[cell] = weights.iter().zip(near).map(|(weight, place)| weight * place).sum();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grid::Grid;
    use crate::overlay::PipeOnGrid;

    const PIPE: PipeOnGrid = PipeOnGrid { first_column: 4, spacing_cells: 5, sprinklers: 12 };

    /// What is read on all cells of a field, folded or not, and what should be there.
    fn read_and_real(
        repeat: Option<usize>,
        of: impl Fn(f64, f64) -> f64,
    ) -> (CompactField, DepthGrid, DepthGrid) {
        let grid = Grid { cells_along: 120, cells_across: 63, cell_m: 1.0 };
        let compact = CompactField::new((&grid, Thinning::test(2, 3)), PIPE, 6, repeat);
        let mut places = DepthGrid::zeros((21, compact.folded_columns()));
        for column in 0..60 {
            for row in 0..21 {
                let at = (row, compact.folded(2 * column));
                places[at] = of(2.0 * column as f64 + 1.0, 3.0 * row as f64 + 1.5);
            }
        }
        let mut cells = DepthGrid::zeros((0, 0));
        read(&places, &compact, Read::Soil(1e9), &mut cells, &mut ReadingRoom::default());
        let real = DepthGrid::from_shape_fn((63, 120), |(row, column)| {
            of(column as f64 + 0.5, row as f64 + 0.5)
        });
        (compact.on_cells(), cells, real)
    }

    #[test]
    fn closed_polynomials_are_read_exactly_and_cubics_to_the_edge() {
        let bent = |x: f64, y: f64| 50.0 + (x / 60.0).powi(5) - (y / 30.0).powi(4) + x * y / 1e3;
        let (_, read, real) = read_and_real(None, bent);
        for ((row, column), found) in read.indexed_iter() {
            let is_inside = (21..42).contains(&row) && (14..106).contains(&column);
            let miss = (found - real[(row, column)]).abs();
            assert!(!is_inside || miss < 1e-10, "{row} {column}: {miss}");
        }
        let (_, read, real) =
            read_and_real(None, |x, y| 30.0 - (x / 50.0).powi(3) + (y / 20.0).powi(2));
        assert!((&read - &real).iter().all(|miss| miss.abs() < 1e-12));
    }

    #[test]
    fn closed_what_was_widened_is_read_as_it_was_before() {
        // A wave of ten places along an axis keeps cos⁸(π/40) of its height.
        for (apart, every, turns) in [(2, 2, 0.1), (2, 1, 0.05), (4, 4, 0.1)] {
            let narrowed = f64::from(apart) / f64::from(8 * every);
            let weights: [f64; TAPS] = lagrange(6.3, narrowed);
            let turn = std::f64::consts::TAU * turns;
            let kept = (turn * narrowed).cos().powi(2 * ROUNDS);
            let wave = |at: f64| (turn * at + 0.4).cos();
            let read: f64 = (0..).zip(weights).map(|(k, w)| w * kept * wave(f64::from(k))).sum();
            assert!((read - wave(6.3)).abs() < 1e-5, "{apart} {every}: {read} {}", wave(6.3));
        }
        // Its series is the function's.
        let series = sech_power::<TAPS>(8).iter().rev().fold(0.0, |sum, c| sum * 0.09 + c);
        assert!((series - 0.3_f64.cosh().powi(-8)).abs() < 1e-12, "{series}");
    }

    #[test]
    fn closed_a_folded_repeat_is_read_as_if_it_were_not_folded() {
        // Five columns that are looked at, ten cells, to a repeat.
        let wave = |x: f64, y: f64| (x * std::f64::consts::TAU / 10.0).sin() + y / 9.0 + 2.0;
        let (folded, read, _) = read_and_real(Some(1), wave);
        let (_, unfolded, _) = read_and_real(None, wave);
        assert!(folded.folded_columns() < 100);
        assert!((&folded.unfold(&read) - &unfolded).iter().all(|miss| miss.abs() < 1e-12));
    }
}
