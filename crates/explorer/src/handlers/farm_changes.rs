//! What is done to a farm that is kept: another name, a copy, put away and back, an earlier version.

use super::farms::{FarmKeptView, FarmOpenedView, FarmView, Keeper, opened};
use super::request::{JsonBody, PathName, PathNames};
use crate::farms::FarmVersion;
use crate::jobs::short::Short;
use crate::limits::fail::Fail;
use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A name for a farm.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct FarmNameRequest {
    /// The name, as its owner writes it.
    name: String,
}

/// That something is to be done; nothing is said of it.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct FarmDoRequest {}

/// A version to go back to.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct FarmVersionView {
    /// The word by which addresses call it.
    version: String,
    /// When it was kept, milliseconds since 1970-01-01 UTC.
    kept_ms: u64,
    /// Whether it is what the farm holds now.
    is_present: bool,
}

impl From<FarmVersion> for FarmVersionView {
    fn from(FarmVersion { version, kept_ms, is_present }: FarmVersion) -> Self {
        Self { version, kept_ms, is_present }
    }
}

/// Gives a farm another name.
#[utoipa::path(
    post,
    path = "/api/farms/{farm}/name",
    params(("farm" = String, Path, description = "word of the farm")),
    request_body = FarmNameRequest,
    responses((status = 200, body = FarmKeptView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn rename_farm(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
    PathName(farm): PathName,
    JsonBody(asked): JsonBody<FarmNameRequest>,
) -> Result<Json<FarmKeptView>, Fail> {
    let kept = keeper.ask(&short, move |farms| farms.rename(&farm, &asked.name));
    Ok(Json(kept.await?.into()))
}

/// Keeps what a farm holds under another name too.
#[utoipa::path(
    post,
    path = "/api/farms/{farm}/copy",
    params(("farm" = String, Path, description = "word of the farm")),
    request_body = FarmNameRequest,
    responses((status = 200, body = FarmKeptView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn copy_farm(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
    PathName(farm): PathName,
    JsonBody(asked): JsonBody<FarmNameRequest>,
) -> Result<Json<FarmKeptView>, Fail> {
    let kept = keeper.ask(&short, move |farms| farms.copy(&farm, &asked.name));
    Ok(Json(kept.await?.into()))
}

/// Puts a farm away: out of the list, with all its versions.
#[utoipa::path(
    post,
    path = "/api/farms/{farm}/away",
    params(("farm" = String, Path, description = "word of the farm")),
    request_body = FarmDoRequest,
    responses((status = 204), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn put_farm_away(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
    PathName(farm): PathName,
    JsonBody(FarmDoRequest {}): JsonBody<FarmDoRequest>,
) -> Result<StatusCode, Fail> {
    keeper.ask(&short, move |farms| farms.put_away(&farm)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Takes a farm that was put away back into the list.
#[utoipa::path(
    post,
    path = "/api/farms/{farm}/back",
    params(("farm" = String, Path, description = "word of the farm")),
    request_body = FarmDoRequest,
    responses((status = 200, body = FarmView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn take_farm_back(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
    PathName(farm): PathName,
    JsonBody(FarmDoRequest {}): JsonBody<FarmDoRequest>,
) -> Result<Json<FarmView>, Fail> {
    let entry = keeper.ask(&short, move |farms| farms.take_back(&farm)).await?;
    Ok(Json(entry.into()))
}

/// Versions of a farm, the latest first.
#[utoipa::path(
    get,
    path = "/api/farms/{farm}/versions",
    params(("farm" = String, Path, description = "word of the farm")),
    responses(
        (status = 200, body = Vec<FarmVersionView>),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn farm_versions(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
    PathName(farm): PathName,
) -> Result<Json<Vec<FarmVersionView>>, Fail> {
    let found = keeper.ask(&short, move |farms| farms.versions(&farm)).await?;
    Ok(Json(found.into_iter().map(FarmVersionView::from).collect()))
}

/// Puts a version in place of what a farm holds, which stays as a version.
#[utoipa::path(
    post,
    path = "/api/farms/{farm}/versions/{version}",
    params(
        ("farm" = String, Path, description = "word of the farm"),
        ("version" = String, Path, description = "word of the version"),
    ),
    request_body = FarmDoRequest,
    responses((status = 200, body = FarmOpenedView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn go_back_farm(
    State(keeper): State<Keeper>,
    State(short): State<Short>,
    PathNames((farm, version)): PathNames,
    JsonBody(FarmDoRequest {}): JsonBody<FarmDoRequest>,
) -> Result<Json<FarmOpenedView>, Fail> {
    let found = keeper.ask(&short, move |farms| farms.go_back(&farm, &version).and_then(opened));
    Ok(Json(found.await?))
}
