//! What the page sends: a scenario, the files it names, and how finely it is to be computed.

use crate::limits::fail::Fail;
use crate::limits::{BODY_BYTES, Patience};
use axum::extract::rejection::{JsonRejection, QueryRejection};
use axum::extract::{FromRequest, FromRequestParts};
use axum::http::StatusCode;
use evenfall_core::boundary::Boundary;
use evenfall_core::grid::Grid;
use evenfall_core::model::Scenario;
use evenfall_figures::{ClockFace, Language};
use evenfall_scenario::{Problems, Resolved, SheetLanguage, options, resolve};
use evenfall_view::{Assumption, Input, UnitSystem};
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// A scenario, with the files that it names.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ScenarioRequest {
    /// The JSON object of the scenario file.
    #[schema(value_type = Object)]
    pub(crate) scenario: Value,
    /// Texts of files that the scenario names (weather records, a boundary), by that name.
    #[serde(default)]
    pub(crate) files: BTreeMap<String, String>,
}

impl ScenarioRequest {
    /// The scenario's text, as the page saves it; numbers and order of keys as they were sent.
    pub(crate) fn text(&self) -> String {
        text_of(&self.scenario)
    }

    /// Checks the scenario. Files come from the request alone: two scenarios may give the same name
    /// to different files, so nothing that was read for another one may stand in.
    pub(crate) fn resolve(&self) -> Result<Resolved, Problems> {
        self.resolve_as(&self.scenario)
    }

    /// Checks another scenario with the same files.
    pub(crate) fn resolve_as(&self, scenario: &Value) -> Result<Resolved, Problems> {
        let load = |name: &str| {
            let sent = self.files.get(name).map(|text| text.clone().into_bytes());
            sent.ok_or_else(|| {
                "the page cannot read the disk; open the file on the page, or start the explorer \
                 with the scenario that names it"
                    .to_owned()
            })
        };
        resolve(&text_of(scenario), &load)
    }
}

/// A scenario's text as it is saved.
pub(crate) fn text_of(scenario: &Value) -> String {
    format!("{scenario:#}\n")
}

/// The starting values that the scenario was given, as results show them.
pub(crate) fn assumptions(resolved: &Resolved) -> Vec<Assumption> {
    let assumption = |a: &evenfall_scenario::Assumption| Assumption {
        what: a.what.clone(),
        value: a.value.clone(),
        why: a.why.clone(),
    };
    resolved.assumptions.iter().map(assumption).collect()
}

/// The inputs that matter, as results show them.
pub(crate) fn inputs(resolved: &Resolved) -> Vec<Input> {
    let shown = |input: &evenfall_scenario::Input| Input {
        what: input.what.clone(),
        label: input.label,
        value: input.value.clone(),
        whose: input.whose.word(),
        is_known: input.whose.is_known(),
    };
    resolved.inputs.iter().map(shown).collect()
}

/// The units of the scenario as the figures name them.
pub(crate) fn display_units(resolved: &Resolved) -> UnitSystem {
    match resolved.units {
        evenfall_scenario::UnitSystem::Us => UnitSystem::Us,
        evenfall_scenario::UnitSystem::Si => UnitSystem::Si,
    }
}

/// A language of the sheet as the page names it, or the scenario's.
pub(crate) fn sheet_language(asked: Option<&str>, own: SheetLanguage) -> Result<Language, Fail> {
    let read = |text| options::sheet_language(text).map_err(Fail::impossible);
    Ok(match asked.map(read).transpose()?.unwrap_or(own) {
        SheetLanguage::English => Language::English,
        SheetLanguage::Spanish => Language::Spanish,
    })
}

/// How the clock is written, as the page names it, or as the scenario has it.
pub(crate) fn clock_face(
    asked: Option<&str>,
    own: Option<evenfall_scenario::ClockFace>,
) -> Result<Option<ClockFace>, Fail> {
    let read = |text| options::clock_face(text).map_err(Fail::impossible);
    Ok(asked.map(read).transpose()?.or(own).map(|face| match face {
        evenfall_scenario::ClockFace::TwelveHours => ClockFace::TwelveHours,
        evenfall_scenario::ClockFace::TwentyFourHours => ClockFace::TwentyFourHours,
    }))
}

/// Makes cells `wanted` times as wide, or as near to it as still divides every sprinkler spacing;
/// gives the factor that was taken.
pub(crate) fn coarsen(scenario: &mut Scenario, wanted: usize) -> usize {
    let grid = scenario.field.grid;
    let spacings = scenario.alternatives.iter().map(|alternative| {
        (alternative.lateral.sprinkler_spacing_m / grid.cell_m).round().max(1.0) as usize
    });
    let spacings: Vec<usize> = spacings.collect();
    let most = spacings.iter().copied().min().unwrap_or(1);
    let divides = |factor: &usize| spacings.iter().all(|cells| cells.is_multiple_of(*factor));
    let factor = (1..=most).filter(divides).min_by_key(|factor| factor.abs_diff(wanted));
    let factor = factor.unwrap_or(1);
    if factor == 1 {
        return 1;
    }
    let (along_m, across_m) = (grid.length_along_m(), grid.width_across_m());
    let coarse = Grid::over(along_m, across_m, grid.cell_m * factor as f64);
    if let Some(boundary) = &scenario.field.boundary {
        // A strip of land may hold no center of such wide cells: then its own are kept.
        let Some(same) = Boundary::new(boundary.rings().to_vec(), &coarse) else { return 1 };
        scenario.field.boundary = Some(same);
    }
    scenario.field.grid = coarse;
    factor
}

/// A JSON body; what is wrong with it is told like any other problem.
#[derive(Debug)]
pub(crate) struct JsonBody<T>(pub(crate) T);

impl<S: Send + Sync, T: serde::de::DeserializeOwned> FromRequest<S> for JsonBody<T> {
    type Rejection = Fail;

    async fn from_request(
        request: axum::extract::Request,
        state: &S,
    ) -> Result<Self, Self::Rejection> {
        // Whoever sends a body word by word holds a connection that others need.
        let Patience { body: longest, .. } =
            request.extensions().get().copied().unwrap_or_default();
        let body = axum::Json::from_request(request, state);
        match tokio::time::timeout(longest, body).await {
            Ok(Ok(axum::Json(value))) => Ok(Self(value)),
            Ok(Err(rejected)) => Err(refused(&rejected)),
            Err(_) => {
                let problem = format!("The body took more than {} s.", longest.as_secs());
                Err(Fail::new(StatusCode::REQUEST_TIMEOUT, problem))
            }
        }
    }
}

fn refused(rejected: &JsonRejection) -> Fail {
    let status = rejected.status();
    match status {
        StatusCode::PAYLOAD_TOO_LARGE => {
            Fail::new(status, format!("The request is over {} MB.", BODY_BYTES >> 20))
        }
        StatusCode::UNSUPPORTED_MEDIA_TYPE => Fail::new(status, "The body is not marked as JSON.")
            .hint("content-type: application/json"),
        _ => Fail::new(status, rejected.body_text()),
    }
}

/// The query of an address; what is wrong with it is told like any other problem.
#[derive(Debug)]
pub(crate) struct Query<T>(pub(crate) T);

impl<S: Send + Sync, T: serde::de::DeserializeOwned> FromRequestParts<S> for Query<T> {
    type Rejection = Fail;

    async fn from_request_parts(
        parts: &mut axum::http::request::Parts,
        state: &S,
    ) -> Result<Self, Self::Rejection> {
        match axum::extract::Query::from_request_parts(parts, state).await {
            Ok(axum::extract::Query(value)) => Ok(Self(value)),
            Err(rejected) => Err(query_refused(&rejected)),
        }
    }
}

fn query_refused(rejected: &QueryRejection) -> Fail {
    Fail::new(StatusCode::BAD_REQUEST, rejected.body_text())
}

/// Two names in an address, as [`PathName`].
#[derive(Debug)]
pub(crate) struct PathNames(pub(crate) (String, String));

impl<S: Send + Sync> FromRequestParts<S> for PathNames {
    type Rejection = Fail;

    async fn from_request_parts(
        parts: &mut axum::http::request::Parts,
        state: &S,
    ) -> Result<Self, Self::Rejection> {
        match axum::extract::Path::from_request_parts(parts, state).await {
            Ok(axum::extract::Path(names)) => Ok(Self(names)),
            Err(rejected) => Err(Fail::new(StatusCode::BAD_REQUEST, rejected.body_text())),
        }
    }
}

/// A name in an address; one that is no text is told like any other problem.
#[derive(Debug)]
pub(crate) struct PathName(pub(crate) String);

impl<S: Send + Sync> FromRequestParts<S> for PathName {
    type Rejection = Fail;

    async fn from_request_parts(
        parts: &mut axum::http::request::Parts,
        state: &S,
    ) -> Result<Self, Self::Rejection> {
        match axum::extract::Path::from_request_parts(parts, state).await {
            Ok(axum::extract::Path(name)) => Ok(Self(name)),
            Err(rejected) => Err(Fail::new(StatusCode::BAD_REQUEST, rejected.body_text())),
        }
    }
}
