//! What a season of the root zone did to a field.

use super::cells::CellStates;

/// Water of a season, mm; means over the field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WaterTotals {
    /// Rain.
    pub rain_mm: f64,
    /// Net irrigation.
    pub irrigation_mm: f64,
    /// Water that roots gained by reaching new soil at field capacity.
    pub rooted_mm: f64,
    /// Water the crop used.
    pub et_mm: f64,
    /// Water lost below the roots.
    pub percolation_mm: f64,
    /// Change of the available water in the root zone (negative: drawn down).
    pub storage_change_mm: f64,
}

impl WaterTotals {
    /// Water in less water out and kept, mm; zero but for rounding.
    pub fn imbalance_mm(&self) -> f64 {
        self.rain_mm + self.irrigation_mm + self.rooted_mm
            - (self.et_mm + self.percolation_mm + self.storage_change_mm)
    }
}

/// A season's outcome, cell by cell.
#[derive(Clone, Debug, PartialEq)]
pub struct FieldWater {
    /// Last depletion and the season's use, percolation and stress days.
    pub cells: CellStates,
    /// Net irrigation, mm.
    pub irrigation_mm: Vec<f64>,
    /// Ya/Ym, fraction.
    pub yield_fraction: Vec<f64>,
    /// Means over the field.
    pub totals: WaterTotals,
    /// Percolation that rain alone would cause, mm: the rest of a cell's is irrigation's doing.
    pub rain_percolation_mm: f64,
    /// Worst imbalance of a single cell, mm.
    pub worst_imbalance_mm: f64,
}
