//! The list of all addresses under `/api`, and the `OpenAPI` document that follows from it.

pub(crate) mod app;

use crate::handlers::search::SearchPartial;
use crate::handlers::worth::WorthPartial;
use crate::handlers::{
    boundary, check, closer, farm_changes, farms, given, grids, layout, place, preview, report,
    runs, sheet, sheets, start,
};
use crate::jobs::run::Steps;
use app::App;
use axum::Json;
use utoipa::OpenApi;
use utoipa::openapi::schema::Schema;
use utoipa::openapi::{OpenApi as Document, RefOr};
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;

#[derive(OpenApi)]
#[openapi(
    info(
        title = "Evenfall's explorer",
        description = "What the explorer's page asks of its server, on loopback. Lengths are in m, \
                       depths in mm, times in local standard time; texts are what the command \
                       prints."
    ),
    // What events carry, beside the answers.
    components(schemas(Steps, WorthPartial, SearchPartial))
)]
struct About;

/// All answers that can be awaited; events are apart, for they have no limit of time.
pub(crate) fn answers() -> OpenApiRouter<App> {
    OpenApiRouter::with_openapi(About::openapi())
        .routes(routes!(check::health))
        .routes(routes!(check::demo))
        .routes(routes!(check::start))
        .routes(routes!(check::start_file))
        .routes(routes!(check::schema))
        .routes(routes!(check::palette))
        .routes(routes!(check::check))
        .routes(routes!(boundary::boundary))
        .routes(routes!(layout::layout))
        .routes(routes!(preview::preview))
        .routes(routes!(start::start_run))
        .routes(routes!(runs::run, runs::forget))
        .routes(routes!(grids::grid))
        .routes(routes!(grids::sets))
        .routes(routes!(place::place))
        .routes(routes!(closer::closer))
        .routes(routes!(report::report_of_run))
        .routes(routes!(report::grower_of_run))
        .routes(routes!(report::client_of_run))
        .routes(routes!(report::report_files_of_run))
        .routes(routes!(sheet::sheet_of_run))
        .routes(routes!(sheet::sheet_files_of_run))
        .routes(routes!(sheet::sheet_files_asked))
        .routes(routes!(sheets::make_sheet))
        .routes(routes!(sheets::open_sheet))
        .routes(routes!(given::give))
        .routes(routes!(farms::list_farms, farms::keep_farm))
        .routes(routes!(farms::open_farm))
        .routes(routes!(farm_changes::rename_farm))
        .routes(routes!(farm_changes::copy_farm))
        .routes(routes!(farm_changes::put_farm_away))
        .routes(routes!(farm_changes::take_farm_back))
        .routes(routes!(farm_changes::farm_versions))
        .routes(routes!(farm_changes::go_back_farm))
}

/// Streams that last as long as a run.
pub(crate) fn streams() -> OpenApiRouter<App> {
    OpenApiRouter::new().routes(routes!(runs::events))
}

/// The whole document.
fn document() -> Document {
    let mut document = answers().merge(streams()).into_openapi();
    for (name, schema) in document.components.iter_mut().flat_map(|all| &mut all.schemas) {
        // What the server sends is always there, `null` where it has nothing to say.
        if let RefOr::T(Schema::Object(object)) = schema
            && !name.ends_with("Request")
        {
            object.required = object.properties.keys().cloned().collect();
        }
    }
    document
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
