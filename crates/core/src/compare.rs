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

/// A handbook rule beside what the simulation found; fractions.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleOfThumb {
    /// What the rule says, in a few words.
    pub rule: &'static str,
    /// Its source.
    pub source: &'static str,
    /// What the rule predicts.
    pub predicted: f64,
    /// What was simulated.
    pub simulated: f64,
}

impl RuleOfThumb {
    /// Predicted less simulated.
    pub fn miss(&self) -> f64 {
        self.predicted - self.simulated
    }
}

/// Depth that a share of the area gets or exceeds, as a fraction of the mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AreaDepth {
    /// Share of the area, fraction.
    pub area_share: f64,
    /// Under a normal distribution with the same CU.
    pub normal: f64,
    /// Simulated.
    pub simulated: f64,
}
