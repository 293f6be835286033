//! What can be wrong with a sprinkler, in words that a reader can act on.

use crate::range::OutOfRange;

/// Why a sprinkler cannot be computed with.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SprinklerProblem {
    /// A number outside what is taken.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A leg that is no leg.
    #[error("leg, knot {}: {reason}", knot + 1)]
    Leg {
        /// Knot from 0.
        knot: usize,
        /// What is wrong there.
        reason: &'static str,
    },
    /// A sprinkler without jets.
    #[error("the sprinkler has no jet")]
    NoJets,
    /// A drop that was not on the ground when the integrator gave up.
    #[error("a drop of {diameter_mm} mm was still in the air after {limit}")]
    NeverLands {
        /// Diameter, mm.
        diameter_mm: f64,
        /// The limit that was met.
        limit: &'static str,
    },
    /// A wind profile that makes no sense.
    #[error("no wind profile: the wind must be measured above the plants, at 0.5 m or more")]
    NoProfile,
    /// A wind faster than the landing map reaches.
    #[error("wind of {speed_m_s} m/s, but the landing map ends at {fastest_m_s} m/s")]
    WindBeyondMap {
        /// The wind, m/s at measuring height.
        speed_m_s: f64,
        /// End of the map, m/s.
        fastest_m_s: f64,
    },
    /// A landing map that was made for another leg.
    #[error("the landing map was made for a radius of {map_m} m, the leg has {leg_m} m")]
    WrongMap {
        /// Radius of the map, m.
        map_m: f64,
        /// Radius of the leg, m.
        leg_m: f64,
    },
}
