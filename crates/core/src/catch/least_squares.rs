//! The least squares of the fit: `levenberg-marquardt` on residuals that are linear in the rates of a
//! leg and smooth in K1, and the spread of what it finds.
//!
//! The covariance is HC3 (MacKinnon & White 1985, J. Econometrics 29:305–325; from memory, high):
//! (JᵀJ)⁻¹ Jᵀ diag(e²/(1−h)²) J (JᵀJ)⁻¹ with leverages h. It holds where cans with more water
//! scatter more, as they do. Neglected: residuals that are alike from can to can.

use super::basis::{Basis, HIGHEST_K1};
use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};

/// Where a fit came to rest.
#[derive(Clone, Debug)]
pub(super) struct Rest {
    /// Rate of each hat, mm/h; held ones are 0.
    pub(super) rates_mm_h: Vec<f64>,
    /// K1; 0 where it does not matter.
    pub(super) k1: f64,
    /// K1 was pushed to an end of its range and is held there.
    pub(super) k1_held: bool,
    /// Residuals, simulated less measured, mm/h.
    pub(super) residuals: DVector<f64>,
    /// Covariance of rates, then K1; rows of what is held are 0.
    pub(super) covariance: DMatrix<f64>,
    /// Number of what was fitted.
    pub(super) parameters: usize,
}

/// Hats that take part, and whether K1 does.
#[derive(Clone, Debug)]
struct Free {
    hats: Vec<usize>,
    k1: bool,
}

struct Problem<'a> {
    basis: &'a Basis,
    measured: &'a DVector<f64>,
    free: &'a Free,
    held_k1: f64,
    values: DVector<f64>,
    /// K1 of the two matrices, what the hats lay there and its slope: asked for several times.
    known: (f64, DMatrix<f64>, DMatrix<f64>),
}

impl Problem<'_> {
    fn k1(&self) -> f64 {
        if self.free.k1 { self.values[self.free.hats.len()] } else { self.held_k1 }
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, values: &DVector<f64>) {
        self.values.copy_from(values);
        let k1 = self.k1();
        if k1 != self.known.0 {
            let (matrix, change) = self.basis.at(k1);
            self.known = (k1, matrix, change);
        }
    }

    fn params(&self) -> DVector<f64> {
        self.values.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let matrix = self.known.1.select_columns(&self.free.hats);
        Some(matrix * self.values.rows(0, self.free.hats.len()) - self.measured)
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let (_, matrix, change) = &self.known;
        let hats = self.free.hats.len();
        let mut jacobian = matrix.select_columns(&self.free.hats);
        if self.free.k1 {
            let by_k1 = change.select_columns(&self.free.hats) * self.values.rows(0, hats);
            jacobian = jacobian.insert_column(hats, 0.0);
            jacobian.set_column(hats, &by_k1);
        }
        Some(jacobian)
    }
}

/// K1 of each rung and the sum of squares of the best leg with it.
pub(super) type Ladder = Vec<(f64, f64)>;

/// Fits rates (never below 0) and, where the basis has it, K1.
///
/// Starts at the ladder's K1 of least squares; a rate that comes out negative is held at 0 and the
/// rest fitted anew; so is a K1 that leaves its range.
pub(super) fn fit(basis: &Basis, measured: &DVector<f64>) -> Result<(Rest, Ladder), String> {
    let profile: Vec<(f64, Rest)> = basis
        .ladder()
        .map(|k1| Ok((k1, settle(basis, measured, k1, false)?)))
        .collect::<Result<_, String>>()?;
    let squares = |rest: &Rest| rest.residuals.norm_squared();
    let best = profile.iter().min_by(|a, b| squares(&a.1).total_cmp(&squares(&b.1)));
    let Some((start, at_start)) = best else { return Err("no ladder".to_owned()) };
    let ladder = profile.iter().map(|(k1, rest)| (*k1, squares(rest))).collect();
    if !basis.has_k1() {
        return Ok((at_start.clone(), ladder));
    }
    let free = settle(basis, measured, *start, true)?;
    if (0.0..=HIGHEST_K1).contains(&free.k1) {
        return Ok((free, ladder));
    }
    let end = free.k1.clamp(0.0, HIGHEST_K1);
    let held = settle(basis, measured, end, false)?;
    Ok((Rest { k1_held: true, ..held }, ladder))
}

/// Fits with K1 free from, or held at, `k1`.
fn settle(basis: &Basis, measured: &DVector<f64>, k1: f64, k1_free: bool) -> Result<Rest, String> {
    let (matrix, change) = basis.at(k1);
    let hats = matrix.ncols();
    let mut free = Free { hats: (0..hats).collect(), k1: k1_free };
    loop {
        let count = free.hats.len();
        if count == 0 {
            return Err("every rate came out as 0".to_owned());
        }
        let start = measured.mean().max(1e-3);
        let mut values = DVector::from_element(count + usize::from(k1_free), start);
        if k1_free {
            values[count] = k1;
        }
        let known = (k1, matrix.clone(), change.clone());
        let problem = Problem { basis, measured, free: &free, held_k1: k1, values, known };
        let (done, report) = LevenbergMarquardt::new().with_patience(200).minimize(problem);
        if !report.termination.was_successful() {
            return Err(format!("{:?}", report.termination));
        }
        let lowest = (0..count).min_by(|a, b| done.values[*a].total_cmp(&done.values[*b]));
        match lowest.filter(|at| done.values[*at] < 0.0) {
            None => return rest(&done, hats),
            Some(at) => {
                free.hats.remove(at);
            }
        }
    }
}

/// Gathers where the search ended, with its covariance.
fn rest(done: &Problem<'_>, hats: usize) -> Result<Rest, String> {
    let (Some(residuals), Some(jacobian)) = (done.residuals(), done.jacobian()) else {
        return Err("no residuals".to_owned());
    };
    let parameters = jacobian.ncols();
    let Some(inverse) = (jacobian.transpose() * &jacobian).try_inverse() else {
        return Err(
            "two parts of the leg, or the leg and K1, cannot be separated with these cans \
                    (too few of them, or too far apart)"
                .to_owned(),
        );
    };
    let mut weighted = jacobian.clone();
    for (row, mut line) in weighted.row_iter_mut().enumerate() {
        let own = jacobian.row(row);
        let leverage = (own * &inverse * own.transpose())[(0, 0)].clamp(0.0, 0.99);
        line *= residuals[row] / (1.0 - leverage);
    }
    let small = &inverse * weighted.transpose() * weighted * &inverse;
    // Laid out over all hats and K1, so that the places of what is held stay 0.
    let mut at: Vec<usize> = done.free.hats.clone();
    if done.free.k1 {
        at.push(hats);
    }
    let mut covariance = DMatrix::zeros(hats + 1, hats + 1);
    for (i, row) in at.iter().enumerate() {
        for (j, column) in at.iter().enumerate() {
            covariance[(*row, *column)] = small[(i, j)];
        }
    }
    let mut rates_mm_h = vec![0.0; hats];
    for (value, hat) in done.values.iter().zip(&done.free.hats) {
        rates_mm_h[*hat] = *value;
    }
    Ok(Rest { rates_mm_h, k1: done.k1(), k1_held: false, residuals, covariance, parameters })
}
