//! A season at once, on coarse cells: for the picture that follows a dragged stop.

use crate::handlers::display::{Display, bytes, own_depths};
use crate::handlers::request::{JsonBody, ScenarioRequest, coarsen, display_units};
use crate::jobs::short::{Short, Work};
use crate::limits::fail::Fail;
use crate::memory;
use axum::Json;
use axum::extract::State;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use evenfall_core::model::Scenario;
use evenfall_core::season::{self, Outcome, RunControl};
use evenfall_core::statistics::Numbers;
use evenfall_figures::{map_range_mm, season_headline};
use evenfall_view::{Regions, UnitSystem};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// A season wanted at once.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct PreviewRequest {
    /// The JSON object of the scenario file.
    #[schema(value_type = Object)]
    scenario: Value,
    /// Texts of files that the scenario names.
    #[serde(default)]
    files: BTreeMap<String, String>,
    /// How many times as wide the cells are to be, 1 to 16.
    #[serde(default = "four")]
    coarser: usize,
}

fn four() -> usize {
    4
}

/// A season at once.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct Preview {
    columns: usize,
    rows: usize,
    cell_m: f64,
    /// How many times as wide as the scenario's the cells are.
    coarser: usize,
    digest: String,
    /// Ends of the colors for the depths, mm.
    #[schema(min_items = 2, max_items = 2)]
    depth_scale_mm: [f64; 2],
    /// The lines that the command would print on such cells.
    printed: String,
    alternatives: Vec<PreviewSeason>,
}

/// One alternative's season at once.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct PreviewSeason {
    name: String,
    /// Figures at the end of the season.
    #[serde(rename = "final")]
    last: Regions,
    /// Depth at the end of the season, mm: little-endian 32-bit numbers in Base64, row 0 first.
    depth_mm: String,
}

/// A season at once: figures and depth at its end, on coarse cells.
#[utoipa::path(
    post,
    path = "/api/preview",
    request_body = PreviewRequest,
    responses((status = 200, body = Preview), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn preview(
    State(short): State<Short>,
    JsonBody(asked): JsonBody<PreviewRequest>,
) -> Result<Json<Preview>, Fail> {
    short.run(move |work| previewed(work, asked).map(Json)).await
}

fn previewed(work: &Work, asked: PreviewRequest) -> Result<Preview, Fail> {
    let PreviewRequest { scenario, files, coarser } = asked;
    if !(1..=16).contains(&coarser) {
        return Err(Fail::impossible("`coarser` is 1 to 16."));
    }
    let request = ScenarioRequest { scenario, files };
    let mut resolved = request.resolve().map_err(|problems| Fail::scenario(&problems))?;
    let taken = coarsen(&mut resolved.scenario, coarser);
    let scenario = &resolved.scenario;
    memory::check(scenario, memory::season_mb(scenario))?;
    let _share = work.memory_for(scenario)?;
    let go_on = |at| work.go_on(at);
    let control = RunControl::new(&go_on).with_landing_maps(&work.cache).with_end_only();
    let outcome = season::run(scenario, control)?;
    Ok(view(scenario, &outcome, display_units(&resolved), taken, resolved.digest.clone()))
}

fn view(
    scenario: &Scenario,
    outcome: &Outcome,
    units: UnitSystem,
    coarser: usize,
    digest: String,
) -> Preview {
    let display = Display::of(&outcome.grid, outcome.alternatives.len());
    let whole = scenario.field.whole();
    let depths: Vec<Numbers<'_>> =
        outcome.alternatives.iter().flat_map(|found| own_depths(&whole, found)).collect();
    let pairs = scenario.alternatives.iter().zip(&outcome.alternatives);
    let alternatives = pairs.map(|(asked, found)| PreviewSeason {
        name: asked.name.clone(),
        last: Regions::new(found.season_figures(), units),
        depth_mm: STANDARD.encode(bytes(
            &display.shrink(found.season_depth_mm(), scenario.field.boundary.as_ref()),
        )),
    });
    Preview {
        columns: display.columns,
        rows: display.rows,
        cell_m: display.cell_m,
        coarser,
        digest,
        depth_scale_mm: map_range_mm(&depths, units),
        printed: season_headline(scenario, outcome),
        alternatives: alternatives.collect(),
    }
}
