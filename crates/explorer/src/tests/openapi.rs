//! The document kept in `shared/` is the one that the types make.

use super::helpers::{get, server};

const KEPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../shared/explorer.openapi.json");

#[test]
fn regress_the_kept_openapi_document_is_current() {
    let made = crate::openapi_json();
    if std::env::var_os("EVENFALL_KEEP_OPENAPI").is_some() {
        std::fs::write(KEPT, &made).unwrap();
    }
    let kept = std::fs::read_to_string(KEPT).unwrap();
    assert!(
        kept == made,
        "shared/explorer.openapi.json is out of date; write it anew with `cargo xtask openapi`"
    );
}

#[tokio::test]
async fn the_document_that_is_served_holds_every_address() {
    let served = get(&server(), "/api/openapi.json").await.expect(200).json();
    assert_eq!(served, serde_json::from_str::<serde_json::Value>(&crate::openapi_json()).unwrap());
    let paths = served["paths"].as_object().unwrap();
    for (path, method) in [
        ("/api/health", "get"),
        ("/api/demo", "get"),
        ("/api/start", "get"),
        ("/api/start/file", "get"),
        ("/api/schema", "get"),
        ("/api/palette", "get"),
        ("/api/boundary", "post"),
        ("/api/check", "post"),
        ("/api/layout", "post"),
        ("/api/preview", "post"),
        ("/api/runs", "post"),
        ("/api/runs/{run}", "get"),
        ("/api/runs/{run}", "delete"),
        ("/api/runs/{run}/events", "get"),
        ("/api/runs/{run}/grid", "get"),
        ("/api/runs/{run}/sets", "get"),
        ("/api/runs/{run}/place", "get"),
        ("/api/runs/{run}/closer", "get"),
        ("/api/runs/{run}/report.html", "get"),
        ("/api/runs/{run}/figures.zip", "get"),
        ("/api/runs/{run}/sheet.html", "get"),
        ("/api/runs/{run}/sheet.zip", "get"),
        ("/api/sheet", "post"),
        ("/api/sheets", "post"),
        ("/api/sheets/{sheet}/sheet.html", "get"),
        ("/api/given", "post"),
        ("/api/farms", "get"),
        ("/api/farms", "post"),
        ("/api/farms/{farm}", "get"),
        ("/api/farms/{farm}/name", "post"),
        ("/api/farms/{farm}/copy", "post"),
        ("/api/farms/{farm}/away", "post"),
        ("/api/farms/{farm}/back", "post"),
        ("/api/farms/{farm}/versions", "get"),
        ("/api/farms/{farm}/versions/{version}", "post"),
    ] {
        assert!(paths.get(path).is_some_and(|known| known.get(method).is_some()), "{path}");
    }
    assert_eq!(paths.len(), 35);
}

#[tokio::test]
async fn parameters_of_the_document_stand_where_the_server_reads_them() {
    let served = get(&server(), "/api/openapi.json").await.expect(200).json();
    let mut counted = 0;
    for (path, methods) in served["paths"].as_object().unwrap() {
        for method in methods.as_object().unwrap().values() {
            for parameter in method["parameters"].as_array().map_or(&[][..], Vec::as_slice) {
                let is_in_path =
                    path.contains(&format!("{{{}}}", parameter["name"].as_str().unwrap()));
                let place = if is_in_path { "path" } else { "query" };
                assert_eq!(parameter["in"], place, "{path}: {parameter}");
                counted += 1;
            }
        }
    }
    assert!(counted > 20, "{counted}");
    let grid = served["paths"]["/api/runs/{run}/grid"]["get"]["parameters"].as_array().unwrap();
    let pass = grid.iter().find(|parameter| parameter["name"] == "pass").unwrap();
    assert_ne!(pass["required"], true, "the pass may be left out");
}
