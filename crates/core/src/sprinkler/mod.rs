//! The sprinkler: from leg, shape or nozzle to the depth it lays on the grid in a wind.

pub mod footprint;
pub mod losses;

/// Catch rate against distance from one sprinkler in still air.
///
/// Linear between the knots, constant from the centre to the first knot, zero beyond the last.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Distances from the sprinkler, m, strictly rising from ≥ 0.
    pub distance_m: Vec<f64>,
    /// Rates there, mm/h, ≥ 0.
    pub rate_mm_h: Vec<f64>,
}

/// How the water leaves a nozzle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Launch {
    /// Pressure at the nozzle, kPa.
    pub pressure_kpa: f64,
    /// Angle above the horizontal, degrees.
    pub trajectory_deg: f64,
    /// Height of the nozzle above ground, m.
    pub nozzle_height_m: f64,
}

/// One nozzle's jet: what it lays down in still air, and how it flies.
#[derive(Clone, Debug, PartialEq)]
pub struct Jet {
    /// Still-air leg of this jet.
    pub leg: Leg,
    /// How it leaves the nozzle.
    pub launch: Launch,
}

/// The drag correction in wind, C′ = C (1 + K1 sin β − K2 cos α); fitted numbers, not physics.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DragCorrection {
    /// K1, narrows the pattern across the wind.
    pub k1: f64,
    /// K2, lengthens it down the wind.
    pub k2: f64,
    /// Spread by turbulence: σ = turbulence · wind · flight time; 0 for none.
    pub turbulence: f64,
}

/// A sprinkler: its jets, which add up, and its drag correction.
#[derive(Clone, Debug, PartialEq)]
pub struct Sprinkler {
    /// The jets.
    pub jets: Vec<Jet>,
    /// The drag correction.
    pub drag: DragCorrection,
}
