//! Stops: where a lateral can stand beside an outlet.
//!
//! A wheel line stands where its wheels have made whole turns from the outlet, because its
//! sprinklers must end on top of the pipe (after half a turn they hang under it), and only as far
//! from the outlet as the hose or swing joint reaches; it cannot move along its own length. Where its
//! levelers swing far enough and it is allowed, it also stops at part of a turn (`part_turns.rs`). A
//! hand-moved lateral stands anywhere within reach, also shifted along the pipe by up to one
//! sprinkler spacing (common practice, no source).
//!
//! shift = turns · travel per turn; tilt = 360° · (shift / travel − nearest whole turn).
//! Geometry only: no slip, no bend of the pipe between wheels. What whole turns miss from outlet to
//! outlet, and where the line stands because of it, is in `rolling.rs`.

use super::parts::{Machine, OutOfReach, Outlets, REACH_SLACK_M};
use super::rolling::stands_of_a_pass;
use super::wheel::{TurnRule, Wheel};
use crate::rotation::Shift;

/// Whether a lateral can stand at a shift, and if not, why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Within reach, sprinklers on top.
    Reachable,
    /// Within reach, part of a turn off, held level by levelers that swing so far.
    OnLevelers,
    /// Half a turn: the sprinklers hang under the pipe.
    HalfTurn,
    /// Some other part of a turn: the sprinklers are tilted.
    PartTurn,
    /// The hose or swing joint does not reach.
    BeyondReach,
    /// A wheel line cannot be moved along its own length.
    NotAlongThePipe,
    /// More than a sprinkler spacing along the pipe: the next sprinkler's place.
    TooFarAlong,
}

impl Standing {
    /// Whether the lateral can stand there.
    pub fn can_stand(self) -> bool {
        matches!(self, Self::Reachable | Self::OnLevelers)
    }

    /// Why, in plain words.
    pub fn reason(self) -> &'static str {
        match self {
            Self::Reachable => "whole turns and within reach",
            Self::OnLevelers => {
                "part of a turn, held level by the levelers; jets that strike the pipe drip from it"
            }
            Self::HalfTurn => "half a turn: the sprinklers would hang under the pipe",
            Self::PartTurn => "not a whole turn: the sprinklers would stand tilted",
            Self::BeyondReach => "beyond the reach of the hose or swing joint",
            Self::NotAlongThePipe => "a wheel line cannot be moved along its own length",
            Self::TooFarAlong => "more than one sprinkler spacing along the pipe",
        }
    }
}

/// One place beside the outlet and whether the lateral can stand there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// Where.
    pub shift: Shift,
    /// Turns of the wheel from the outlet, + in the direction of travel.
    pub turns: f64,
    /// Whether and why not.
    pub standing: Standing,
}

/// What a wheel can do between and beside its outlets.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelReach {
    /// Half and whole turns beside an outlet (quarters too, where the line may stop at part of a turn),
    /// from − to +, out to one turn beyond the reach.
    pub stops: Vec<Stop>,
    /// Whole turns from one outlet to the next (nearest).
    pub turns_per_move: u32,
    /// How far those turns miss the next outlet, m (+ beyond it).
    pub drift_per_move_m: f64,
    /// Tilt of the sprinklers after one move if the line is rolled to the outlet all the same,
    /// degrees (+ turned too far).
    pub tilt_per_move_deg: f64,
    /// Moves until that tilt, added up, leaves the levelers' range; `None` if it never grows.
    pub moves_within_levelers: Option<u32>,
    /// Drift added up over the moves of a pass if no turn more or less is made, m.
    pub drift_per_pass_m: f64,
    /// A turn more (or less) every so many moves keeps the line near its marks; `None` without drift.
    pub added_turn_every: Option<u32>,
    /// Outlet spacings of whole turns, next below and above, m; the same twice without drift.
    pub fitting_spacings_m: [f64; 2],
    /// How far from its outlet the line stands in a pass from the first outlet to the last that is not
    /// shifted, m (+ past it); or the outlet that no whole turn comes near enough to.
    pub stands_m: Result<Vec<f64>, OutOfReach>,
    travel_m: f64,
    spacing_m: f64,
    /// How far the levelers swing, where the line may stop at part of a turn, degrees.
    part_turns_deg: Option<f64>,
    turn_rule: TurnRule,
}

/// Drift smaller than this is none, m.
const NO_DRIFT_M: f64 = 1e-6;

impl WheelReach {
    /// The shifts at which the line can stand.
    pub fn reachable(&self) -> impl Iterator<Item = &Stop> {
        self.stops.iter().filter(|stop| stop.standing.can_stand())
    }

    /// How wheels and outlets go together, and what can be done where they do not, as sentences;
    /// `length` writes a length given in m.
    pub fn fit_words(&self, length: impl Fn(f64) -> String) -> Vec<String> {
        let turns = |count: u32| format!("{count} turn{}", if count == 1 { "" } else { "s" });
        let (travel, spacing) = (length(self.travel_m), length(self.spacing_m));
        let head = format!("The wheels roll {travel} a turn and the outlets are {spacing} apart: ");
        let Some(every) = self.added_turn_every else {
            return vec![
                head + &format!("{} a move end at the next outlet.", turns(self.turns_per_move)),
            ];
        };
        if let Some(range_deg) = self.part_turns_deg {
            let tilt_deg = self.tilt_per_move_deg.abs();
            return vec![
                head + &format!(
                    "the line is rolled to every outlet all the same, {tilt_deg:.0}° farther from upright \
                     each move, as far as the levelers swing ({range_deg:.0}° either way)."
                ),
            ];
        }
        let drift_m = self.drift_per_move_m;
        let (side, more) = if drift_m < 0.0 { ("short of", "more") } else { ("past", "less") };
        let pass = format!(
            "{head}{} a move end {} {side} each next outlet, {} {side} the last one if nothing is done.",
            turns(self.turns_per_move),
            length(drift_m.abs()),
            length(self.drift_per_pass_m.abs())
        );
        let turn = if self.turn_rule == TurnRule::Nearest {
            format!("A turn {more} is made about every {} moves. Two other ways out:", every.max(1))
        } else {
            format!(
                "Three ways out: make a turn {more} about every {} moves (`added_turn`: \"nearest\");",
                every.max(1)
            )
        };
        let [below, above] = self.fitting_spacings_m;
        let spacing = if below > 0.0 {
            format!("place outlets {} or {} apart;", length(below), length(above))
        } else {
            format!("place outlets {} apart;", length(above))
        };
        let level = format!(
            "or stop part of a turn off with levelers that swing far enough, {:.0}° more each move \
             (`part_turns`: \"on levelers\"). `evenfall fit` compares them.",
            self.tilt_per_move_deg.abs()
        );
        vec![pass, format!("{turn} {spacing} {level}")]
    }
}

/// A shift that was asked for and cannot be had.
#[derive(Clone, Debug, PartialEq)]
pub struct Unreachable {
    /// Why not.
    pub why: Standing,
    /// The shifts across the field that can (for a hand-move: the two ends of the range).
    pub reachable: Vec<Shift>,
}

/// A shift counts as a whole turn if it misses one by at most this share of the turns made; what
/// is asked for is then moved onto the whole turn. Judgment: 2 % is 7° of tilt a turn.
pub const WHOLE_TURN_TOLERANCE: f64 = 0.02;

/// What `wheel` can do at `outlets`.
pub fn wheel_reach(wheel: &Wheel, outlets: &Outlets) -> WheelReach {
    let travel_m = wheel.travel_per_turn_m;
    let furthest = (outlets.reach_m / travel_m + 1.0).floor() as i32;
    let parts = if wheel.part_turns.is_some() { 4 } else { 2 };
    let stops = (-parts * furthest..=parts * furthest).map(|part_turns| {
        let turns = f64::from(part_turns) / f64::from(parts);
        let shift = Shift { across_m: turns * travel_m, along_m: 0.0 };
        Stop { shift, turns, standing: wheel_standing(wheel, outlets.reach_m, shift) }
    });
    let turns_per_move = (outlets.spacing_m / travel_m).round().max(1.0);
    let drift_per_move_m = turns_per_move * travel_m - outlets.spacing_m;
    let tilt_per_move_deg = -360.0 * drift_per_move_m / travel_m;
    let moves = (wheel.leveler_range_deg / tilt_per_move_deg.abs()).floor();
    WheelReach {
        stops: stops.collect(),
        turns_per_move: turns_per_move as u32,
        drift_per_move_m,
        tilt_per_move_deg,
        moves_within_levelers: (moves < 1e6).then_some(moves as u32),
        drift_per_pass_m: drift_per_move_m * outlets.count.saturating_sub(1) as f64,
        added_turn_every: (drift_per_move_m.abs() > NO_DRIFT_M)
            .then(|| (travel_m / drift_per_move_m.abs()).floor() as u32),
        fitting_spacings_m: if drift_per_move_m.abs() > NO_DRIFT_M {
            let below = (outlets.spacing_m / travel_m).floor();
            [below * travel_m, (below + 1.0) * travel_m]
        } else {
            [outlets.spacing_m; 2]
        },
        stands_m: stands_of_a_pass(wheel, outlets),
        travel_m,
        spacing_m: outlets.spacing_m,
        part_turns_deg: wheel.part_turns.map(|_| wheel.leveler_range_deg),
        turn_rule: wheel.turn_rule,
    }
}

fn wheel_standing(wheel: &Wheel, reach_m: f64, shift: Shift) -> Standing {
    let travel_m = wheel.travel_per_turn_m;
    let turns = shift.across_m / travel_m;
    let part = (turns - turns.round()).abs();
    let is_whole = part <= WHOLE_TURN_TOLERANCE * turns.abs().max(1.0);
    let on_levelers = !is_whole && part <= wheel.largest_part() + 1e-9;
    let stands_m = if is_whole { turns.round() * travel_m } else { shift.across_m };
    if shift.along_m != 0.0 {
        Standing::NotAlongThePipe
    } else if !is_whole && !on_levelers {
        let is_half = 0.5 - part <= WHOLE_TURN_TOLERANCE * turns.abs().max(1.0);
        if is_half { Standing::HalfTurn } else { Standing::PartTurn }
    } else if stands_m.abs() > reach_m + REACH_SLACK_M {
        Standing::BeyondReach
    } else if on_levelers {
        Standing::OnLevelers
    } else {
        Standing::Reachable
    }
}

/// The shift at which `machine` really stands when `asked` for: the nearest whole turn for a wheel
/// line, the shift itself for a hand-move.
///
/// # Errors
/// Why it cannot stand there, and where it can.
pub fn check(
    machine: &Machine,
    outlets: &Outlets,
    sprinkler_spacing_m: f64,
    asked: Shift,
) -> Result<Shift, Unreachable> {
    match machine {
        Machine::WheelLine(wheel) => {
            let travel_m = wheel.travel_per_turn_m;
            match wheel_standing(wheel, outlets.reach_m, asked) {
                Standing::OnLevelers => Ok(asked),
                Standing::Reachable => {
                    let across_m = (asked.across_m / travel_m).round() * travel_m;
                    Ok(Shift { across_m, along_m: 0.0 })
                }
                why => {
                    let reach = wheel_reach(wheel, outlets);
                    Err(Unreachable {
                        why,
                        reachable: reach.reachable().map(|s| s.shift).collect(),
                    })
                }
            }
        }
        Machine::HandMove => {
            let end = |across_m| Shift { across_m, along_m: 0.0 };
            let reachable = vec![end(-outlets.reach_m), end(outlets.reach_m)];
            if asked.across_m.abs() > outlets.reach_m + REACH_SLACK_M {
                Err(Unreachable { why: Standing::BeyondReach, reachable })
            } else if asked.along_m.abs() > sprinkler_spacing_m {
                Err(Unreachable { why: Standing::TooFarAlong, reachable })
            } else {
                Ok(asked)
            }
        }
    }
}

#[cfg(test)]
#[path = "stops_tests.rs"]
mod tests;
