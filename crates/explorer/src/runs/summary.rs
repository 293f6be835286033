//! What a run is and found, and forgetting it.

use super::search::SearchFound;
use super::season::SeasonSummary;
use super::worth::WorthSummary;
use super::{Found, Kind, Run, State as RunState};
use crate::app::App;
use crate::ask::Named;
use crate::fail::Fail;
use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use serde::Serialize;
use std::sync::Arc;
use utoipa::ToSchema;

/// A run.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct RunTold {
    state: RunState,
    kind: Kind,
    /// How many times as wide as the scenario's its cells are.
    coarser: usize,
    /// What the reader should know of its cells; empty for the scenario's own.
    note: String,
    /// SHA-256 of the scenario and its files.
    digest: String,
    /// Why it failed.
    problem: Option<String>,
    /// What it found; `null` until it is done.
    summary: Option<Summary>,
}

/// What a run found, by its kind.
#[derive(Debug, Serialize, ToSchema)]
#[serde(untagged)]
pub(crate) enum Summary {
    Season(SeasonSummary),
    Worth(WorthSummary),
    Search(SearchFound),
}

/// A run and what it found.
#[utoipa::path(
    get,
    path = "/api/runs/{run}",
    params(("run" = String, Path, description = "number of the run")),
    responses((status = 200, body = RunTold), (status = 404, body = crate::fail::Told))
)]
pub(crate) async fn run(
    State(app): State<Arc<App>>,
    Named(id): Named,
) -> Result<Json<RunTold>, Fail> {
    Ok(Json(told(&*app.runs.get(&id)?)))
}

fn told(run: &Run) -> RunTold {
    let summary = run.found().map(|found| match found {
        Found::Season(found) => Summary::Season(found.summary.clone()),
        Found::Worth(found) => Summary::Worth(found.summary.clone()),
        Found::Search(found) => Summary::Search((**found).clone()),
    });
    RunTold {
        state: run.state(),
        kind: run.kind,
        coarser: run.coarser,
        note: run.note.clone(),
        digest: run.resolved.digest.clone(),
        problem: run.latest().problem,
        summary,
    }
}

/// Cancels a run, if it is under way, and forgets it.
#[utoipa::path(
    delete,
    path = "/api/runs/{run}",
    params(("run" = String, Path, description = "number of the run")),
    responses((status = 204), (status = 404, body = crate::fail::Told))
)]
pub(crate) async fn forget(
    State(app): State<Arc<App>>,
    Named(id): Named,
) -> Result<StatusCode, Fail> {
    app.runs.forget(&id)?;
    Ok(StatusCode::NO_CONTENT)
}
