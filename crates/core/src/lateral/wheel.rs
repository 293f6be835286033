//! Wheels: how far a wheel line travels in one turn.
//!
//! travel = π · outside diameter · (1 − allowance), the allowance covering sinkage and slip; a
//! travel measured in the field always goes before one worked out from a diameter. Geometry only;
//! what soil and lugs do is in the allowance. Trade sizes are nominal (a "7-foot" wheel rolls
//! about 20 ft a turn, not 22): common practice, no source.

use std::f64::consts::PI;

/// When a turn more or less than usual is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum TurnRule {
    /// Only where the hose would not reach.
    #[default]
    AtReach,
    /// As soon as it brings the line nearer to its mark.
    Nearest,
}

impl TurnRule {
    /// In the words of reports.
    pub fn words(self) -> &'static str {
        match self {
            Self::AtReach => "a turn more or less only where the hose would not reach",
            Self::Nearest => "a turn more or less as soon as it brings the line nearer to its mark",
        }
    }
}

/// The wheels of a wheel line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wheel {
    /// Distance rolled in one whole turn, m.
    pub travel_per_turn_m: f64,
    /// Tilt from upright that the sprinklers' levelers still take up, degrees.
    pub leveler_range_deg: f64,
    /// When a turn more or less than usual is made.
    pub turn_rule: TurnRule,
}

impl Wheel {
    /// Wheels that make a turn more or less only where the hose would not reach.
    pub fn new(travel_per_turn_m: f64, leveler_range_deg: f64) -> Self {
        Self { travel_per_turn_m, leveler_range_deg, turn_rule: TurnRule::default() }
    }
}

/// Distance rolled in one turn of a wheel, m.
///
/// `outside_diameter_m` over the lugs, `slip_and_sinkage` as a fraction of the circumference that
/// is lost (0 for a hard surface).
pub fn travel_per_turn_m(outside_diameter_m: f64, slip_and_sinkage: f64) -> f64 {
    PI * outside_diameter_m * (1.0 - slip_and_sinkage)
}
