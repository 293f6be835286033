//! What a season did: figures, depths and where the water went.

use crate::grid::{DepthGrid, Grid};
use crate::lateral::hydraulics::PressureLine;
use crate::schedule::Plan;
use crate::unevenness::UnevennessSplit;
use crate::uniformity::Uniformity;
use ndarray::Array2;
use std::sync::Arc;

/// What a season did, for every alternative.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The grid of all depth arrays.
    pub grid: Grid,
    /// Margin left out on each side for the interior figures, m (the widest outlet spacing).
    pub interior_margin_m: f64,
    /// Depth across the field of the edge strips, m.
    pub edge_strip_m: f64,
    /// Per alternative, in the scenario's order.
    pub alternatives: Vec<AlternativeOutcome>,
    /// What the weather was while water ran.
    pub wind: WindSummary,
    /// Things the reader must be told (bridged gaps, clipped losses …), in plain words.
    pub notices: Vec<String>,
}

/// The wind in the hours when water ran, over all alternatives' set hours of the first one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindSummary {
    /// Mean speed by day (sets' hours 06–18), m/s at measuring height.
    pub day_mean_m_s: f64,
    /// Mean speed by night, m/s at measuring height.
    pub night_mean_m_s: f64,
    /// Highest hourly speed, m/s.
    pub highest_m_s: f64,
    /// Height above ground, m.
    pub measured_at_m: f64,
    /// Share of the hours in each 22.5° sector it blew from, N first, clockwise; calms left out.
    pub rose: [f64; 16],
    /// Share of hours under 0.5 m/s.
    pub calm_share: f64,
}

/// One pass of one alternative as it has just been laid down.
#[derive(Clone, Copy, Debug)]
pub struct Laid<'a> {
    /// Which of the scenario's alternatives.
    pub alternative: usize,
    /// Which pass, from 0.
    pub pass: usize,
    /// Its net depth, mm.
    pub pass_mm: &'a DepthGrid,
    /// That of all passes so far, mm.
    pub cumulative_mm: &'a DepthGrid,
}

/// An hour in which water runs under some alternative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WateredHour {
    /// Start, h from midnight of the first day.
    pub hour: usize,
    /// Wind speed at measuring height, m/s.
    pub speed_m_s: f64,
    /// Where the wind comes from, degrees clockwise from north.
    pub from_deg: f64,
}

/// What a season did for one alternative.
#[derive(Clone, Debug)]
pub struct AlternativeOutcome {
    /// The schedule that was run.
    pub plan: Plan,
    /// Figures after each pass, in order.
    pub passes: Vec<PassOutcome>,
    /// Cumulative net depth at the end of the season, mm; a season that is taken over shares it.
    pub season_mm: Arc<DepthGrid>,
    /// The same after the first passes (1, 2 and 3, or none), in order of pass.
    pub snapshots: Vec<Snapshot>,
    /// Where the water went.
    pub water: WaterBalance,
    /// Systematic and wind-made part of the unevenness; `None` with fewer than two whole cycles.
    pub split: Option<UnevennessSplit>,
    /// Root mean square miss of CU by the split at whole cycles, fraction.
    pub split_miss: Option<f64>,
    /// Pressures along the lateral; `None` where all sprinklers had their stated pressure.
    pub pressures: Option<PressureLine>,
}

impl AlternativeOutcome {
    /// Cumulative depth at the end of the season, mm.
    pub fn season_depth_mm(&self) -> &DepthGrid {
        &self.season_mm
    }

    /// Cumulative figures at the end of the season.
    pub fn season_figures(&self) -> &RegionFigures {
        &self.passes[self.passes.len() - 1].cumulative
    }
}

/// What a season takes at most for each cell and alternative, bytes: three snapshots, the pass and the running sum.
pub const CELL_BYTES: usize = 3 * size_of::<f32>() + 2 * size_of::<f64>();

/// Cumulative depth after a pass that is not the last, to be looked at: in single precision, for these are
/// most of what a season keeps.
#[derive(Clone, Debug)]
pub struct Snapshot {
    /// Number of passes laid down.
    pub after_pass: usize,
    depth_mm: Arc<Array2<f32>>,
}

impl Snapshot {
    /// Keeps a cumulative net depth, mm.
    pub fn of(after_pass: usize, depth_mm: &DepthGrid) -> Self {
        Self { after_pass, depth_mm: Arc::new(depth_mm.mapv(|depth| depth as f32)) }
    }

    /// The cumulative net depth, mm.
    pub fn depth_mm(&self) -> DepthGrid {
        self.depth_mm.mapv(f64::from)
    }

    /// Cells across and along.
    pub fn dim(&self) -> (usize, usize) {
        self.depth_mm.dim()
    }
}

/// Figures of one pass: by itself, and of all passes up to it.
#[derive(Clone, Debug, PartialEq)]
pub struct PassOutcome {
    /// This pass alone.
    pub alone: RegionFigures,
    /// All passes so far together.
    pub cumulative: RegionFigures,
    /// Depth of this pass across the field, mm: the mean of each row of cells, the ends of the
    /// pipe left out; `NaN` for a row without cells of the field.
    pub profile_mm: Vec<f64>,
}

/// Figures of the parts of the field; `None` where no water fell.
#[derive(Clone, Debug, PartialEq)]
pub struct RegionFigures {
    /// Every cell.
    pub whole: Option<Uniformity>,
    /// The field less one outlet spacing at each edge.
    pub interior: Option<Uniformity>,
    /// The strip along the first outlet's edge.
    pub first_strip: Option<Uniformity>,
    /// The strip along the last outlet's edge.
    pub last_strip: Option<Uniformity>,
}

/// Where a season's water went, m³; `gross = on_field + off_field + losses` to round-off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WaterBalance {
    /// Left the nozzles.
    pub gross_m3: f64,
    /// Reached cells of the field.
    pub on_field_m3: f64,
    /// Reached the ground outside the field.
    pub off_field_m3: f64,
    /// Wind drift and evaporation.
    pub losses_m3: f64,
    /// Pumped beside that and leaked at couplers: no part of the gross.
    pub leaked_m3: f64,
}

impl WaterBalance {
    /// What is missing, as a fraction of gross.
    pub fn imbalance(&self) -> f64 {
        (self.gross_m3 - self.on_field_m3 - self.off_field_m3 - self.losses_m3) / self.gross_m3
    }
}
