//! Caught against delivered: what the cans say reached the ground, over what left the nozzle.
//!
//! From a grid: Σ depth · area of a can's own cell (1 mm over 1 m² is 1 L). From a leg: the volume of
//! the fitted or measured leg. The shortfall holds wind drift and evaporation in the air, evaporation
//! from the cans, splash, and errors of reading and of discharge: they cannot be separated.
//! Neglected on a grid: water between the last can and the edge, and cans without a reading (their
//! cells take the mean of their neighbors, see [`overlap`](super::overlap)).

use super::overlap::CanGrid;
use super::{CatchProblem, CatchTest};

/// Water of one sprinkler over the test, L.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VolumeCheck {
    /// Caught, L.
    pub caught_l: f64,
    /// Left the nozzle, L.
    pub delivered_l: f64,
}

impl VolumeCheck {
    /// Caught over delivered.
    pub fn ratio(&self) -> f64 {
        self.caught_l / self.delivered_l
    }
}

/// What a grid around one sprinkler caught, against its discharge.
///
/// # Errors
/// Discharge not noted, no regular grid, not a single-sprinkler grid.
pub fn of_grid(test: &CatchTest) -> Result<VolumeCheck, CatchProblem> {
    let super::Kind::Single { .. } = test.kind else {
        return Err(CatchProblem::WrongKind("a grid around one sprinkler is needed"));
    };
    let grid = CanGrid::of(test)?;
    let caught_l = grid.depth_mm.sum() * grid.dx_m * grid.dy_m;
    against(test, caught_l)
}

/// `caught_l` against the discharge noted.
///
/// # Errors
/// Discharge not noted.
pub fn against(test: &CatchTest, caught_l: f64) -> Result<VolumeCheck, CatchProblem> {
    let discharge_l_s = test.nozzle.discharge_l_s.ok_or(CatchProblem::NotNoted("discharge"))?;
    Ok(VolumeCheck { caught_l, delivered_l: discharge_l_s * 3600.0 * test.duration_h })
}
