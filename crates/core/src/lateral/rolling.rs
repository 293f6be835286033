//! Where a wheel line really stands: whole turns only, from the place where the season began.
//!
//! Sprinklers end on top of the pipe only after whole turns, so from its first stop on the line can
//! stand only at places a whole number of turns away. From outlet to outlet it makes the same number
//! of turns, the nearest to the outlet spacing,
//!
//! turns a move = round(spacing / travel), drift a move = turns · travel − spacing,
//!
//! and what these miss adds up from move to move: the *drift*. The hose or swing joint takes it up
//! within its reach. Where it would not, a turn more or less is made. With the rule `Nearest` that is done
//! as soon as it brings the line nearer to its mark. Rolled back over more than two outlets, the line
//! is headed for its mark, so it stops at the whole turn nearest to it. A hand-moved lateral stands at its mark.
//!
//! A line that may stop at part of a turn is rolled to its mark (`part_turns.rs`).
//!
//! Geometry only; common practice, no source. Neglected: that wheels slip and sink unequally, so that
//! what was rolled out is not quite what is rolled back.

use super::part_turns;
use super::parts::{Machine, OutOfReach, Outlets, REACH_SLACK_M};
use super::wheel::{TurnRule, Wheel};

/// Drift smaller than this is rounding, m.
const NO_DRIFT_M: f64 = 1e-6;

/// Where the wheels are.
#[derive(Clone, Copy, Debug)]
struct At {
    /// Outlet at which the season began.
    first: usize,
    outlet: usize,
    /// Whole turns from the first outlet.
    turns: i64,
    /// Whole turns from the outlet to the mark that was asked for.
    mark: i64,
}

/// The line on its way through the season.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rolling<'a> {
    machine: &'a Machine,
    outlets: &'a Outlets,
    at: Option<At>,
}

impl<'a> Rolling<'a> {
    /// Before the first set.
    pub(crate) fn new(machine: &'a Machine, outlets: &'a Outlets) -> Self {
        Self { machine, outlets, at: None }
    }

    /// Several before their first sets.
    pub(crate) fn several(machine: &'a Machine, outlets: &'a Outlets, lines: usize) -> Vec<Self> {
        vec![Self::new(machine, outlets); lines]
    }

    /// Rolls to the mark `shift_m` from `outlet`: how far past it the line ends, m. `is_headed`: it is
    /// brought to its mark over a long way, and not by the usual turns.
    ///
    /// # Errors
    /// No whole turn within reach of the outlet.
    pub(crate) fn roll(
        &mut self,
        outlet: usize,
        shift_m: f64,
        is_headed: bool,
    ) -> Result<f64, OutOfReach> {
        let Machine::WheelLine(wheel) = self.machine else { return Ok(0.0) };
        if wheel.part_turns.is_some() {
            return part_turns::drift_m(wheel, self.outlets, outlet, shift_m);
        }
        let travel_m = wheel.travel_per_turn_m;
        let mark = (shift_m / travel_m).round() as i64;
        let Some(last) = self.at else {
            self.at = Some(At { first: outlet, outlet, turns: mark, mark });
            return Ok(0.0);
        };
        let apart_m = (outlet as f64 - last.first as f64) * self.outlets.spacing_m;
        let turns = if is_headed || wheel.turn_rule == TurnRule::Nearest {
            (apart_m / travel_m).round() as i64 + mark
        } else {
            let moves = outlet as i64 - last.outlet as i64;
            last.turns + moves * turns_per_move(wheel, self.outlets) + mark - last.mark
        };
        let turns = self.within_reach(outlet, apart_m, travel_m, turns)?;
        self.at = Some(At { outlet, turns, mark, ..last });
        let drift_m = (turns - mark) as f64 * travel_m - apart_m;
        Ok(if drift_m.abs() < NO_DRIFT_M { 0.0 } else { drift_m })
    }

    /// `turns`, or those nearest to them from which the hose reaches the outlet, `apart_m` from the
    /// first one.
    fn within_reach(
        &self,
        outlet: usize,
        apart_m: f64,
        travel_m: f64,
        turns: i64,
    ) -> Result<i64, OutOfReach> {
        let reach_m = self.outlets.reach_m;
        let fewest = ((apart_m - reach_m - REACH_SLACK_M) / travel_m).ceil() as i64;
        let most = ((apart_m + reach_m + REACH_SLACK_M) / travel_m).floor() as i64;
        if fewest > most {
            let past_m = fewest as f64 * travel_m - apart_m;
            return Err(OutOfReach { outlet, short_m: travel_m - past_m, past_m, reach_m });
        }
        Ok(turns.clamp(fewest, most))
    }
}

/// How far from its outlet a line on `wheel` stands in a pass from the first outlet to the last, m.
///
/// # Errors
/// An outlet that no whole turn comes near enough to.
pub(super) fn stands_of_a_pass(wheel: &Wheel, outlets: &Outlets) -> Result<Vec<f64>, OutOfReach> {
    let machine = Machine::WheelLine(*wheel);
    let mut line = Rolling::new(&machine, outlets);
    (0..outlets.count).map(|outlet| line.roll(outlet, 0.0, false)).collect()
}

/// Whole turns from one outlet to the next.
pub(crate) fn turns_per_move(wheel: &Wheel, outlets: &Outlets) -> i64 {
    (outlets.spacing_m / wheel.travel_per_turn_m).round().max(1.0) as i64
}

#[cfg(test)]
#[path = "rolling_tests.rs"]
mod tests;
