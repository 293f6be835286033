//! A surface in place of the simulator: each can's depth as a polynomial of the doubts.
//!
//! d(u) = Σ over monomials of degree 3 or less of c · u₁^a u₂^b …, by least squares over runs of the
//! simulator at points drawn from the prior; u is each number less its prior mean, over its prior
//! standard deviation. Losses are no part of it: they are a factor on all depths (`study`). How far the surface misses the simulator is measured by runs left out one at a
//! time, e/(1 − h) with the leverage h (PRESS; Allen 1974, Technometrics 16:125; from memory, high), and
//! goes into the likelihood as an error of its own (`errors`). Valid over the prior only.

use crate::calibration::NUMBERS;
use nalgebra::{DMatrix, DVector};

/// Highest degree.
const DEGREE: usize = 3;
/// Numbers that shape the pattern: all of a point but the last, the losses.
pub(super) const SHAPING: usize = NUMBERS - 1;
/// Monomials of that degree or less of five numbers: (5 + 3)! / (5! 3!).
const TERMS: usize = 56;
/// Keeps a number without range from making the equations singular.
const RIDGE: f64 = 1e-9;

/// Every can's depth as a polynomial.
#[derive(Clone, Debug)]
pub(super) struct Surface {
    /// Row = can, column = monomial.
    pub(super) coefficients: DMatrix<f64>,
    /// Covariance of what the surface misses, mm².
    pub(super) missed: DMatrix<f64>,
}

/// The monomials of a point.
pub(super) fn monomials(u: &[f64; SHAPING]) -> DVector<f64> {
    let mut terms = Vec::with_capacity(TERMS);
    terms.push(1.0);
    let mut last = vec![(1.0, 0)];
    for _ in 0..DEGREE {
        // Each monomial of the next degree comes from one whose numbers all stand before its last.
        last = last
            .iter()
            .flat_map(|(value, from)| (*from..SHAPING).map(move |at| (value * u[at], at)))
            .collect();
        terms.extend(last.iter().map(|(value, _)| *value));
    }
    DVector::from_vec(terms)
}

impl Surface {
    /// Through runs at `points`, whose depths are the rows of `depths_mm`; `None` for too few runs.
    pub(super) fn through(points: &[[f64; SHAPING]], depths_mm: &DMatrix<f64>) -> Option<Self> {
        let runs = points.len();
        if runs <= TERMS || depths_mm.nrows() != runs {
            return None;
        }
        let rows: Vec<DVector<f64>> = points.iter().map(monomials).collect();
        let design = DMatrix::from_fn(runs, TERMS, |run, term| rows[run][term]);
        let normal = design.transpose() * &design;
        let ridge = RIDGE * normal.trace() / TERMS as f64;
        let solver = (normal + DMatrix::identity(TERMS, TERMS) * ridge).cholesky()?;
        let found = solver.solve(&(design.transpose() * depths_mm));
        let mut left_out = depths_mm - &design * &found;
        let hats = solver.solve(&design.transpose());
        for (run, mut row) in left_out.row_iter_mut().enumerate() {
            let leverage = (design.row(run) * hats.column(run))[(0, 0)].clamp(0.0, 0.99);
            row /= 1.0 - leverage;
        }
        let missed = left_out.transpose() * &left_out / runs as f64;
        Some(Self { coefficients: found.transpose(), missed })
    }

    /// Root mean square of what it misses, over the cans, mm.
    pub(super) fn rms_mm(&self) -> f64 {
        (self.missed.trace() / self.missed.nrows().max(1) as f64).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Points that fill a cube, the same at every run.
    fn points(count: u32) -> Vec<[f64; SHAPING]> {
        let at = |i| {
            std::array::from_fn(|d| f64::from(sobol_burley::sample(i, d as u32, 7)) * 4.0 - 2.0)
        };
        (0..count).map(at).collect()
    }

    #[test]
    fn closed_a_cubic_is_found_exactly_and_the_terms_are_all_there() {
        assert_eq!(monomials(&[1.0; SHAPING]).len(), TERMS);
        let depth = |u: &[f64; SHAPING]| 3.0 + u[0] - 0.5 * u[1] * u[2] + 0.2 * u[4] * u[4] * u[0];
        let points = points(200);
        let depths = DMatrix::from_fn(200, 2, |run, can| depth(&points[run]) * (1.0 + can as f64));
        let surface = Surface::through(&points, &depths).unwrap();
        assert!(surface.rms_mm() < 1e-5, "{}", surface.rms_mm());
        let u = [0.3, -0.7, 1.1, 0.2, -1.5];
        let found = &surface.coefficients * monomials(&u);
        assert!((found[0] - depth(&u)).abs() < 1e-5 && (found[1] - 2.0 * depth(&u)).abs() < 1e-5);
        assert!(Surface::through(&points[..TERMS], &depths).is_none());
    }

    #[test]
    fn reference_what_is_said_to_be_missed_is_what_new_points_miss() {
        let depth = |u: &[f64; SHAPING]| (1.5 * u[0]).sin() + 0.3 * (u[1] + u[3]).abs();
        let points = points(500);
        let depths = DMatrix::from_fn(300, 1, |run, _| depth(&points[run]));
        let surface = Surface::through(&points[..300], &depths).unwrap();
        let miss = |u: &[f64; SHAPING]| (&surface.coefficients * monomials(u))[0] - depth(u);
        let new = points[300..].iter().map(|u| miss(u).powi(2)).sum::<f64>() / 200.0;
        let ratio = surface.rms_mm() / new.sqrt();
        assert!((0.8..1.25).contains(&ratio), "{ratio}");
    }
}
