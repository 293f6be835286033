//! The picture of a scenario before any water falls: field, laterals, stops, schedule.

use crate::app::App;
use crate::ask::{Ask, Sent};
use crate::fail::{Fail, ProblemTold, told};
use axum::Json;
use axum::extract::State;
use evenfall_core::lateral::stops::{self, Standing, wheel_reach};
use evenfall_core::lateral::{Lateral, Machine, Outlets};
use evenfall_core::rotation::{Shift, letter};
use evenfall_core::schedule::{PassPlan, Plan};
use evenfall_core::season::{self, Alternative, Scenario};
use serde::Serialize;
use std::sync::Arc;
use utoipa::ToSchema;

/// The layout of a scenario, or why there is none.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct LayoutTold {
    ok: bool,
    /// Everything that is wrong; empty if `ok`.
    problems: Vec<ProblemTold>,
    /// The field; `null` with problems.
    field: Option<FieldTold>,
    /// Units in which to show results: `us` or `si`.
    units: &'static str,
    alternatives: Vec<AlternativeTold>,
}

/// The field.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct FieldTold {
    /// Length along the pipe, m.
    along_m: f64,
    /// Width across, the way the lateral travels, m.
    across_m: f64,
    /// Compass bearing of that way, degrees.
    travel_bearing_deg: f64,
    /// Side of a cell, m.
    cell_m: f64,
    /// Rings of the field's edge (x along, y across, m), holes among them; empty where the field
    /// is the whole rectangle.
    boundary: Vec<Vec<[f64; 2]>>,
}

/// One way of running the season.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct AlternativeTold {
    name: String,
    /// `wheel line` or `hand move`, as in the scenario.
    machine: &'static str,
    sprinklers_x_m: Vec<f64>,
    outlets_y_m: Vec<f64>,
    reach_m: f64,
    /// `null` for a hand-move.
    travel_per_turn_m: Option<f64>,
    /// Places beside an outlet, from behind to ahead.
    stops: Vec<StopTold>,
    /// One cycle of the rotation.
    rotation: Vec<ShiftTold>,
    passes: Vec<PassTold>,
}

/// A place beside an outlet, and whether the lateral can stand there.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct StopTold {
    across_m: f64,
    along_m: f64,
    /// Turns of the wheel from the outlet; `null` for a hand-move.
    turns: Option<f64>,
    reachable: bool,
    /// Why, or why not, in plain words.
    reason: &'static str,
}

/// A shift of the rotation.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct ShiftTold {
    letter: char,
    across_m: f64,
    along_m: f64,
}

/// One pass.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct PassTold {
    letter: char,
    across_m: f64,
    along_m: f64,
    sets: Vec<SetTold>,
}

/// One set.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct SetTold {
    /// Outlet, from 0.
    outlet: usize,
    /// Where the lateral stands across the field, m.
    y_m: f64,
    /// Hours from midnight of the season's first day.
    start_h: f64,
    end_h: f64,
    /// Local date and time.
    start: String,
    end: String,
}

/// Lays a scenario out: where laterals can stand, and when each set runs.
#[utoipa::path(
    post,
    path = "/api/layout",
    request_body = Ask,
    responses((status = 200, body = LayoutTold), (status = "4XX", body = crate::fail::Told))
)]
pub(crate) async fn layout(
    State(app): State<Arc<App>>,
    Sent(ask): Sent<Ask>,
) -> Result<Json<LayoutTold>, Fail> {
    app.quickly(move |_, _| laid_out(&ask).map(Json)).await
}

fn laid_out(ask: &Ask) -> Result<LayoutTold, Fail> {
    let resolved = match ask.resolve() {
        Ok(resolved) => resolved,
        Err(problems) => {
            let problems = told(&problems);
            let (ok, field, alternatives) = (false, None, Vec::new());
            return Ok(LayoutTold { ok, problems, field, units: "si", alternatives });
        }
    };
    let units = match resolved.units {
        evenfall_scenario::UnitSystem::Us => "us",
        evenfall_scenario::UnitSystem::Si => "si",
    };
    let scenario: &Scenario = &resolved.scenario;
    let plans = season::plans(scenario)?;
    let grid = scenario.field.grid;
    Ok(LayoutTold {
        ok: true,
        problems: Vec::new(),
        field: Some(FieldTold {
            along_m: grid.length_along_m(),
            across_m: grid.width_across_m(),
            travel_bearing_deg: scenario.field.travel_bearing_deg,
            cell_m: grid.cell_m,
            boundary: scenario
                .field
                .boundary
                .as_ref()
                .map_or_else(Vec::new, |b| b.rings().to_vec()),
        }),
        units,
        alternatives: scenario.alternatives.iter().zip(&plans).map(alternative).collect(),
    })
}

fn alternative((asked, plan): (&Alternative, &Plan)) -> AlternativeTold {
    let Lateral { machine, sprinklers, sprinkler_spacing_m, first_sprinkler_m } = asked.lateral;
    let (name, travel) = match machine {
        Machine::WheelLine(wheel) => ("wheel line", Some(wheel.travel_per_turn_m)),
        Machine::HandMove => ("hand move", None),
    };
    let sprinkler_x_m = |index: usize| first_sprinkler_m + index as f64 * sprinkler_spacing_m;
    let distinct = asked.rotation.distinct();
    let shift = |shift: &Shift| ShiftTold {
        letter: letter(distinct.iter().position(|known| known == shift).unwrap_or(0)),
        across_m: shift.across_m,
        along_m: shift.along_m,
    };
    AlternativeTold {
        name: asked.name.clone(),
        machine: name,
        sprinklers_x_m: (0..sprinklers).map(sprinkler_x_m).collect(),
        outlets_y_m: (0..asked.outlets.count).map(|index| asked.outlets.place_m(index)).collect(),
        reach_m: asked.outlets.reach_m,
        travel_per_turn_m: travel,
        stops: stops_beside(&machine, &asked.outlets, sprinkler_spacing_m),
        rotation: asked.rotation.shifts().iter().map(shift).collect(),
        passes: plan.passes.iter().map(|pass| pass_told(plan, pass)).collect(),
    }
}

/// Steps to an outlet spacing in which a hand-move's places are listed.
const HAND_STEPS: i32 = 12;

/// The places that `evenfall stops` lists for a wheel; for a hand-move, places every twelfth of the
/// outlet spacing to a little beyond the reach.
fn stops_beside(machine: &Machine, outlets: &Outlets, spacing_m: f64) -> Vec<StopTold> {
    match machine {
        Machine::WheelLine(wheel) => {
            let told = |stop: &stops::Stop| StopTold {
                across_m: stop.shift.across_m,
                along_m: stop.shift.along_m,
                turns: Some(stop.turns),
                reachable: stop.standing == Standing::Reachable,
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
                StopTold {
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

fn pass_told(plan: &Plan, pass: &PassPlan) -> PassTold {
    let sets = pass.sets.iter().map(|set| SetTold {
        outlet: set.outlet,
        y_m: set.place_across_m,
        start_h: set.start_h,
        end_h: set.end_h,
        start: iso(plan, set.start_h),
        end: iso(plan, set.end_h),
    });
    PassTold {
        letter: pass.letter,
        across_m: pass.shift.across_m,
        along_m: pass.shift.along_m,
        sets: sets.collect(),
    }
}

/// Local date and time of an hour of the season.
pub(crate) fn iso(plan: &Plan, hour_h: f64) -> String {
    plan.date_time(hour_h).strftime("%Y-%m-%dT%H:%M").to_string()
}
