//! The picture of a scenario before any water falls: field, laterals, stops, schedule.
//!
//! A scenario with problems is laid out as far as it holds, alternative by alternative, so that the
//! page can show where one that cannot stand as asked could stand instead.

mod alternative;
mod drawing;

use self::drawing::{AlternativeView, FieldView, LayoutView};
use crate::handlers::request::{JsonBody, ScenarioRequest, display_units};
use crate::jobs::short::Short;
use crate::limits::ALTERNATIVES_DRAFTED;
use crate::limits::fail::{self, Fail};
use crate::memory::check_plans;
use axum::Json;
use axum::extract::State;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_core::season;
use evenfall_scenario::Resolved;
use evenfall_view::UnitSystem;
use serde_json::{Value, json};

/// Lays a scenario out: where laterals can stand, and when each set runs.
#[utoipa::path(
    post,
    path = "/api/layout",
    request_body = ScenarioRequest,
    responses((status = 200, body = LayoutView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn layout(
    State(short): State<Short>,
    JsonBody(request): JsonBody<ScenarioRequest>,
) -> Result<Json<LayoutView>, Fail> {
    short.run(move |_| laid_out(&request).map(Json)).await
}

fn laid_out(request: &ScenarioRequest) -> Result<LayoutView, Fail> {
    let resolved = match request.resolve() {
        Ok(resolved) => resolved,
        Err(problems) => {
            let told = as_far_as_it_holds(request);
            return Ok(LayoutView { problems: fail::problems_of(&problems), ..told });
        }
    };
    let alternatives = alternatives(&resolved)?.into_iter().map(Some).collect();
    Ok(LayoutView { ok: true, ..drawn(&resolved, alternatives) })
}

/// Alternatives on the field of a scenario; not yet said to be free of problems.
fn drawn(resolved: &Resolved, alternatives: Vec<Option<AlternativeView>>) -> LayoutView {
    let units = display_units(resolved);
    let field = &resolved.scenario.field;
    let grid = field.grid;
    let field = FieldView {
        along_m: grid.length_along_m(),
        across_m: grid.width_across_m(),
        travel_bearing_deg: field.travel_bearing_deg,
        cell_m: grid.cell_m,
        area_m2: field.area().m2(),
        boundary: field.boundary.as_ref().map_or_else(Vec::new, |b| b.rings().to_vec()),
    };
    LayoutView { ok: false, problems: Vec::new(), field: Some(field), units, alternatives }
}

fn alternatives(resolved: &Resolved) -> Result<Vec<AlternativeView>, Fail> {
    let scenario: &Scenario = &resolved.scenario;
    check_plans(scenario)?;
    let plans: Vec<Plan> = season::plans(scenario)?;
    let units = display_units(resolved);
    let pairs = scenario.alternatives.iter().zip(&plans);
    Ok(pairs.map(|(asked, plan)| alternative::view(asked, plan, units)).collect())
}

/// Each alternative by itself; one whose rotation cannot be had, or does not fit the clock, is laid out
/// with its stops only.
fn as_far_as_it_holds(request: &ScenarioRequest) -> LayoutView {
    let none = LayoutView {
        ok: false,
        problems: Vec::new(),
        field: None,
        units: UnitSystem::Si,
        alternatives: Vec::new(),
    };
    let Some(list) = request.scenario.get("alternatives").and_then(Value::as_array) else {
        return none;
    };
    let mut found = none;
    for given in list.iter().take(ALTERNATIVES_DRAFTED) {
        let alternative = alone(request, given);
        if let (None, Some((resolved, _))) = (&found.field, &alternative) {
            found = drawn(resolved, found.alternatives);
        }
        found.alternatives.push(alternative.map(|(_, view)| view));
    }
    found
}

/// One alternative as if there were no other.
fn alone(request: &ScenarioRequest, given: &Value) -> Option<(Resolved, AlternativeView)> {
    let of = |alternative: Value| {
        let mut scenario = request.scenario.clone();
        scenario.as_object_mut()?.insert("alternatives".to_owned(), json!([alternative]));
        let resolved = request.resolve_as(&scenario).ok()?;
        let told = alternatives(&resolved).ok()?.pop()?;
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
