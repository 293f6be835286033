//! Pressure between the sprinklers of a lateral beside the 20 % rule.
//!
//! The pressure along a lateral should vary by no more than 20 % of the sprinklers' stated pressure
//! (Merkley & Allen, Utah State University lectures on sprinkle and trickle irrigation, lecture 7; SCS
//! NEH 15-11).

use super::yardstick::Yardstick;
use crate::lateral::hydraulics::{PRESSURE_RULE, PressureLine};

/// Pressures along a lateral.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressureSpread {
    /// Lowest pressure at a nozzle, kPa.
    pub lowest_kpa: f64,
    /// Highest pressure at a nozzle, kPa.
    pub highest_kpa: f64,
    /// Their difference over the stated pressure, a fraction, against the rule.
    pub against_rule: Yardstick,
}

impl PressureSpread {
    pub(super) fn of(line: &PressureLine) -> Self {
        let (lowest_kpa, highest_kpa) = (line.lowest().1.nozzle_kpa, line.highest().1.nozzle_kpa);
        let share = (highest_kpa - lowest_kpa) / line.nominal_kpa;
        let against_rule = Yardstick::at_most(share, PRESSURE_RULE);
        Self { lowest_kpa, highest_kpa, against_rule }
    }
}
