//! What a candidate needs beyond the bare machine, by a stated rule.
//!
//! A rotation that ever leaves the outlet needs swing joints or hoses: so many for the lateral, and
//! so many for each outlet; each move of it takes so much longer. Outlets beyond the fixed
//! pattern's are bought. Extra sets are part of a candidate's schedule, so that their moves and
//! their water count already. The rule is the scenario's; common practice, no source. Where the scenario
//! says nothing of what a shifted rotation needs, a candidate that stands farther from its outlets than
//! the baseline does is never taken to need nothing: its net return is not known.

use crate::model::Alternative;
use crate::money::Equipment;

/// The equipment of every rotation with a stop off its outlets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EquipmentRule {
    /// Joints for the lateral, however many outlets.
    pub joints: u32,
    /// Joints for each outlet.
    pub joints_per_outlet: u32,
    /// Pieces of each named purchase of the prices, for the lateral.
    pub purchases: Vec<u32>,
    /// Labor for each move beyond the common one, h.
    pub extra_labor_per_move_h: f64,
    /// Distance from the outlets, m, beyond which nobody has said whether longer hoses or joints are
    /// needed; `None` where that is told.
    pub open_beyond_m: Option<f64>,
}

impl EquipmentRule {
    /// The equipment of `candidate` where the fixed pattern has `outlets` outlets.
    pub fn equipment(&self, candidate: &Alternative, outlets: usize) -> Equipment {
        let shifts = candidate.rotation.shifts();
        let is_shifted = shifts.iter().any(|s| s.across_m != 0.0 || s.along_m != 0.0);
        let count = candidate.outlets.count;
        let added = count.saturating_sub(outlets) as u32;
        if !is_shifted {
            return Equipment { outlets: added, ..Equipment::default() };
        }
        Equipment {
            joints: self.joints + self.joints_per_outlet * count as u32,
            outlets: added,
            purchases: self.purchases.clone(),
            extra_sets_per_pass: 0,
            extra_labor_per_move_h: self.extra_labor_per_move_h,
            is_reach_open: self
                .open_beyond_m
                .is_some_and(|told_m| candidate.rotation.reaches_beyond(told_m)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::tests::{alternative, sprinkler};
    use crate::sprinkler::shape::Shape;

    #[test]
    fn closed_only_shifted_rotations_need_joints() {
        let rule = EquipmentRule {
            joints: 2,
            joints_per_outlet: 1,
            extra_labor_per_move_h: 0.02,
            ..EquipmentRule::default()
        };
        let of = |shifts_ft: &[f64], outlets| {
            let candidate = alternative("a", shifts_ft, sprinkler(Shape::Uniform, 90.0));
            rule.equipment(&candidate, outlets)
        };
        assert_eq!(of(&[0.0], 6), Equipment::default());
        let shifted = of(&[0.0, 15.0], 4);
        assert_eq!((shifted.joints, shifted.outlets), (8, 2));
        assert_eq!(shifted.extra_labor_per_move_h, 0.02);
    }
    #[test]
    fn closed_a_reach_of_which_nothing_is_said_is_open_beyond_the_baselines() {
        let rule = EquipmentRule { open_beyond_m: Some(15.0 * 0.3048), ..EquipmentRule::default() };
        let is_open = |shifts_ft: &[f64]| {
            let candidate = alternative("a", shifts_ft, sprinkler(Shape::Uniform, 90.0));
            rule.equipment(&candidate, 6).is_reach_open
        };
        assert_eq!(
            [is_open(&[0.0]), is_open(&[0.0, -15.0]), is_open(&[0.0, 20.0])],
            [false, false, true]
        );
    }
}
