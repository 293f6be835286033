//! A shapefile for the page, which keeps texts: it comes back as `GeoJSON`.

use crate::handlers::request::JsonBody;
use crate::jobs::short::Short;
use crate::limits::fail::Fail;
use axum::Json;
use axum::extract::State;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use evenfall_scenario::boundary_text;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A shapefile.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BoundaryRequest {
    /// Content of the `.shp`, in base64.
    shape: String,
    /// Text of the `.prj` beside it, if it was opened too.
    #[serde(default)]
    projection: Option<String>,
}

/// The same as text.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct BoundaryView {
    /// Text of a `GeoJSON` file.
    text: String,
    /// What the file says of its coordinates; empty if it says nothing.
    system: String,
    /// Whether that tells what its numbers are.
    is_known: bool,
    /// How many polygons it holds.
    polygons: usize,
}

/// Reads a shapefile.
#[utoipa::path(
    post,
    path = "/api/boundary",
    request_body = BoundaryRequest,
    responses((status = 200, body = BoundaryView), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn boundary(
    State(short): State<Short>,
    JsonBody(request): JsonBody<BoundaryRequest>,
) -> Result<Json<BoundaryView>, Fail> {
    short.run(move |_| read(&request).map(Json)).await
}

fn read(request: &BoundaryRequest) -> Result<BoundaryView, Fail> {
    let bytes = STANDARD
        .decode(&request.shape)
        .map_err(|_| Fail::impossible("The shapefile is not in base64."))?;
    let prj = request.projection.as_deref().map(str::as_bytes);
    let found = boundary_text(&bytes, prj).map_err(|problems| {
        Fail::impossible(format!("The shapefile cannot be taken: {}", problems.join(" ")))
    })?;
    let evenfall_scenario::BoundaryText { text, system, is_known, polygons } = found;
    Ok(BoundaryView { text, system, is_known, polygons })
}
