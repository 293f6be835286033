//! Friction in a pipe: Hazen–Williams, and Christiansen's factor for a pipe with outlets.
//!
//! J = 1050 (Q/C)^1.852 D^−4.871 feet of water in 100 ft, Q in gpm, D in inches: SCS NEH 15-11
//! (1983) and Keller & Bliesner 1990 in these units (from memory, high; their SI constant
//! 1.21e12 with L/s, mm and m in 100 m is the same within 1 %). Holds for water in full pipes of
//! 50 mm and wider in turbulent flow; the law is empirical and overstates small losses in smooth
//! wide pipe.
//!
//! With N equal outlets the loss is F times that of the whole flow carried to the end (Christiansen
//! 1942): F = 1/(m+1) + 1/(2N) + √(m−1)/(6N²), first outlet one spacing from the inlet.

use super::problem::HydraulicsProblem;
use crate::range::within;
use crate::units::{GRAVITY_M_S2, L_S_PER_GPM, M_PER_IN};
use libm::pow;
use std::f64::consts::PI;

/// Pressure of one meter of water at the conventional 1000 kg/m³, kPa.
pub(super) const KPA_PER_M: f64 = GRAVITY_M_S2;

/// Exponent of the flow.
const FLOW_EXPONENT: f64 = 1.852;
/// Exponent of the diameter.
const DIAMETER_EXPONENT: f64 = 4.871;
/// Feet in 100 ft for gpm and inches.
const CONSTANT: f64 = 1050.0;

/// A size of pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeSize {
    /// Inside diameter, m.
    pub inside_diameter_m: f64,
    /// Hazen–Williams C: the smoother, the higher.
    pub roughness_c: f64,
}

/// What a pipe is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Material {
    /// Aluminum with couplers every 30 ft or so.
    Aluminum,
    /// Plastic.
    Plastic,
    /// Steel, new or galvanized.
    NewSteel,
    /// Steel some 15 years old.
    OldSteel,
}

impl Material {
    /// Usual Hazen–Williams C: aluminum with couplers every 30 ft 130; plastic 150 from 4 in on,
    /// 140 below; new steel 130; 15-year steel 100 (an extension service's slides on lateral design).
    pub fn roughness_c(self, inside_diameter_m: f64) -> f64 {
        match self {
            Self::Aluminum | Self::NewSteel => 130.0,
            // Pipe sold as 4 in is a little narrower inside.
            Self::Plastic if inside_diameter_m >= 3.6 * M_PER_IN => 150.0,
            Self::Plastic => 140.0,
            Self::OldSteel => 100.0,
        }
    }
}

impl PipeSize {
    /// Whether the numbers make a pipe.
    ///
    /// # Errors
    /// Diameter outside 10 mm to 2 m, C outside 40–200.
    pub fn check(&self) -> Result<(), HydraulicsProblem> {
        within("inside_diameter_m", self.inside_diameter_m, 0.01, 2.0)?;
        Ok(within("roughness_c", self.roughness_c, 40.0, 200.0)?)
    }

    /// Friction loss over a length, kPa.
    pub(super) fn loss_kpa(&self, flow_l_s: f64, length_m: f64) -> f64 {
        if flow_l_s <= 0.0 {
            return 0.0;
        }
        let (gpm, inches) = (flow_l_s / L_S_PER_GPM, self.inside_diameter_m / M_PER_IN);
        let per_hundred =
            CONSTANT * pow(gpm / self.roughness_c, FLOW_EXPONENT) * pow(inches, -DIAMETER_EXPONENT);
        0.01 * per_hundred * length_m * KPA_PER_M
    }

    /// Velocity, m/s.
    pub fn velocity_m_s(&self, flow_l_s: f64) -> f64 {
        0.001 * flow_l_s / (0.25 * PI * self.inside_diameter_m * self.inside_diameter_m)
    }
}

/// Christiansen's F for `outlets` equal outlets, the first one whole spacing from the inlet; flow
/// exponent [`FLOW_EXPONENT`].
pub(super) fn christiansen_f(outlets: usize) -> f64 {
    let (n, m) = (outlets.max(1) as f64, FLOW_EXPONENT);
    1.0 / (m + 1.0) + 1.0 / (2.0 * n) + (m - 1.0).sqrt() / (6.0 * n * n)
}

/// F with the first outlet at `first` of a spacing from the inlet (0–1): Jensen & Fratini 1957 for
/// half, in the general form (N F − (1 − r)) / (N − (1 − r)).
pub(super) fn adjusted_f(outlets: usize, first: f64) -> f64 {
    let missing = 1.0 - first;
    let n = outlets.max(1) as f64;
    (n * christiansen_f(outlets) - missing) / (n - missing)
}
