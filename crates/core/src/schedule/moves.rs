//! Moves: how the lateral gets from each stop of a plan to the next.
//!
//! Everything follows from the plan and the machine: where a set stands beside its outlet, how far
//! that is from the stop before, and what a wheel line's wheels must turn to get there:
//!
//! turns = round(distance / travel per turn); left over = distance − turns · travel.
//!
//! A plan's wheel lines stand whole turns apart, so nothing is left over; after a set that was recorded at
//! a place of its own something may be. Geometry only: no slip; common practice, no source.

use super::passes::{PassPlan, SetPlan, Stops};
use super::plan::Plan;
use crate::lateral::{Machine, Outlets, Side};
use crate::rotation::Shift;

/// Places closer than this are the same place, m: far under what anybody can see, far over
/// rounding.
const SAME_PLACE_M: f64 = 1e-6;

/// What a set is in its pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetKind {
    /// At the shift of the pass.
    Usual,
    /// Held at its outlet while the pass is shifted (an edge).
    Held,
    /// One set more at an edge.
    Extra,
    /// At another place than the pass asks for.
    Elsewhere,
}

/// From one stop to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    /// Distance across the field, m; + in the direction of travel.
    pub across_m: f64,
    /// Distance along the pipe, m; + away from the mainline.
    pub along_m: f64,
    /// Whole turns of the wheel nearest to it, + in the direction of travel; `None` for a hand-move.
    pub turns: Option<i32>,
    /// What those turns leave to go, m; + in the direction of travel, 0 for a hand-move.
    pub left_over_m: f64,
    /// Side of the mainline that it leads to, where that is not the side it comes from.
    pub across_mainline_to: Option<Side>,
    /// For a line that stops at part of a turn, all that it turns, in turns, + in the direction of travel.
    pub part_turns: Option<f64>,
}

/// One set with the move that leads to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// The set.
    pub set: SetPlan,
    /// Where it stands from its outlet.
    pub shift: Shift,
    /// Whole turns from the outlet to the stop, + in the direction of travel; `None` for a hand-move.
    pub turns_from_outlet: Option<i32>,
    /// What it is in its pass.
    pub kind: SetKind,
    /// From the stop before; `None` for the first set of the season.
    pub from_last: Option<Travel>,
}

/// The moves of one pass.
#[derive(Clone, Debug, PartialEq)]
pub struct PassMoves {
    /// Letter of the pass's shift.
    pub letter: char,
    /// The shift of the pass.
    pub shift: Shift,
    /// The sets in the order in which they are watered.
    pub moves: Vec<Move>,
    /// After each line's last set: to its first stop of the next pass, or to the first outlet at the
    /// season's end; none for a line without sets in the pass.
    pub ways_back: Vec<WayBack>,
}

/// The way of a line after its last set of a pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WayBack {
    /// Line (from 0).
    pub line: usize,
    /// The way.
    pub travel: Travel,
}

/// The moves of a plan, pass by pass.
pub fn moves(plan: &Plan, stops: &Stops<'_>) -> Vec<PassMoves> {
    // Where each line stands.
    let mut last: Vec<Option<At>> = vec![None; stops.lines.count];
    let mut passes = Vec::with_capacity(plan.passes.len());
    for (number, pass) in plan.passes.iter().enumerate() {
        let sets = pass.sets.iter().map(|set| {
            let here = At::of(set);
            let from_last = last[set.line].map(|last| travel(stops.machine, last, here));
            last[set.line] = Some(here);
            one_move(pass, set, stops, from_last)
        });
        let moves: Vec<Move> = sets.collect();
        let way_back = |line: usize| {
            let is_here = moves.iter().any(|one| one.set.line == line);
            let from = last[line].filter(|_| is_here)?;
            let next = plan.passes[number + 1..].iter().find_map(|pass| {
                let set = pass.sets.iter().find(|set| set.line == line)?;
                Some(At::of(set))
            });
            let home = At { across_m: stops.outlets.place_m(0), along_m: 0.0, side: from.side };
            let start = next.unwrap_or(home);
            Some(WayBack { line, travel: travel(stops.machine, from, start) })
        };
        let ways_back = (0..last.len()).filter_map(way_back).collect();
        passes.push(PassMoves { letter: pass.letter, shift: pass.shift, moves, ways_back });
    }
    passes
}

fn one_move(pass: &PassPlan, set: &SetPlan, stops: &Stops<'_>, from_last: Option<Travel>) -> Move {
    let across_m = set.place_across_m - stops.outlets.place_m(set.outlet);
    Move {
        set: *set,
        shift: Shift { across_m, along_m: set.shift.along_m },
        turns_from_outlet: whole_turns(stops.machine, across_m),
        kind: kind(pass, set, across_m - set.drift_m, stops.outlets),
        from_last,
    }
}

/// `across_m`: where the set's mark lies from its outlet.
fn kind(pass: &PassPlan, set: &SetPlan, across_m: f64, outlets: &Outlets) -> SetKind {
    let outlet = set.outlet;
    let same = |one: f64, other: f64| (one - other).abs() < SAME_PLACE_M;
    let at_edge = outlet == 0 || outlet + 1 == outlets.count;
    let sets_here =
        pass.sets.iter().filter(|one| (one.side, one.outlet) == (set.side, outlet)).count();
    if same(across_m, set.shift.across_m) {
        SetKind::Usual
    } else if at_edge && sets_here > 1 {
        SetKind::Extra
    } else if at_edge && same(across_m, 0.0) {
        SetKind::Held
    } else {
        SetKind::Elsewhere
    }
}

fn whole_turns(machine: &Machine, distance_m: f64) -> Option<i32> {
    match machine {
        Machine::WheelLine(wheel) => Some((distance_m / wheel.travel_per_turn_m).round() as i32),
        Machine::HandMove => None,
    }
}

/// Where a line stands.
#[derive(Clone, Copy)]
struct At {
    across_m: f64,
    /// Along the pipe, away from the mainline.
    along_m: f64,
    side: Side,
}

impl At {
    fn of(set: &SetPlan) -> Self {
        Self { across_m: set.place_across_m, along_m: set.shift.along_m, side: set.side }
    }
}

/// From one place to another.
fn travel(machine: &Machine, from: At, to: At) -> Travel {
    let (across_m, along_m) = (to.across_m - from.across_m, to.along_m - from.along_m);
    let across_mainline_to = (from.side != to.side).then_some(to.side);
    let turns = whole_turns(machine, across_m);
    let left_over_m = match (machine, turns) {
        (Machine::WheelLine(wheel), Some(turns)) => {
            across_m - f64::from(turns) * wheel.travel_per_turn_m
        }
        _ => 0.0,
    };
    let part_turns = match machine {
        Machine::WheelLine(wheel) if wheel.part_turns.is_some() => {
            Some(across_m / wheel.travel_per_turn_m)
        }
        _ => None,
    };
    Travel { across_m, along_m, turns, left_over_m, across_mainline_to, part_turns }
}

#[cfg(test)]
#[path = "moves_tests.rs"]
mod tests;
