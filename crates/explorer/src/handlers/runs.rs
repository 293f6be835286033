//! A run: what it is and found, following it, forgetting it.

use super::found::{Found, Run, Runs};
use super::request::PathName;
use super::search::SearchFound;
use super::season::SeasonSummary;
use super::worth::WorthSummary;
use crate::jobs::follow::follow;
use crate::jobs::run::{Kind, State as RunState};
use crate::limits::fail::Fail;
use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::stream::Stream;
use serde::Serialize;
use std::convert::Infallible;
use std::sync::Arc;
use utoipa::ToSchema;

/// A run.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct RunView {
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
    Season(Box<SeasonSummary>),
    Worth(Box<WorthSummary>),
    Search(Box<SearchFound>),
}

/// A run and what it found.
#[utoipa::path(
    get,
    path = "/api/runs/{run}",
    params(("run" = String, Path, description = "number of the run")),
    responses((status = 200, body = RunView), (status = 404, body = crate::limits::fail::Refusal))
)]
pub(crate) async fn run(
    State(runs): State<Arc<Runs>>,
    PathName(id): PathName,
) -> Result<Json<RunView>, Fail> {
    Ok(Json(view(&*runs.get(&id)?)))
}

fn view(run: &Run) -> RunView {
    let summary = run.found().map(|found| match found {
        Found::Season(found) => Summary::Season(Box::new(found.summary.clone())),
        Found::Worth(found) => Summary::Worth(Box::new(found.summary.clone())),
        Found::Search(found) => Summary::Search(found.clone()),
    });
    RunView {
        state: run.state(),
        kind: run.order.kind,
        coarser: run.order.coarser,
        note: run.order.note.clone(),
        digest: run.order.resolved.digest.clone(),
        problem: run.latest().problem,
        summary,
    }
}

/// Cancels a run, if it is under way, and forgets it.
#[utoipa::path(
    delete,
    path = "/api/runs/{run}",
    params(("run" = String, Path, description = "number of the run")),
    responses((status = 204), (status = 404, body = crate::limits::fail::Refusal))
)]
pub(crate) async fn forget(
    State(runs): State<Arc<Runs>>,
    PathName(id): PathName,
) -> Result<StatusCode, Fail> {
    runs.forget(&id)?;
    Ok(StatusCode::NO_CONTENT)
}

/// Events of a run: `progress` {done, total, what}, `partial` (worth: what the seasons so far say),
/// and at the end `done` {}, `failed` {problem} or `canceled` {}.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/events",
    params(("run" = String, Path, description = "number of the run")),
    responses(
        (status = 200, content_type = "text/event-stream", body = String),
        (status = 404, body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn events(
    State(runs): State<Arc<Runs>>,
    PathName(id): PathName,
) -> Result<Sse<impl Stream<Item = Result<Event, Infallible>>>, Fail> {
    let latest = runs.get(&id)?.follow();
    Ok(Sse::new(follow(latest)).keep_alive(KeepAlive::default()))
}
