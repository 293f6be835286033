//! Farms that are kept by name: listed, opened, kept. Who keeps them is told at the start; where
//! nobody does, every question is answered so.

use super::request::{JsonBody, PathName, text_of};
use crate::farms::{FarmEntry, FarmFail, FarmKept, FarmOpened, FarmToKeep, Farms};
use crate::jobs::short::Short;
use crate::limits::fail::Fail;
use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;
use utoipa::ToSchema;

/// Who keeps farms, where anybody does.
#[derive(Clone, Debug, Default)]
pub(crate) struct Keeper(pub(crate) Option<Arc<dyn Farms>>);

impl Keeper {
    /// Asks who keeps farms, beside the threads that answer requests.
    pub(crate) async fn ask<T: Send + 'static>(
        self,
        short: &Short,
        question: impl FnOnce(&dyn Farms) -> Result<T, FarmFail> + Send + 'static,
    ) -> Result<T, Fail> {
        let Some(farms) = self.0 else {
            return Err(Fail::not_found("This explorer keeps no farms.")
                .hint("Save a file instead; “Open files” takes it."));
        };
        short.run(move |_| question(farms.as_ref()).map_err(Fail::from)).await
    }
}

impl From<FarmFail> for Fail {
    fn from(fail: FarmFail) -> Self {
        match fail {
            FarmFail::Unknown(problem) => Self::not_found(problem),
            FarmFail::Elsewhere(problem) => Self::new(StatusCode::CONFLICT, problem).hint(
                "Nothing was written. Keep yours as a copy under another name, or open what was \
                 kept.",
            ),
            FarmFail::Refused(problem, hint) => Self::impossible(problem).hint(hint),
            FarmFail::Disk(problem) => Self::new(StatusCode::INSUFFICIENT_STORAGE, problem).hint(
                "What was there before is still there. Save a file meanwhile, so that nothing \
                     is lost.",
            ),
        }
    }
}

/// A farm in a list.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct FarmView {
    /// The word by which addresses call it.
    farm: String,
    /// The name that its owner gave it.
    name: String,
    /// When it was kept last, milliseconds since 1970-01-01 UTC; `null` where that is not known.
    kept_ms: Option<u64>,
}

impl From<FarmEntry> for FarmView {
    fn from(FarmEntry { farm, name, kept_ms }: FarmEntry) -> Self {
        Self { farm, name, kept_ms }
    }
}

/// What is kept.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct FarmsView {
    /// The folder, as its owner finds it.
    folder: String,
    /// Farms in use, the latest first.
    farms: Vec<FarmView>,
    /// Farms put away, the latest first.
    put_away: Vec<FarmView>,
    /// The file that the program was started with; `null` if it was started with none.
    this_file: Option<FarmView>,
    /// How many more there are than are listed.
    more: usize,
}

/// What was kept, as it is now.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct FarmKeptView {
    /// The word by which addresses call it.
    farm: String,
    /// The name that its owner gave it.
    name: String,
    /// When it was kept last, milliseconds since 1970-01-01 UTC; `null` where that is not known.
    kept_ms: Option<u64>,
    /// Digest of the scenario and its files, to be sent along when it is kept again.
    digest: String,
    /// Files that the scenario names and that are not kept with it.
    missing: Vec<String>,
}

impl From<FarmKept> for FarmKeptView {
    fn from(FarmKept { entry, digest, missing }: FarmKept) -> Self {
        let FarmEntry { farm, name, kept_ms } = entry;
        Self { farm, name, kept_ms, digest, missing }
    }
}

/// A farm as it is opened.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct FarmOpenedView {
    /// What is told of it.
    kept: FarmKeptView,
    /// The JSON object of its scenario file.
    #[schema(value_type = Object)]
    scenario: Value,
    /// Texts of the files that it names, by that name.
    files: BTreeMap<String, String>,
}

/// What is opened, for the page; a scenario that is no JSON object cannot be shown there.
pub(crate) fn opened(found: FarmOpened) -> Result<FarmOpenedView, FarmFail> {
    let FarmOpened { kept, scenario, files } = found;
    let scenario: Value = serde_json::from_str(&scenario).unwrap_or_default();
    if !scenario.is_object() {
        return Err(FarmFail::Refused(
            format!("`scenario.json` of “{}” is not a JSON object.", kept.entry.name),
            "Mend it with a text editor, or go back to an earlier version.".to_owned(),
        ));
    }
    Ok(FarmOpenedView { kept: kept.into(), scenario, files })
}

/// A farm to keep.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct FarmRequest {
    /// The farm that it is; a new one where none is named.
    farm: Option<String>,
    /// Name of a new farm.
    #[serde(default)]
    name: String,
    /// The JSON object of the scenario file.
    #[schema(value_type = Object)]
    scenario: Value,
    /// Texts of files that the scenario names.
    #[serde(default)]
    files: BTreeMap<String, String>,
    /// Digest of what it was made from; needed where the farm is there already.
    based_on: Option<String>,
}

/// The farms that are kept.
#[utoipa::path(
    get,
    path = "/api/farms",
    responses((status = 200, body = FarmsView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn list_farms(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
) -> Result<Json<FarmsView>, Fail> {
    let found = keeper.ask(&short, |farms| farms.list()).await?;
    let views = |entries: Vec<FarmEntry>| entries.into_iter().map(FarmView::from).collect();
    Ok(Json(FarmsView {
        folder: found.folder,
        farms: views(found.farms),
        put_away: views(found.put_away),
        this_file: found.this_file.map(FarmView::from),
        more: found.more,
    }))
}

/// Keeps a farm, anew or again: all of it, or what was there stays.
#[utoipa::path(
    post,
    path = "/api/farms",
    request_body = FarmRequest,
    responses((status = 200, body = FarmKeptView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn keep_farm(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
    JsonBody(asked): JsonBody<FarmRequest>,
) -> Result<Json<FarmKeptView>, Fail> {
    if !asked.scenario.is_object() {
        return Err(Fail::impossible("`scenario` is not a JSON object."));
    }
    let wanted = FarmToKeep {
        farm: asked.farm,
        name: asked.name,
        scenario: text_of(&asked.scenario),
        files: asked.files,
        based_on: asked.based_on,
    };
    let kept = keeper.ask(&short, move |farms| farms.keep(&wanted)).await?;
    Ok(Json(kept.into()))
}

/// A farm as it is kept now.
#[utoipa::path(
    get,
    path = "/api/farms/{farm}",
    params(("farm" = String, Path, description = "word of the farm")),
    responses((status = 200, body = FarmOpenedView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn open_farm(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
    PathName(farm): PathName,
) -> Result<Json<FarmOpenedView>, Fail> {
    let found = keeper.ask(&short, move |farms| farms.open(&farm).and_then(opened));
    Ok(Json(found.await?))
}
