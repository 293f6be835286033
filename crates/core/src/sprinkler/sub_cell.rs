//! A pattern laid with the sprinkler on a cell's corner, brought to another place in the cell.
//!
//! moved(i) = Σ w(m) · corner(i − m), m from −2 to 3, along one axis and then the other, with Lagrange's
//! weights for the place i − f between its six neighbors (Abramowitz & Stegun 1964, 25.2; from
//! memory, the tests hold them to polynomials), f being the part of a cell moved. They add up to 1, so no
//! water is lost, and their first moment is f, so it lies where it should. Water has been shared among
//! cells before ("cloud in cell"), so patterns hold little that is narrower than four cells; waves of
//! eight cells lose 0.1 % at most, those of four 5 %.
//!
//! What is known to have been spread too wide by a variance v is drawn together on the way: w − v/2 · w″
//! has the second moment f² − v, to first order in v.
//!
//! Where a pattern ends upright the weights overshoot: what comes out may lie a little below nothing.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

/// Dry cells that a pattern needs on every side.
pub(super) const MARGIN: usize = 5;
/// Cells that one cell's water is shared among along each axis, and how many of them come before it.
const TAPS: usize = 6;
const BEFORE: usize = 2;

/// How a pattern is moved along one axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Move {
    /// Whole cells, for whoever cuts the pattern out.
    pub(super) cells: isize,
    /// The rest, 0–1 cell.
    fraction: f64,
    /// Variance that is taken off, cell².
    narrowed: f64,
}

impl Move {
    /// By so many cells, and narrowed by a variance in cell².
    pub(super) fn new(by_cells: f64, narrowed: f64) -> Self {
        let whole = libm::floor(by_cells);
        Self { cells: whole as isize, fraction: by_cells - whole, narrowed }
    }

    /// Weight of the cell from `BEFORE` above the place to `TAPS - 1 - BEFORE` below.
    fn weights(&self) -> [f64; TAPS] {
        std::array::from_fn(|k| {
            // The k-th of Lagrange's polynomials, its coefficients from the constant up.
            let (mut polynomial, mut scale) = ([0.0; TAPS], 1.0);
            polynomial[0] = 1.0;
            for other in (0..TAPS).filter(|other| *other != k) {
                for power in (0..TAPS).rev() {
                    let lower = if power > 0 { polynomial[power - 1] } else { 0.0 };
                    polynomial[power] = lower - place(other) * polynomial[power];
                }
                scale *= place(k) - place(other);
            }
            let (mut value, mut bend) = (0.0, 0.0);
            for power in (0..TAPS).rev() {
                value = value * self.fraction + polynomial[power];
                if power >= 2 {
                    bend = bend * self.fraction + (power * (power - 1)) as f64 * polynomial[power];
                }
            }
            (value - 0.5 * self.narrowed * bend) / scale
        })
    }
}

/// Where the k-th of the neighbors lies.
fn place(k: usize) -> f64 {
    k as f64 - BEFORE as f64
}

/// Moves the pattern on a square of `width` cells a side by the fractions of two moves, along its rows
/// and across them, in the room that is given.
#[inline(always)]
pub(super) fn shift<'a>(
    cells: &[f64],
    width: usize,
    (along, across): (Move, Move),
    [once, twice]: [&'a mut Vec<f64>; 2],
) -> &'a [f64] {
    // A row's end is followed by the next one's start; both are dry, so all rows are moved as one.
    moved(cells, 1, &along.weights(), once);
    moved(once, width, &across.weights(), twice);
    twice
}

#[inline(always)]
fn moved(cells: &[f64], apart: usize, weights: &[f64; TAPS], to: &mut Vec<f64>) {
    let inside = cells.len().saturating_sub((TAPS - 1) * apart);
    // The neighbors of all cells, as the same cells seen from six places.
    let [a, b, c, d, e, f] = std::array::from_fn(|k| &cells[(TAPS - 1 - k) * apart..][..inside]);
    let [wa, wb, wc, wd, we, wf] = *weights;
    let first = (TAPS - 1 - BEFORE) * apart;
    to.resize(cells.len(), 0.0);
    to[..first].fill(0.0);
    to[first + inside..].fill(0.0);
    for (i, to) in to[first..first + inside].iter_mut().enumerate() {
        *to = (wa * a[i] + wb * b[i]) + (wc * c[i] + wd * d[i]) + (we * e[i] + wf * f[i]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_weights_give_back_polynomials_of_the_fifth_degree() {
        for fraction in [0.0, 0.1, 0.5, 0.77] {
            let weights = Move::new(fraction, 0.0).weights();
            for degree in 0..6 {
                let found: f64 = (0..TAPS).map(|k| weights[k] * place(k).powi(degree)).sum();
                assert!((found - fraction.powi(degree)).abs() < 1e-12, "{fraction} {degree}");
            }
        }
    }

    #[test]
    fn closed_narrowed_weights_keep_water_and_place_and_take_off_the_variance() {
        let weights = Move::new(0.3, 0.04).weights();
        let moment = |degree| (0..TAPS).map(|k| weights[k] * place(k).powi(degree)).sum::<f64>();
        let found = [moment(0), moment(1), moment(2) - moment(1).powi(2)];
        for (found, expected) in found.iter().zip([1.0, 0.3, -0.04]) {
            assert!((found - expected).abs() < 1e-12, "{found} {expected}");
        }
    }

    #[test]
    fn closed_a_pattern_moves_by_the_fraction_and_keeps_its_water() {
        let width = 40;
        let hill =
            |variance: f64, x: f64, y: f64| (-0.5 * (x * x + y * y) / variance).exp() / variance;
        let on_cells = |variance: f64, along: f64, across: f64| -> Vec<f64> {
            let places = (0..width * width).map(|i| ((i % width) as f64, (i / width) as f64));
            places.map(|(x, y)| hill(variance, x - 20.0 - along, y - 19.0 - across)).collect()
        };
        let corner = on_cells(4.0, 0.0, 0.0);
        for (along, across) in [(0.0, 0.5), (0.5, 0.5), (0.3, 0.0), (0.9, 0.8)] {
            let moves = (Move::new(along - 3.0, 0.03), Move::new(across, 0.03));
            assert_eq!((moves.0.cells, moves.1.cells), (-3, 0));
            let (mut once, mut twice) = (Vec::new(), Vec::new());
            let found = shift(&corner, width, moves, [&mut once, &mut twice]);
            let sums = [found.iter().sum::<f64>(), corner.iter().sum()];
            assert!((sums[0] / sums[1] - 1.0).abs() < 1e-9, "{sums:?}");
            for (found, expected) in found.iter().zip(on_cells(3.97, along, across)) {
                // Of a peak of 0.25. The six points' own error at half a cell is 3.52/720 of the sixth
                // derivative, 15/σ⁶ of the peak: 2.9e-4 along each axis.
                assert!((found - expected).abs() < 6e-4, "{along} {across}: {found} {expected}");
            }
        }
    }
}
