//! Comparing alternatives: what a rotation removes, and what averages out anyway.

/// The split of cumulative unevenness at whole cycles, (1 − CU_N)² ≈ S² + R²/N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UnevennessSplit {
    /// S: the systematic part that more passes do not remove, fraction (0 = none).
    pub systematic: f64,
    /// R: the part of one pass that the wind makes and more passes average out, fraction.
    pub random: f64,
    /// Root mean square miss of the fitted CU, fraction.
    pub miss: f64,
    /// Whole cycles used.
    pub cycles: usize,
}
