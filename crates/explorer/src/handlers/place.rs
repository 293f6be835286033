//! One place of the field: what every pass laid there, and the soil under it day by day.

use super::found::{Run, Runs, found};
use crate::handlers::request::{PathName, Query};
use crate::jobs::short::{Short, Work};
use crate::limits::fail::Fail;
use axum::Json;
use axum::extract::State;
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::root_zone::ground::Ground;
use evenfall_core::season::zoom::{SetDepth, at_place};
use evenfall_core::season::{self, RunControl};
use evenfall_core::seasons::soil_course;
use evenfall_core::worth::Agronomy;
use jiff::ToSpan as _;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

/// Where.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub(crate) struct PlaceQuery {
    /// Along the pipe, m.
    x_m: f64,
    /// Across, m.
    y_m: f64,
}

/// The history of a place; depths are those of the run's own cell that holds it.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct PlaceView {
    /// Whether the place lies beyond the boundary of the field.
    beyond: bool,
    alternatives: Vec<PlaceHistory>,
}

/// The history of a place under one alternative.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct PlaceHistory {
    name: String,
    /// Depth of each pass, mm.
    pass_mm: Vec<f64>,
    /// Depth of all passes so far, mm.
    cumulative_mm: Vec<f64>,
    /// Water missing to field capacity in the root zone, at the end of each day of the crop, mm;
    /// `null` where the scenario has no crop, soil and climate.
    depletion_mm: Option<Vec<f64>>,
    /// What the root zone can hold for the crop, mm.
    taw_mm: Option<Vec<f64>>,
    /// What the crop takes of it without stress (readily available water), mm.
    raw_mm: Option<Vec<f64>>,
    /// The days.
    days: Option<Vec<String>>,
}

/// The history of a place, under every alternative.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/place",
    params(("run" = String, Path, description = "number of the run"), PlaceQuery),
    responses((status = 200, body = PlaceView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn place(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
    Query(asked): Query<PlaceQuery>,
) -> Result<Json<PlaceView>, Fail> {
    let run = runs.get(&id)?;
    short.run(move |work| history(work, &run, (asked.x_m, asked.y_m)).map(Json)).await
}

fn history(work: &Work, run: &Run, place: (f64, f64)) -> Result<PlaceView, Fail> {
    found(run)?;
    let resolved = &run.order.resolved;
    let scenario: &Scenario = &resolved.scenario;
    let grid = scenario.field.grid;
    let is_inside = (0.0..grid.length_along_m()).contains(&place.0)
        && (0.0..grid.width_across_m()).contains(&place.1);
    if !is_inside {
        return Err(Fail::not_found("That place is not on the field."));
    }
    let go_on = |at| work.go_on(at);
    let sets = at_place(scenario, place, &RunControl::new(&go_on).with_landing_maps(&work.cache))?;
    let plans = season::plans(scenario)?;
    let ground = match (&resolved.worth, plans.first()) {
        (Some((agronomy, _)), Some(plan)) => {
            Some(ground_of(agronomy, scenario, plan.midnight.date())?)
        }
        _ => None,
    };
    let of = |((alternative, plan), sets): ((&Alternative, _), &Vec<SetDepth>)| {
        let plan: &evenfall_core::schedule::Plan = plan;
        history_of(&alternative.name, plan.passes.len(), sets, ground.as_ref())
    };
    let pairs = scenario.alternatives.iter().zip(&plans).zip(&sets);
    let cell = |at_m: f64| (at_m / grid.cell_m) as usize;
    let boundary = scenario.field.boundary.as_ref();
    let beyond = boundary.is_some_and(|b| !b.inside()[(cell(place.1), cell(place.0))]);
    Ok(PlaceView { beyond, alternatives: pairs.map(of).collect() })
}

/// The ground, and the date of its first day.
fn ground_of(
    agronomy: &Agronomy,
    scenario: &Scenario,
    first_set: Date,
) -> Result<(Ground, Date), Fail> {
    let ground = agronomy
        .ground(first_set, 1, Some(scenario.drawn_weather()))
        .map_err(|error| Fail::impossible(error.to_string()))?;
    Ok((ground, agronomy.planted))
}

fn history_of(
    name: &str,
    passes: usize,
    sets: &[SetDepth],
    ground: Option<&(Ground, Date)>,
) -> PlaceHistory {
    let of_pass = |pass: usize| sets.iter().filter(move |set| set.pass == pass);
    let pass_mm: Vec<f64> =
        (0..passes).map(|pass| of_pass(pass).map(|set| set.depth_mm).sum()).collect();
    let cumulative = pass_mm.iter().scan(0.0, |sum, depth| {
        *sum += depth;
        Some(*sum)
    });
    let waterings: Vec<(f64, f64)> = sets.iter().map(|set| (set.start_h, set.depth_mm)).collect();
    let course = ground.map(|(ground, _)| soil_course(ground, 0, &waterings));
    let days = |of: fn(&evenfall_core::seasons::SoilDay) -> f64| {
        course.as_ref().map(|days| days.iter().map(of).collect())
    };
    let dates = ground.zip(course.as_ref()).map(|((_, planted), days)| {
        let date = |day: usize| planted.saturating_add((day as i64).days()).to_string();
        (0..days.len()).map(date).collect()
    });
    PlaceHistory {
        name: name.to_owned(),
        cumulative_mm: cumulative.collect(),
        pass_mm,
        depletion_mm: days(|day| day.depletion_mm),
        taw_mm: days(|day| day.taw_mm),
        raw_mm: days(|day| day.raw_mm),
        days: dates,
    }
}
