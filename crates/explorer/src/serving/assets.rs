//! The page's files, embedded when the program is built.

use crate::handlers::request::PathName;
use crate::limits::fail::Fail;
use axum::body::Body;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;

#[derive(RustEmbed)]
#[folder = "assets/"]
struct Assets;

/// The page.
pub(crate) async fn page() -> Result<Response, Fail> {
    file("index.html")
}

/// A file beside the page.
pub(crate) async fn beside(PathName(name): PathName) -> Result<Response, Fail> {
    file(&name)
}

/// A file that the page loads.
pub(crate) async fn asset(PathName(name): PathName) -> Result<Response, Fail> {
    file(&format!("assets/{name}"))
}

/// Looked up in the list of embedded names; no name ever reaches a disk.
fn file(name: &str) -> Result<Response, Fail> {
    let found = Assets::get(name).ok_or_else(|| Fail::not_found("There is no such page."))?;
    Ok(([(header::CONTENT_TYPE, kind(name))], Body::from(found.data)).into_response())
}

fn kind(name: &str) -> &'static str {
    match name.rsplit_once('.').map(|(_, ending)| ending) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("woff2") => "font/woff2",
        Some("png") => "image/png",
        _ => "text/plain; charset=utf-8",
    }
}
