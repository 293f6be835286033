//! Starting a run.

use super::found::{Found, Runs};
use super::last_seasons::LastSeasons;
use super::search::{self, SearchAim, Wish, narrowed};
use super::{season, worth};
use crate::handlers::request::{JsonBody, ScenarioRequest, coarsen, display_units};
use crate::jobs::run::{Kind, Order, needed_mb};
use crate::jobs::short::Short;
use crate::jobs::store::begin;
use crate::limits::SEASONS;
use crate::limits::fail::Fail;
use crate::memory;
use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use evenfall_view::units::Quantity;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;
use utoipa::ToSchema;

/// A run that the page asks for.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RunRequest {
    /// The JSON object of the scenario file.
    #[schema(value_type = Object)]
    scenario: Value,
    /// Texts of files that the scenario names.
    #[serde(default)]
    files: BTreeMap<String, String>,
    kind: Kind,
    /// How many times as wide the cells are to be, 1 to 16; the nearest that divides the
    /// sprinkler spacing is taken.
    #[serde(default = "one")]
    coarser: usize,
    /// Seasons in place of the scenario's (worth and search).
    seasons: Option<usize>,
    /// What candidates are ranked by, in place of the scenario's (search only).
    aim: Option<SearchAim>,
    /// Whether the trade's three wheels are compared in place of the scenario's (search only).
    #[serde(default)]
    wheel_sizes: bool,
    /// A run that this one takes the place of: canceled at once if under way, and dropped when
    /// this one is done.
    replaces: Option<String>,
}

fn one() -> usize {
    1
}

/// A run that has begun.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub(crate) struct RunStarted {
    /// Its number, for all other questions.
    run: String,
}

/// Widest cells that may be asked for, in the scenario's own.
const MOST_COARSER: usize = 16;

/// Starts a run. One that nobody follows or asks about for a minute is canceled.
#[utoipa::path(
    post,
    path = "/api/runs",
    request_body = RunRequest,
    responses((status = 201, body = RunStarted), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn start_run(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    State(last): State<Arc<LastSeasons>>,
    JsonBody(asked): JsonBody<RunRequest>,
) -> Result<(StatusCode, Json<RunStarted>), Fail> {
    let order = short.run(move |_| order(asked)).await?;
    let run = runs.add(order)?;
    let started = RunStarted { run: run.id.clone() };
    let cache = short.cache();
    begin(&runs, run, move |run| match run.order.kind {
        Kind::Season => Ok(Found::Season(Box::new(season::compute(&cache, &last, run)?))),
        Kind::Worth => Ok(Found::Worth(Box::new(worth::compute(&cache, run)?))),
        Kind::Search => Ok(Found::Search(Box::new(search::compute(run)?))),
    });
    Ok((StatusCode::CREATED, Json(started)))
}

fn order(asked: RunRequest) -> Result<Order, Fail> {
    let RunRequest { scenario, files, kind, coarser, seasons, aim, wheel_sizes, replaces } = asked;
    if !(1..=MOST_COARSER).contains(&coarser) {
        return Err(Fail::impossible(format!("`coarser` is 1 to {MOST_COARSER}.")));
    }
    let request = ScenarioRequest { scenario, files };
    let mut resolved = request.resolve().map_err(|problems| Fail::scenario(&problems))?;
    let seasons = match (kind, &resolved.worth) {
        (Kind::Season, _) => 1,
        (Kind::Worth, None) => {
            return Err(Fail::impossible(
                "The scenario has no crop, soil and climate, so there is no telling whether the \
                 alternatives pay.",
            ));
        }
        (Kind::Worth, Some((_, economics))) => seasons.unwrap_or(economics.seasons),
        (Kind::Search, _) => seasons.unwrap_or(resolved.search.seasons),
    };
    if kind == Kind::Search {
        resolved.search = narrowed(&resolved, &Wish { aim, seasons, wheel_sizes })?;
    }
    if kind != Kind::Season && !SEASONS.contains(&seasons) {
        let (least, most) = (SEASONS.start(), SEASONS.end());
        return Err(Fail::impossible(format!("`seasons` is {least} to {most}.")));
    }
    let fine_m = resolved.scenario.field.grid.cell_m;
    let taken = coarsen(&mut resolved.scenario, coarser);
    memory::check(&resolved.scenario, needed_mb(kind, &resolved.scenario))?;
    let units = display_units(&resolved);
    let length = |meters: f64| units.text(Quantity::Length, meters, 2);
    let note = match taken {
        1 if coarser == 1 => String::new(),
        1 => format!(
            "Cells of {}, the scenario's own: no larger ones divide the sprinkler spacing.",
            length(fine_m)
        ),
        _ => format!(
            "Cells of {}, larger than the scenario's {}: percentages can be off by a few points.",
            length(resolved.scenario.field.grid.cell_m),
            length(fine_m)
        ),
    };
    Ok(Order { kind, coarser: taken, note, resolved, text: request.text(), seasons, replaces })
}
