//! `check`, `clock` and `stops` as JSON, for other programs: SI, the unit last in each key.

use crate::failure::Failure;
use crate::inputs::Loaded;
use crate::notes;
use crate::report::display_units;
use evenfall_core::lateral::stops::{WheelReach, wheel_reach};
use evenfall_core::lateral::{Machine, Outlets, Side, Wheel};
use evenfall_core::model::Alternative;
use evenfall_core::rotation::letter;
use evenfall_core::schedule::{PassPlan, Plan, SetPlan};
use evenfall_core::season;
use evenfall_figures::{plan_fault_lines, plan_json};
use serde_json::{Value, json};

/// `text` of a value, indented.
pub(crate) fn text(value: &Value) -> String {
    format!("{value:#}\n")
}

/// What `evenfall check` finds in a sound scenario.
pub(crate) fn check(loaded: &Loaded) -> Result<Value, Failure> {
    let resolved = &loaded.resolved;
    let scenario = &resolved.scenario;
    let plan = notes::plan_check(loaded, season::plans(scenario)?)?;
    let input = |input: &evenfall_scenario::Input| {
        json!({
            "place": input.what,
            "label": input.label,
            "value": input.value,
            "whose": input.whose.word(),
            "is_known": input.whose.is_known(),
        })
    };
    let assumption = |a: &evenfall_scenario::Assumption| json!({ "place": a.what, "value": a.value, "why": a.why });
    Ok(json!({
        "title": scenario.title,
        "scenario_sha256": resolved.digest,
        "version": env!("CARGO_PKG_VERSION"),
        "seed": scenario.seed,
        "alternatives": scenario.alternatives.iter().map(|one| &one.name).collect::<Vec<_>>(),
        "plan": plan_json(scenario, &plan)?,
        "faults": plan_fault_lines(scenario, &plan, display_units(resolved.units)),
        "warnings": resolved.warnings,
        "notes": notes::clock_notices(scenario)?,
        "inputs": resolved.inputs.iter().map(input).collect::<Vec<_>>(),
        "starting_values": resolved.assumptions.iter().map(assumption).collect::<Vec<_>>(),
    }))
}

/// When each pass runs, and with `sets` each set.
pub(crate) fn clock(loaded: &Loaded, sets: bool) -> Result<Value, Failure> {
    let scenario = &loaded.resolved.scenario;
    let plans = season::plans(scenario)?;
    let alternative = |(asked, plan): (&Alternative, &Plan)| {
        let pass = |(number, pass): (usize, &PassPlan)| {
            let (start_h, end_h) = pass.span_h();
            let mut one = json!({
                "pass": number + 1,
                "stop": pass.letter,
                "shift_across_m": pass.shift.across_m,
                "shift_along_m": pass.shift.along_m,
                "start": iso(plan, start_h),
                "end": iso(plan, end_h),
                "start_h": start_h,
                "end_h": end_h,
                "sets": pass.sets.len(),
            });
            if sets {
                one["each_set"] = pass.sets.iter().map(|set| of_set(plan, set)).collect();
            }
            one
        };
        json!({
            "name": asked.name,
            "day_share": plan.day_night.day_share,
            "cycle_passes": plan.cycle,
            "passes": plan.passes.iter().enumerate().map(pass).collect::<Vec<_>>(),
        })
    };
    let all: Vec<Value> = scenario.alternatives.iter().zip(&plans).map(alternative).collect();
    Ok(json!({
        "scenario_sha256": loaded.resolved.digest,
        "time_zone": scenario.calendar.clock.zone_name(),
        "alternatives": all,
        "notes": notes::clock_notices(scenario)?,
    }))
}

fn of_set(plan: &Plan, set: &SetPlan) -> Value {
    json!({
        "outlet": set.outlet + 1,
        "line": set.line + 1,
        "side": match set.side { Side::Right => "right", Side::Left => "left" },
        "place_across_m": set.place_across_m,
        "off_mark_m": set.drift_m,
        "start": iso(plan, set.start_h),
        "end": iso(plan, set.end_h),
        "start_h": set.start_h,
        "end_h": set.end_h,
    })
}

/// A time as the field's clock shows it.
fn iso(plan: &Plan, hour_h: f64) -> String {
    plan.shown(hour_h).at.strftime("%Y-%m-%dT%H:%M").to_string()
}

/// Where the alternatives of a scenario can stop.
pub(crate) fn stops(loaded: &Loaded) -> Value {
    let alternative = |asked: &Alternative| {
        let mut one = match &asked.lateral.machine {
            Machine::WheelLine(wheel) => of_wheel(wheel, &asked.line_outlets()),
            Machine::HandMove => json!({
                "machine": "hand move",
                "reach_m": asked.outlets.reach_m,
                "along_at_most_m": asked.lateral.sprinkler_spacing_m,
            }),
        };
        let shift = |(index, shift): (usize, &evenfall_core::rotation::Shift)| {
            json!({
                "stop": letter(index),
                "across_m": shift.across_m,
                "along_m": shift.along_m,
            })
        };
        one["rotation"] = asked.rotation.distinct().iter().enumerate().map(shift).collect();
        one["name"] = asked.name.as_str().into();
        one
    };
    let scenario = &loaded.resolved.scenario;
    json!({
        "scenario_sha256": loaded.resolved.digest,
        "alternatives": scenario.alternatives.iter().map(alternative).collect::<Vec<_>>(),
        "warnings": loaded.resolved.warnings,
    })
}

/// Every place beside the outlet for a wheel, and how it fits the outlets.
pub(crate) fn of_wheel(wheel: &Wheel, outlets: &Outlets) -> Value {
    let WheelReach { stops, turns_per_move, drift_per_move_m, .. } = wheel_reach(wheel, outlets);
    let stop = |stop: &evenfall_core::lateral::stops::Stop| {
        json!({
            "across_m": stop.shift.across_m,
            "turns": stop.turns,
            "can_stand": stop.standing.can_stand(),
            "why": stop.standing.reason(),
        })
    };
    json!({
        "machine": "wheel line",
        "travel_per_turn_m": wheel.travel_per_turn_m,
        "outlet_spacing_m": outlets.spacing_m,
        "reach_m": outlets.reach_m,
        "turns_per_move": turns_per_move,
        "drift_per_move_m": drift_per_move_m,
        "stops": stops.iter().map(stop).collect::<Vec<_>>(),
    })
}
