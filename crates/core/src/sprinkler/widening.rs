//! Water made wider before it is looked at in places some cells apart, so that what lies between them is
//! not lost and does not show as something else.
//!
//! Places s cells apart tell waves longer than 2 s cells; shorter ones would be taken for longer ones, and
//! those that come again at every sprinkler always for the same. So water is first spread by the
//! binomial weights of four neighbors to either side (1, 8, 28, 56, 70, …), a quarter of s apart: a wave of
//! k turns a cell keeps cos⁸(π k s/4), which is a half at 2 s cells and a sixteenth at s. Reading between
//! the places undoes it (`seasons::between`), for the waves that they tell.
//!
//! The variance that this adds, s²/8 cell², the crop's water has too; roots and soil spread it by so much
//! less (`seasons::smoothing`).
//!
//! Where every cell is a place (s = 1) nothing is spread.

use ndarray::Array2;

/// How often neighbors share, for places more than a cell apart.
pub(crate) const ROUNDS: i32 = 4;
/// Half of the weights of so many rounds.
pub(super) const BINOMIAL: [f64; 5] =
    [70.0 / 256.0, 56.0 / 256.0, 28.0 / 256.0, 8.0 / 256.0, 1.0 / 256.0];

/// Variance that is added for places so many cells apart, cell².
pub(crate) fn variance_cells2(apart: usize) -> f64 {
    if apart > 1 { (apart * apart) as f64 / 8.0 } else { 0.0 }
}

/// Depths on cells, spread by a variance along both axes: neighbors share again and again, and the depths
/// reach that much farther.
pub(super) fn widened(values: &Array2<f64>, variance_cells2: f64) -> (Array2<f64>, usize) {
    let rounds = (2.0 * variance_cells2).ceil() as usize;
    let (rows, columns) = values.dim();
    let mut all = Array2::zeros((rows + 2 * rounds, columns + 2 * rounds));
    for ((row, column), value) in values.indexed_iter() {
        all[(row + rounds, column + rounds)] = *value;
    }
    let share = 0.5 * variance_cells2 / rounds.max(1) as f64;
    for _ in 0..rounds {
        for axis in [ndarray::Axis(0), ndarray::Axis(1)] {
            for mut lane in all.lanes_mut(axis) {
                // The outermost are dry until the last round.
                let mut before = 0.0;
                for at in 0..lane.len() {
                    let (own, next) = (lane[at], lane.get(at + 1).copied().unwrap_or(0.0));
                    lane[at] = own + share * (before - 2.0 * own + next);
                    before = own;
                }
            }
        }
    }
    (all, rounds)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_a_drop_is_spread_by_the_variance_and_keeps_its_water() {
        for apart in [1, 2, 3, 4] {
            let variance = variance_cells2(apart);
            let drop = Array2::from_elem((1, 1), 3.0);
            let (found, reach) = widened(&drop, variance);
            assert!((found.sum() - 3.0).abs() < 1e-14);
            let second = |(row, _): (usize, usize)| (row as f64 - reach as f64).powi(2);
            let spread: f64 = found.indexed_iter().map(|(at, depth)| second(at) * depth).sum();
            assert!((spread / 3.0 - variance).abs() < 1e-14, "{apart}: {spread} {variance}");
        }
    }

    #[test]
    fn closed_the_weights_are_four_rounds_a_quarter_of_the_way_apart() {
        let sum = BINOMIAL[0] + 2.0 * BINOMIAL[1..].iter().sum::<f64>();
        let moments = BINOMIAL.iter().zip(0..).map(|(weight, k)| weight * f64::from(k * k));
        // In quarters of the way between places.
        let variance = 2.0 * moments.sum::<f64>() / 16.0;
        assert!(
            (sum - 1.0).abs() < 1e-15 && (variance - variance_cells2(10) / 100.0).abs() < 1e-15
        );
    }
}
