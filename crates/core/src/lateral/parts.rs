//! Pipe, machine and outlets.

use super::lines::{Lines, Side};
use super::wheel::Wheel;

/// The pipe and the places of its sprinklers along x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lateral {
    /// How it is moved.
    pub machine: Machine,
    /// Number of sprinklers.
    pub sprinklers: usize,
    /// Distance between sprinklers along the pipe, m.
    pub sprinkler_spacing_m: f64,
    /// x of the first sprinkler, m from the field's edge; right of a mainline that serves both sides.
    pub first_sprinkler_m: f64,
    /// Lines alike that share the field, and the sides they serve.
    pub lines: Lines,
}

impl Lateral {
    /// x of a mainline that serves both sides, m.
    pub fn mainline_m(&self) -> Option<f64> {
        let span_m = self.sprinklers.saturating_sub(1) as f64 * self.sprinkler_spacing_m;
        self.lines.left_first_m.map(|left_m| 0.5 * (left_m + span_m + self.first_sprinkler_m))
    }

    /// x of the sprinkler nearest to the field's first edge on that side, shifted along the pipe away
    /// from the mainline, m.
    pub fn first_m(&self, side: Side, along_m: f64) -> f64 {
        match (side, self.lines.left_first_m) {
            (Side::Left, Some(left_m)) => left_m - along_m,
            _ => self.first_sprinkler_m + along_m,
        }
    }
}

/// How a lateral is moved from set to set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Machine {
    /// Rolled on wheels, the pipe being the axle: whole turns only, no shift along the pipe.
    WheelLine(Wheel),
    /// Taken apart and carried: any shift within reach, also along the pipe.
    HandMove,
}

/// Slack on the reach, m: a stop at just the reach is reachable in spite of rounding.
pub(crate) const REACH_SLACK_M: f64 = 1e-6;

/// The outlets (hydrant valves) on the mainline, and how far a lateral may stand from one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlets {
    /// Distance between outlets across the field, m.
    pub spacing_m: f64,
    /// y of the first outlet, m from the field's edge.
    pub first_m: f64,
    /// Number of outlets: the sets of a pass.
    pub count: usize,
    /// How far the lateral may stand from its outlet, m: reach of the hose or swing joint.
    pub reach_m: f64,
    /// Width of the field across, m: no set more stands beyond it.
    pub field_width_m: f64,
}

impl Outlets {
    /// y of outlet `index` (from 0), m.
    pub fn place_m(&self, index: usize) -> f64 {
        self.first_m + index as f64 * self.spacing_m
    }
}

/// No whole turn comes near enough to an outlet.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error(
    "no stop that the wheels allow comes within reach of outlet {}: one ends {short_m:.2} m before it, \
     the next {past_m:.2} m past it, and the hose or swing joint reaches {reach_m:.2} m",
    outlet + 1
)]
pub struct OutOfReach {
    /// The outlet (from 0).
    pub outlet: usize,
    /// How far before the outlet the last whole turn ends that is short of it, m.
    pub short_m: f64,
    /// How far past the outlet the next one ends, m.
    pub past_m: f64,
    /// What hose or swing joint reaches, m.
    pub reach_m: f64,
}
