//! Figures of one alternative in one season of soil and crop.

use crate::unevenness::UnevennessSplit;

/// Figures of one alternative in one season; depths are means over the whole field. On a field
/// too narrow for an interior, figures of the interior are those of the whole field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonFigures {
    /// CU of the season's depth in the interior, fraction.
    pub cu: f64,
    /// DUlq of the season's depth in the interior, fraction.
    pub du_lq: f64,
    /// Systematic and random unevenness of the interior; `None` with fewer than two whole cycles.
    pub split: Option<UnevennessSplit>,
    /// Yield as a fraction of that without stress, mean of the field.
    pub yield_fraction: f64,
    /// The same, mean of the field's worst tenth.
    pub yield_worst_tenth: f64,
    /// The same, mean of the interior.
    pub yield_interior: f64,
    /// The same, mean of the interior's worst tenth.
    pub yield_interior_worst_tenth: f64,
    /// What the season's depth map alone would promise for the interior: as if each place could
    /// use all its water of the season, whenever it came, up to its need.
    pub yield_promised: f64,
    /// Passes that ran.
    pub passes: u32,
    /// Sets that ran, each a move of the lateral.
    pub moves: u32,
    /// Time in which the lateral was moved without watering, beyond the usual moves, h.
    pub dry_way_h: f64,
    /// Water that left the nozzles, mm over the field.
    pub gross_mm: f64,
    /// Water that was pumped beside that and leaked before it reached a nozzle, mm over the field.
    pub leaked_mm: f64,
    /// Wind drift and evaporation, mm over the field.
    pub losses_mm: f64,
    /// Water that fell beside the field, mm over the field.
    pub off_field_mm: f64,
    /// Net irrigation that reached the field, mm.
    pub irrigation_mm: f64,
    /// Rain on the crop's days, mm.
    pub rain_mm: f64,
    /// Water that the crop used, mm.
    pub crop_use_mm: f64,
    /// Water lost below the roots, mm.
    pub percolation_mm: f64,
    /// Water gained by roots that reached new soil, mm.
    pub rooted_mm: f64,
    /// Rise of the water that roots can draw on, mm.
    pub storage_rise_mm: f64,
    /// Net irrigation on days without a crop, mm: neither used nor stored here.
    pub idle_mm: f64,
}

impl SeasonFigures {
    /// Water that was pumped, mm over the field: through the nozzles, and leaked before them.
    pub fn pumped_mm(&self) -> f64 {
        self.gross_mm + self.leaked_mm
    }

    /// What is missing from gross + rain + newly rooted = use + percolation + storage + losses +
    /// off-field + idle, mm.
    pub fn imbalance_mm(&self) -> f64 {
        self.gross_mm + self.rain_mm + self.rooted_mm
            - self.crop_use_mm
            - self.percolation_mm
            - self.storage_rise_mm
            - self.losses_mm
            - self.off_field_mm
            - self.idle_mm
    }
}
