//! Rotations: every shift put on a stop where its lateral can stand, or refused with those where
//! it can.

use crate::file::{Across, Along, ShiftFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals, length};
use evenfall_core::lateral::{Machine, Outlets, Wheel, stops};
use evenfall_core::rotation::{Rotation, Shift};
use evenfall_core::sprinkler::attitude::roll_deg;

/// What decides where a lateral can stand beside an outlet.
pub(crate) struct Beside<'a> {
    /// Name of the alternative.
    pub(crate) name: &'a str,
    pub(crate) machine: Machine,
    pub(crate) sprinkler_spacing_m: f64,
    pub(crate) outlet: Outlets,
}

/// The rotation through `shifts`; `None` if any cannot be had.
pub(crate) fn resolve(
    beside: &Beside<'_>,
    shifts: &[ShiftFile],
    notes: &mut Notes<'_>,
) -> Option<Rotation> {
    let stops: Vec<Option<Shift>> = shifts.iter().map(|shift| stop(beside, shift, notes)).collect();
    Rotation::new(stops.into_iter().collect::<Option<_>>()?)
}

/// The stop that a shift of a rotation comes to.
fn stop(beside: &Beside<'_>, shift: &ShiftFile, notes: &mut Notes<'_>) -> Option<Shift> {
    let across_m = match (&shift.across, beside.machine) {
        (None, _) => 0.0,
        (Some(Across::Length(length)), _) => length.value,
        (Some(Across::Turns(turns)), Machine::WheelLine(wheel)) => {
            turns.value * wheel.travel_per_turn_m
        }
        (Some(Across::Turns(turns)), Machine::HandMove) => {
            let problem = "a hand-moved lateral has no wheels to turn";
            let hint = "Give the shift as a length, such as \"20 ft\".";
            notes.issues.push(Issue::new(&turns.at, problem).hint(hint));
            return None;
        }
    };
    let spacing_m = beside.sprinkler_spacing_m;
    let along_m = match &shift.along {
        None => 0.0,
        Some(Along::Length(length)) => length.value,
        Some(Along::HalfJoint(way)) => way * 0.5 * spacing_m,
    };
    let asked = Shift { across_m, along_m };
    match stops::check(&beside.machine, &beside.outlet, spacing_m, asked) {
        Ok(taken) => {
            if (taken.across_m - across_m).abs() > 1e-6 {
                let why = format!("moved from {} onto whole turns of the wheel", length(across_m));
                notes.assume(&shift.at.pointer, length(taken.across_m), why);
            }
            Some(taken)
        }
        Err(unreachable) => {
            notes.issues.push(refusal(beside, shift, asked, &unreachable));
            None
        }
    }
}

/// What levelers would have to do for a stop at part of a turn; empty for other refusals.
fn on_levelers(wheel: &Wheel, asked: Shift, why: stops::Standing) -> String {
    if !matches!(why, stops::Standing::HalfTurn | stops::Standing::PartTurn) {
        return String::new();
    }
    let needed_deg = roll_deg(asked.across_m / wheel.travel_per_turn_m).abs();
    format!(
        " To stop there, levelers must swing {}° (yours are said to swing {}°): then write \
         \"part_turns\": \"on levelers\" for the wheel.",
        decimals(needed_deg, 0),
        decimals(wheel.leveler_range_deg, 0)
    )
}

fn refusal(
    beside: &Beside<'_>,
    shift: &ShiftFile,
    asked: Shift,
    unreachable: &stops::Unreachable,
) -> Issue {
    let along = match asked.along_m {
        0.0 => String::new(),
        along_m => format!(" and {} along the pipe", length(along_m)),
    };
    let problem = format!(
        "\"{}\" cannot stand {}{along} from its outlet: {}",
        beside.name,
        length(asked.across_m),
        unreachable.why.reason()
    );
    let places = unreachable.reachable.iter().map(|shift| length(shift.across_m));
    let places = places.collect::<Vec<_>>();
    let (allowed, hint) = match beside.machine {
        Machine::WheelLine(wheel) => (
            places.join(", "),
            format!(
                "Its wheel rolls {} a turn and its hose reaches {}.{}",
                length(wheel.travel_per_turn_m),
                length(beside.outlet.reach_m),
                on_levelers(&wheel, asked, unreachable.why)
            ),
        ),
        Machine::HandMove => (
            places.join(" to "),
            format!(
                "Its hose reaches {}; along the pipe it shifts by at most {}.",
                length(beside.outlet.reach_m),
                length(beside.sprinkler_spacing_m)
            ),
        ),
    };
    Issue::new(&shift.at, problem).allowed(allowed).hint(hint)
}
