//! One alternative as the page draws it.

use super::drawing::{
    AlternativeView, MachineName, PassView, SetRole, SetView, ShiftView, SideName, StopView,
    WheelFact,
};
use crate::handlers::clock::iso;
use evenfall_core::lateral::stops::{self, wheel_reach};
use evenfall_core::lateral::{EdgeTreatment, Lateral, Machine, Outlets, Side};
use evenfall_core::model::Alternative;
use evenfall_core::rotation::{Shift, letter};
use evenfall_core::schedule::{PassPlan, Plan, SetPlan};
use evenfall_figures::drift_facts;
use evenfall_view::UnitSystem;

/// Two places closer than this are one, m.
const SAME_PLACE_M: f64 = 1e-6;

/// An alternative: its machine, where it can stand, its passes.
pub(super) fn view(asked: &Alternative, plan: &Plan, units: UnitSystem) -> AlternativeView {
    let Lateral { machine, sprinklers, sprinkler_spacing_m, lines, .. } = asked.lateral;
    let (name, travel) = match machine {
        Machine::WheelLine(wheel) => (MachineName::WheelLine, Some(wheel.travel_per_turn_m)),
        Machine::HandMove => (MachineName::HandMove, None),
    };
    let sprinklers_x_m = |side: Side| -> Vec<f64> {
        let first_m = asked.lateral.first_m(side, 0.0);
        (0..sprinklers).map(|index| first_m + index as f64 * sprinkler_spacing_m).collect()
    };
    let is_two_sided = lines.left_first_m.is_some();
    let distinct = asked.rotation.distinct();
    let shift = |shift: &Shift| ShiftView {
        letter: letter(distinct.iter().position(|known| known == shift).unwrap_or(0)),
        across_m: shift.across_m,
        along_m: shift.along_m,
    };
    AlternativeView {
        name: asked.name.clone(),
        machine: name,
        sprinklers_x_m: sprinklers_x_m(Side::Right),
        left_sprinklers_x_m: if is_two_sided { sprinklers_x_m(Side::Left) } else { Vec::new() },
        mainline_x_m: asked.lateral.mainline_m(),
        lines: lines.count,
        outlets_y_m: (0..asked.outlets.count).map(|index| asked.outlets.place_m(index)).collect(),
        reach_m: asked.outlets.reach_m,
        travel_per_turn_m: travel,
        wheel: wheel_facts(&machine, &asked.line_outlets(), units),
        stops: stops_beside(&machine, &asked.outlets, sprinkler_spacing_m),
        rotation: asked.rotation.shifts().iter().map(shift).collect(),
        passes: plan.passes.iter().map(|pass| pass_view(asked, plan, pass)).collect(),
    }
}

/// Steps to an outlet spacing in which a hand-move's places are listed.
const HAND_STEPS: i32 = 12;

/// The places that `evenfall stops` lists for a wheel; for a hand-move, places every twelfth of the
/// outlet spacing to a little beyond the reach.
fn stops_beside(machine: &Machine, outlets: &Outlets, spacing_m: f64) -> Vec<StopView> {
    match machine {
        Machine::WheelLine(wheel) => {
            let told = |stop: &stops::Stop| StopView {
                across_m: stop.shift.across_m,
                along_m: stop.shift.along_m,
                turns: Some(stop.turns),
                reachable: stop.standing.can_stand(),
                reason: stop.standing.reason(),
            };
            wheel_reach(wheel, outlets).stops.iter().map(told).collect()
        }
        Machine::HandMove => {
            let step_m = outlets.spacing_m / f64::from(HAND_STEPS);
            let last = (outlets.reach_m / step_m).floor() as i32 + 2;
            let last = last.min(10 * HAND_STEPS);
            let told = |step: i32| {
                let shift = Shift { across_m: f64::from(step) * step_m, along_m: 0.0 };
                let checked = stops::check(machine, outlets, spacing_m, shift);
                StopView {
                    across_m: shift.across_m,
                    along_m: 0.0,
                    turns: None,
                    reachable: checked.is_ok(),
                    reason: checked.map_or_else(|no| no.why.reason(), |_| "within reach"),
                }
            };
            (-last..=last).map(told).collect()
        }
    }
}

fn wheel_facts(machine: &Machine, outlets: &Outlets, units: UnitSystem) -> Vec<WheelFact> {
    match machine {
        Machine::WheelLine(wheel) => {
            let facts = drift_facts(&wheel_reach(wheel, outlets), units);
            facts.into_iter().map(|(what, value)| WheelFact { what, value }).collect()
        }
        Machine::HandMove => Vec::new(),
    }
}

fn pass_view(asked: &Alternative, plan: &Plan, pass: &PassPlan) -> PassView {
    let sets = pass.sets.iter().map(|set| SetView {
        line: set.line,
        side: match set.side {
            Side::Right => SideName::Right,
            Side::Left => SideName::Left,
        },
        outlet: set.outlet,
        y_m: set.place_across_m,
        role: role(asked, set),
        start_h: set.start_h,
        end_h: set.end_h,
        start: iso(plan, set.start_h),
        end: iso(plan, set.end_h),
    });
    PassView {
        letter: pass.letter,
        across_m: pass.shift.across_m,
        along_m: pass.shift.along_m,
        sets: sets.collect(),
    }
}

/// Why a set stands where it does.
fn role(asked: &Alternative, set: &SetPlan) -> SetRole {
    let shifted_m = asked.outlets.place_m(set.outlet) + set.shift.across_m + set.drift_m;
    match asked.edges {
        _ if (set.place_across_m - shifted_m).abs() < SAME_PLACE_M => SetRole::Shifted,
        EdgeTreatment::Hold => SetRole::Held,
        EdgeTreatment::Shift | EdgeTreatment::ExtraSet => SetRole::Extra,
    }
}
