//! Starting a run.

use super::Kind;
use super::search::{AimAsked, narrowed};
use super::store::{Wish, compute, watch_over};
use crate::app::App;
use crate::ask::{SearchOptions, Sent, coarsen};
use crate::fail::Fail;
use crate::limits::SEASONS;
use crate::memory;
use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use evenfall_figures::units::Quantity;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;
use utoipa::ToSchema;

/// A run that the page asks for.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RunAsked {
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
    aim: Option<AimAsked>,
    /// A run that this one takes the place of: canceled at once if under way, else dropped when
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
    request_body = RunAsked,
    responses((status = 201, body = RunStarted), (status = "4XX", body = crate::fail::Told))
)]
pub(crate) async fn start_run(
    State(app): State<Arc<App>>,
    Sent(asked): Sent<RunAsked>,
) -> Result<(StatusCode, Json<RunStarted>), Fail> {
    let wish = app.quickly(move |_, _| wish(asked)).await?;
    let run = app.runs.add(wish)?;
    let started = RunStarted { run: run.id.clone() };
    tokio::spawn(watch_over(Arc::clone(&app), Arc::clone(&run)));
    tokio::spawn(compute(Arc::clone(&app), run));
    Ok((StatusCode::CREATED, Json(started)))
}

fn wish(asked: RunAsked) -> Result<Wish, Fail> {
    let RunAsked { scenario, files, kind, coarser, seasons, aim, replaces } = asked;
    if !(1..=MOST_COARSER).contains(&coarser) {
        return Err(Fail::impossible(format!("`coarser` is 1 to {MOST_COARSER}.")));
    }
    let ask = SearchOptions { scenario, files };
    let mut resolved = ask.resolve().map_err(|problems| Fail::scenario(&problems))?;
    let seasons = match (kind, &resolved.worth) {
        (Kind::Season, _) => 1,
        (Kind::Worth, None) => {
            return Err(Fail::impossible(
                "The scenario says nothing of crop, soil and climate, so it cannot be told what the \
                 alternatives are worth.",
            ));
        }
        (Kind::Worth, Some((_, economics))) => seasons.unwrap_or(economics.seasons),
        (Kind::Search, _) => seasons.unwrap_or(resolved.search.seasons),
    };
    if kind == Kind::Search {
        resolved.search = narrowed(&resolved.search, aim, Some(seasons));
    }
    if kind != Kind::Season && !SEASONS.contains(&seasons) {
        let (least, most) = (SEASONS.start(), SEASONS.end());
        return Err(Fail::impossible(format!("`seasons` is {least} to {most}.")));
    }
    let fine_m = resolved.scenario.field.grid.cell_m;
    let taken = coarsen(&mut resolved.scenario, coarser);
    memory::check(&resolved.scenario, super::needed_mb(kind, &resolved.scenario))?;
    let units = crate::ask::display_units(&resolved);
    let length = |meters: f64| units.text(Quantity::Length, meters, 2);
    let note = match taken {
        1 if coarser == 1 => String::new(),
        1 => format!(
            "Cells of {}, the scenario's own: no wider ones divide the sprinkler spacing.",
            length(fine_m)
        ),
        _ => format!(
            "Cells of {}: coarser than the scenario's {}, so percentages can differ by points.",
            length(resolved.scenario.field.grid.cell_m),
            length(fine_m)
        ),
    };
    Ok(Wish { kind, coarser: taken, note, resolved, text: ask.text(), seasons, replaces })
}
