//! Bodies of answers that are not JSON: pages to print, archives, numbers.

use crate::limits::owner::REPORT_POLICY;
use axum::http::header;
use axum::response::{IntoResponse as _, Response};

/// A page to print: it brings its own style and pictures along, and no script at all.
pub(crate) fn page(html: String) -> Response {
    let heads = [
        (header::CONTENT_TYPE, "text/html; charset=utf-8"),
        (header::CONTENT_SECURITY_POLICY, REPORT_POLICY),
    ];
    (heads, html).into_response()
}

/// A ZIP archive, saved under `name`.
pub(crate) fn archive(name: &str, zip: Vec<u8>) -> Response {
    let heads = [
        (header::CONTENT_TYPE, "application/zip".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}.zip\"")),
    ];
    (heads, zip).into_response()
}

/// A grid of numbers, with its rows and columns in headers.
pub(crate) fn grid(columns: usize, rows: usize, numbers: Vec<u8>) -> Response {
    let heads = [
        (header::CONTENT_TYPE.as_str(), "application/octet-stream".to_owned()),
        ("x-columns", columns.to_string()),
        ("x-rows", rows.to_string()),
    ];
    (heads, numbers).into_response()
}
