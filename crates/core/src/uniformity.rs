//! Figures of uniformity.

/// The figures of a depth grid (or a window of it); ratios as fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Christiansen's uniformity coefficient, fraction.
    pub cu: f64,
    /// Low-quarter distribution uniformity, fraction.
    pub du_lq: f64,
    /// Coefficient of variation (population), fraction.
    pub cv: f64,
    /// Mean depth, mm.
    pub mean_depth_mm: f64,
    /// Lowest cell, mm.
    pub lowest_depth_mm: f64,
    /// Highest cell, mm.
    pub highest_depth_mm: f64,
    /// Share of the area under 75 % of the mean.
    pub share_under_75: f64,
    /// Share of the area over 125 % of the mean.
    pub share_over_125: f64,
    /// Number of cells.
    pub cells: usize,
}
