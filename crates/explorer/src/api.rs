//! The list of all addresses under `/api`, and the `OpenAPI` document that follows from it.

use crate::app::App;
use crate::{check, layout, preview, report, runs, sheet};
use axum::Json;
use std::sync::Arc;
use utoipa::OpenApi;
use utoipa::openapi::OpenApi as Document;
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;

#[derive(OpenApi)]
#[openapi(info(
    title = "Evenfall's explorer",
    description = "What the explorer's page asks of its server, on loopback. Lengths in m, depths \
                   in mm, times local standard; fields named `…_text` are what the command prints."
))]
struct About;

/// All answers that can be awaited; events are apart, for they have no limit of time.
pub(crate) fn answers() -> OpenApiRouter<Arc<App>> {
    OpenApiRouter::with_openapi(About::openapi())
        .routes(routes!(check::health))
        .routes(routes!(check::demo))
        .routes(routes!(check::start))
        .routes(routes!(check::schema))
        .routes(routes!(check::palette))
        .routes(routes!(check::check))
        .routes(routes!(layout::layout))
        .routes(routes!(preview::preview))
        .routes(routes!(runs::start_run))
        .routes(routes!(runs::run, runs::forget))
        .routes(routes!(runs::grid))
        .routes(routes!(runs::sets))
        .routes(routes!(runs::place))
        .routes(routes!(runs::closer))
        .routes(routes!(report::page))
        .routes(routes!(report::archive))
        .routes(routes!(sheet::page))
        .routes(routes!(sheet::archive))
        .routes(routes!(sheet::replanned))
}

/// Streams that last as long as a run.
pub(crate) fn streams() -> OpenApiRouter<Arc<App>> {
    OpenApiRouter::new().routes(routes!(runs::events))
}

/// The whole document.
fn document() -> Document {
    answers().merge(streams()).into_openapi()
}

/// The `OpenAPI` document of the interface, as indented JSON with a line break at its end.
pub fn openapi_json() -> String {
    // The document is made of plain names and texts; it can always be written.
    document().to_pretty_json().unwrap_or_default() + "\n"
}

/// The `OpenAPI` document.
pub(crate) async fn openapi() -> Json<Document> {
    Json(document())
}
