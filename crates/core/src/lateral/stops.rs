//! Stops: where a lateral can stand.
//!
//! A wheel line stands where its wheels have made whole turns from the outlet, because its
//! sprinklers must end on top of the pipe (common practice, no source), and only as far from the
//! outlet as the hose or swing joint reaches. A hand-moved lateral stands anywhere within reach,
//! also shifted along the pipe by less than a sprinkler spacing.

use crate::rotation::Shift;

/// Whether a lateral can stand at a shift, and if not, why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Within reach, sprinklers on top.
    Reachable,
    /// Half a turn: the sprinklers hang under the pipe.
    HalfTurn,
    /// Some other part of a turn: the sprinklers tilt beyond the levelers.
    PartTurn,
    /// Whole turns, but the hose or swing joint does not reach.
    BeyondReach,
}

/// One place beside the outlet and whether the lateral can stand there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// Where.
    pub shift: Shift,
    /// Turns of the wheel from the outlet, + in the way of travel.
    pub turns: f64,
    /// Whether and why not.
    pub standing: Standing,
}

/// What a wheel can do between and beside its outlets.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelReach {
    /// Half and whole turns beside an outlet, from − to +, out to one turn beyond the reach.
    pub stops: Vec<Stop>,
    /// Whole turns from one outlet to the next.
    pub turns_per_move: u32,
    /// How far those turns miss the next outlet, m (+ beyond it).
    pub drift_per_move_m: f64,
    /// Tilt of the sprinklers after one move if the line is stopped at the outlet all the same,
    /// degrees.
    pub tilt_per_move_deg: f64,
    /// Drift added up over all the outlets of a pass if it is not taken out, m.
    pub drift_per_pass_m: f64,
}
