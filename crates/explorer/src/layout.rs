//! The picture of a scenario before any water falls: field, laterals, stops, schedule.
//!
//! A scenario with problems is laid out as far as it holds, way by way, so that the page can show
//! where a way that cannot stand as it was asked to could stand instead.

mod way;

use crate::app::App;
use crate::ask::{SearchOptions, Sent, display_units};
use crate::fail::{Fail, ProblemTold, told};
use crate::limits::WAYS_DRAFTED;
use axum::Json;
use axum::extract::State;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_core::season;
use evenfall_scenario::Resolved;
use serde::Serialize;
use serde_json::{Value, json};
use std::sync::Arc;
use utoipa::ToSchema;

/// The layout of a scenario, or why there is none.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct LayoutTold {
    ok: bool,
    /// Everything that is wrong; empty if `ok`.
    problems: Vec<ProblemTold>,
    /// The field; `null` if no way could be laid out.
    field: Option<FieldTold>,
    /// Units in which to show results: `us` or `si`.
    units: &'static str,
    /// Way by way; with problems, `null` for one that could not be laid out, and no passes for one
    /// whose rotation cannot be had.
    alternatives: Vec<Option<AlternativeTold>>,
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
    /// What a wheel does from outlet to outlet, as `evenfall stops` prints it; empty for a hand-move.
    wheel: Vec<FactTold>,
    /// Places beside an outlet, from behind to ahead.
    stops: Vec<StopTold>,
    /// One cycle of the rotation.
    rotation: Vec<ShiftTold>,
    passes: Vec<PassTold>,
}

/// One thing told of a wheel.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct FactTold {
    what: &'static str,
    value: String,
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
    /// Why it stands there: `shifted` with its pass, `held` at its outlet at an edge, or an `extra`
    /// set on the side that the shift opens.
    role: &'static str,
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
    request_body = SearchOptions,
    responses((status = 200, body = LayoutTold), (status = "4XX", body = crate::fail::Told))
)]
pub(crate) async fn layout(
    State(app): State<Arc<App>>,
    Sent(ask): Sent<SearchOptions>,
) -> Result<Json<LayoutTold>, Fail> {
    app.quickly(move |_, _| laid_out(&ask).map(Json)).await
}

fn laid_out(ask: &SearchOptions) -> Result<LayoutTold, Fail> {
    let resolved = match ask.resolve() {
        Ok(resolved) => resolved,
        Err(problems) => {
            let told = as_far_as_it_holds(ask);
            return Ok(LayoutTold { problems: self::told(&problems), ..told });
        }
    };
    let ways = ways(&resolved)?.into_iter().map(Some).collect();
    Ok(LayoutTold { ok: true, ..drawn(&resolved, ways) })
}

/// Ways in the field of a scenario; not yet said to be free of problems.
fn drawn(resolved: &Resolved, alternatives: Vec<Option<AlternativeTold>>) -> LayoutTold {
    let units = match resolved.units {
        evenfall_scenario::UnitSystem::Us => "us",
        evenfall_scenario::UnitSystem::Si => "si",
    };
    let field = &resolved.scenario.field;
    let grid = field.grid;
    let field = FieldTold {
        along_m: grid.length_along_m(),
        across_m: grid.width_across_m(),
        travel_bearing_deg: field.travel_bearing_deg,
        cell_m: grid.cell_m,
        boundary: field.boundary.as_ref().map_or_else(Vec::new, |b| b.rings().to_vec()),
    };
    LayoutTold { ok: false, problems: Vec::new(), field: Some(field), units, alternatives }
}

fn ways(resolved: &Resolved) -> Result<Vec<AlternativeTold>, Fail> {
    let scenario: &Scenario = &resolved.scenario;
    let plans: Vec<Plan> = season::plans(scenario)?;
    let units = display_units(resolved);
    let ways = scenario.alternatives.iter().zip(&plans);
    Ok(ways.map(|(asked, plan)| way::told(asked, plan, units)).collect())
}

/// Each way by itself; one whose rotation cannot be had, or does not fit the clock, is laid out
/// with its stops only.
fn as_far_as_it_holds(ask: &SearchOptions) -> LayoutTold {
    let none = LayoutTold {
        ok: false,
        problems: Vec::new(),
        field: None,
        units: "si",
        alternatives: Vec::new(),
    };
    let Some(list) = ask.scenario.get("alternatives").and_then(Value::as_array) else {
        return none;
    };
    let mut found = none;
    for given in list.iter().take(WAYS_DRAFTED) {
        let way = alone(ask, given);
        if let (None, Some((resolved, _))) = (&found.field, &way) {
            found = drawn(resolved, found.alternatives);
        }
        found.alternatives.push(way.map(|(_, way)| way));
    }
    found
}

/// One way as if there were no other.
fn alone(ask: &SearchOptions, given: &Value) -> Option<(Resolved, AlternativeTold)> {
    let of = |way: Value| {
        let mut scenario = ask.scenario.clone();
        scenario.as_object_mut()?.insert("alternatives".to_owned(), json!([way]));
        let resolved = ask.resolve_as(&scenario).ok()?;
        let told = ways(&resolved).ok()?.pop()?;
        Some((resolved, told))
    };
    of(given.clone()).or_else(|| {
        let mut bare = given.clone();
        // At its outlets every lateral can stand.
        bare.as_object_mut()?.insert("rotation".to_owned(), json!(["0 m"]));
        let (resolved, mut told) = of(bare)?;
        told.rotation.clear();
        told.passes.clear();
        Some((resolved, told))
    })
}

/// Local date and time of an hour of the season.
pub(crate) fn iso(plan: &Plan, hour_h: f64) -> String {
    plan.date_time(hour_h).strftime("%Y-%m-%dT%H:%M").to_string()
}
