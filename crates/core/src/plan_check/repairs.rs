//! What worn nozzles, leaks and unequal pressure take in water, side by side.
//!
//! Shares of the water that leaves the nozzles: what worn ones pass beyond what they are stated to
//! (within it), what leaks before it reaches one (beside it), and what more would let the weakest nozzle
//! have what the average one gets (beside it, and only where the 20 % rule is broken).

use super::condition::NozzleState;
use super::pressure::PressureSpread;
use crate::model::Alternative;

/// What repairs would spare, over the water that leaves the nozzles.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Repairs {
    /// New nozzles.
    pub nozzles: f64,
    /// Tight couplers.
    pub leaks: f64,
    /// Equal pressure.
    pub pressure: f64,
}

impl Repairs {
    /// Those of a lateral, as far as anybody has looked.
    pub fn of(alternative: &Alternative) -> Self {
        let line = alternative.pressures().ok().flatten();
        let spread = PressureSpread::of(alternative, line.as_ref());
        let unequal = spread.filter(|spread| !spread.against_rule.is_within());
        let nozzles = NozzleState::of(&alternative.condition);
        Self {
            nozzles: nozzles.map_or(0.0, |nozzles| nozzles.water_share),
            leaks: alternative.condition.leaked_over_delivered(),
            pressure: unequal.map_or(0.0, |spread| spread.extra_water),
        }
    }
}
