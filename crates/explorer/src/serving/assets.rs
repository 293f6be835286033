//! The page's files, embedded when the program is built.

use crate::handlers::request::PathName;
use crate::limits::fail::Fail;
use axum::body::Body;
use axum::http::header;
use axum::response::{IntoResponse, Response};

/// The built page: names below `assets/` and what is in them.
const FILES: [(&str, &[u8]); 5] = [
    ("index.html", include_bytes!("../../assets/index.html")),
    ("favicon.svg", include_bytes!("../../assets/favicon.svg")),
    ("THIRD-PARTY.txt", include_bytes!("../../assets/THIRD-PARTY.txt")),
    ("assets/app.css", include_bytes!("../../assets/assets/app.css")),
    ("assets/app.js", include_bytes!("../../assets/assets/app.js")),
];

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
    let found = FILES.iter().find(|(known, _)| *known == name);
    let (_, bytes) = found.ok_or_else(|| Fail::not_found("There is no such page."))?;
    Ok(([(header::CONTENT_TYPE, kind(name))], Body::from(*bytes)).into_response())
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

#[cfg(test)]
mod tests {
    use super::FILES;
    use std::collections::BTreeSet;
    use std::fs;
    use std::path::Path;

    #[test]
    fn closed_every_file_of_the_built_page_is_embedded() {
        let assets = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets");
        let mut built = BTreeSet::new();
        for below in ["", "assets/"] {
            for entry in fs::read_dir(assets.join(below)).unwrap() {
                let entry = entry.unwrap();
                if entry.file_type().unwrap().is_file() {
                    built.insert(format!("{below}{}", entry.file_name().to_str().unwrap()));
                }
            }
        }
        assert_eq!(built, FILES.iter().map(|(name, _)| (*name).to_owned()).collect());
    }
}
