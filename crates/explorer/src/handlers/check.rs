//! The small answers: health, demo, start, schema, check, colors.

use crate::farms::Farms;
use crate::handlers::request::{JsonBody, Query, ScenarioRequest, assumptions, inputs};
use crate::jobs::short::Short;
use crate::limits::fail::{Fail, Problem, problems_of};
use crate::memory::check_plans;
use axum::Json;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use evenfall_core::season;
use evenfall_figures::{Palette, clock_notices};
use evenfall_scenario::known_words;
use evenfall_view::{Assumption, Input, Reference};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

/// What the page starts from.
#[derive(Clone, Debug, Default)]
pub struct Start {
    /// Text of the scenario; the embedded demo where there is none.
    pub scenario: Option<String>,
    /// Files that the scenario names, by the name that it uses.
    pub files: BTreeMap<String, Vec<u8>>,
    /// What every entry means.
    pub reference: Reference,
    /// Who keeps farms; nobody where there is none.
    pub farms: Option<Arc<dyn Farms>>,
    /// The farm as which the scenario is kept, where it is.
    pub farm: Option<String>,
}

impl Start {
    /// Whether the page can show the scenario, sound or not: it is a JSON object.
    pub fn is_readable(&self) -> bool {
        type Object = serde_json::Map<String, serde_json::Value>;
        self.scenario.as_deref().is_none_or(|text| serde_json::from_str::<Object>(text).is_ok())
    }
}

/// That the server is there.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct Health {
    /// Name of the program, by which another one at the same port knows it.
    program: &'static str,
    /// Version of the program.
    version: &'static str,
}

/// The name by which the program is known.
pub const PROGRAM: &str = "evenfall explore";

/// That the server is there.
#[utoipa::path(get, path = "/api/health", responses((status = 200, body = Health)))]
pub(crate) async fn health() -> Json<Health> {
    Json(Health { program: PROGRAM, version: env!("CARGO_PKG_VERSION") })
}

fn json(text: String) -> Response {
    ([(header::CONTENT_TYPE, "application/json")], text).into_response()
}

/// The embedded demo scenario.
#[utoipa::path(get, path = "/api/demo", responses((status = 200, body = Object)))]
pub(crate) async fn demo() -> Response {
    json(evenfall_scenario::demo().to_owned())
}

/// The JSON Schema of scenarios: keys, ranges, explanations.
#[utoipa::path(get, path = "/api/schema", responses((status = 200, body = Object)))]
pub(crate) async fn schema() -> Response {
    json(evenfall_scenario::schema())
}

/// What the page starts from.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct StartView {
    /// The scenario; `null` if the text on the command line is no JSON object.
    #[schema(value_type = Object)]
    scenario: Option<Value>,
    /// Whether it was named on the command line; if not, it is the demo.
    from_command_line: bool,
    /// Names of the files that came with it.
    files: Vec<String>,
    /// The farm as which it is kept, to be opened at `/api/farms`; `null` where it is not.
    farm: Option<String>,
    /// What can hurt somebody at this work: what, and what to do.
    cautions: Vec<Caution>,
}

/// What can hurt somebody.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct Caution {
    what: &'static str,
    /// What to do.
    words: &'static str,
}

/// The scenario named on the command line, or the demo.
#[utoipa::path(get, path = "/api/start", responses((status = 200, body = StartView)))]
pub(crate) async fn start(State(start): State<Arc<Start>>) -> Json<StartView> {
    let given = start.scenario.as_deref();
    let caution = |&(what, words): &(&'static str, &'static str)| Caution { what, words };
    let text = given.unwrap_or_else(|| evenfall_scenario::demo());
    Json(StartView {
        scenario: serde_json::from_str(text).ok(),
        from_command_line: given.is_some(),
        files: start.files.keys().cloned().collect(),
        farm: start.farm.clone(),
        cautions: evenfall_figures::CAUTIONS.iter().map(caution).collect(),
    })
}

/// Which file.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub(crate) struct FileQuery {
    /// Its name, as the scenario writes it.
    name: String,
}

/// A file that came with the scenario of the command line: the page sends it with its questions,
/// keeps it and packs it like one that was opened there.
#[utoipa::path(
    get,
    path = "/api/start/file",
    params(FileQuery),
    responses(
        (status = 200, content_type = "application/octet-stream", body = Vec<u8>),
        (status = 404, body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn start_file(
    State(start): State<Arc<Start>>,
    Query(asked): Query<FileQuery>,
) -> Result<Response, Fail> {
    // Looked up among what was read at the start; no name ever reaches a disk.
    let found = start.files.get(&asked.name).cloned();
    let bytes = found.ok_or_else(|| Fail::not_found("No such file came with the scenario."))?;
    Ok(([(header::CONTENT_TYPE, "application/octet-stream")], bytes).into_response())
}

/// What a check found.
#[derive(Debug, Default, Serialize, ToSchema)]
pub(crate) struct Check {
    /// Whether the scenario can be run.
    ok: bool,
    /// SHA-256 of the scenario and its files, as the command prints it; `null` with problems.
    digest: Option<String>,
    /// Everything that is wrong.
    problems: Vec<Problem>,
    /// Every starting value.
    assumptions: Vec<Assumption>,
    /// The inputs that matter, and whose they are.
    matters: Vec<Input>,
    /// How many of them are known, in a sentence.
    matters_words: String,
    /// Warnings.
    warnings: Vec<String>,
    /// Whether crop, soil and climate are there, so that yield and money can be calculated.
    has_worth: bool,
}

/// Checks a scenario: all problems at once, or its starting values.
#[utoipa::path(
    post,
    path = "/api/check",
    request_body = ScenarioRequest,
    responses((status = 200, body = Check), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn check(
    State(short): State<Short>,
    JsonBody(request): JsonBody<ScenarioRequest>,
) -> Result<Json<Check>, Fail> {
    short.run(move |_| Ok(Json(checked(&request)))).await
}

fn checked(request: &ScenarioRequest) -> Check {
    let resolved = match request.resolve() {
        Ok(resolved) => resolved,
        Err(problems) => return Check { problems: problems_of(&problems), ..Check::default() },
    };
    let assumptions = assumptions(&resolved);
    let (matters, matters_words) = (inputs(&resolved), known_words(&resolved.inputs));
    let mut warnings = resolved.warnings;
    let plans = match check_plans(&resolved.scenario) {
        Ok(()) => season::plans(&resolved.scenario).map_err(|error| error.to_string()),
        Err(refused) => Err(refused.refusal.problem),
    };
    match plans {
        Ok(plans) => warnings.extend(clock_notices(&resolved.scenario, &plans)),
        Err(words) => warnings.push(words),
    }
    Check {
        ok: true,
        digest: Some(resolved.digest),
        problems: Vec::new(),
        assumptions,
        matters,
        matters_words,
        warnings,
        has_worth: resolved.worth.is_some(),
    }
}

/// Which colors.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub(crate) struct PaletteQuery {
    /// `depth` or `deviation`.
    name: String,
}

/// 256 colors (red, green, blue) from low to high; the last is for cells without a value.
#[utoipa::path(
    get,
    path = "/api/palette",
    params(PaletteQuery),
    responses((status = 200, body = Vec<[u8; 3]>), (status = 404, body = crate::limits::fail::Refusal))
)]
pub(crate) async fn palette(Query(asked): Query<PaletteQuery>) -> Result<Json<Vec<[u8; 3]>>, Fail> {
    let palettes = BTreeMap::from([("depth", Palette::Depth), ("deviation", Palette::Deviation)]);
    let palette = palettes
        .get(asked.name.as_str())
        .ok_or_else(|| Fail::not_found("There is no such palette.").hint("depth or deviation"))?;
    Ok(Json(palette.colors()))
}
