//! The move sheet: its page, its files, and what a log changes.

use super::helpers::{Answer, finished, get, post, server, small};
use axum::Router;
use axum::http::header;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::{Cursor, Read as _};
use zip::ZipArchive;

/// The files of an archive, by name.
fn files(answer: &Answer) -> BTreeMap<String, String> {
    assert_eq!(answer.headers[header::CONTENT_TYPE], "application/zip");
    let mut archive = ZipArchive::new(Cursor::new(&answer.body)).unwrap();
    let names: Vec<String> = archive.file_names().map(str::to_owned).collect();
    let mut text = |name: &String| {
        let mut bytes = Vec::new();
        archive.by_name(name).unwrap().read_to_end(&mut bytes).unwrap();
        String::from_utf8_lossy(&bytes).into_owned()
    };
    names.iter().map(|name| (name.clone(), text(name))).collect()
}

async fn run(server: &Router) -> String {
    finished(server, &json!({ "scenario": small(), "kind": "season" })).await.0
}

#[tokio::test]
async fn the_packed_sheet_holds_what_the_command_writes() {
    let server = server();
    let run = run(&server).await;
    let sheet = |query: &str| format!("/api/runs/{run}/sheet.zip?alternative=1{query}");
    let packed = get(&server, &sheet("")).await.expect(200);
    let found = files(&packed);
    let names: Vec<&str> = found.keys().map(String::as_str).collect();
    let kept = ["log.json", "pictures/clearance.png", "pictures/clearance.svg", "scenario.json"];
    assert_eq!(names, [&kept[..], &["sheet.csv", "sheet.html", "sheet.ics"]].concat());
    assert_eq!(packed.body, get(&server, &sheet("")).await.body, "the same bytes twice");
    // The page by itself is the page in the archive, and may carry styles but no scripts.
    let page = get(&server, &format!("/api/runs/{run}/sheet.html?alternative=1")).await.expect(200);
    assert_eq!(page.text(), found["sheet.html"]);
    let policy = page.headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
    assert!(policy.contains("default-src 'none'") && !policy.contains("script-src"), "{policy}");
    // The scenario is written as the page saves it.
    assert_eq!(found["scenario.json"], format!("{:#}\n", small()));
    let log: Value = serde_json::from_str(&found["log.json"]).unwrap();
    assert_eq!(log["alternative"], small()["alternatives"][1]["name"]);
    assert!(!found["sheet.ics"].contains("VALARM"));
    let reminded = files(&get(&server, &sheet("&alarm_min=30")).await.expect(200));
    let events = reminded["sheet.ics"].matches("BEGIN:VEVENT").count();
    assert!(events > 0 && reminded["sheet.ics"].matches("TRIGGER:-PT30M").count() == events);
}

#[tokio::test]
async fn sheets_that_cannot_be_had_are_refused_in_words() {
    let server = server();
    let run = run(&server).await;
    for page in ["sheet.html", "sheet.zip"] {
        let at = |query: &str| format!("/api/runs/{run}/{page}?{query}");
        get(&server, &at("alternative=3")).await.refused(404, "no such alternative");
        get(&server, &at("alternative=-1")).await.refused(400, "alternative");
        get(&server, &at("alternative=0&alarm_min=1441")).await.refused(422, "0 to 1440");
        get(&server, &format!("/api/runs/none-1/{page}?alternative=0"))
            .await
            .refused(404, "no such run");
    }
}

#[tokio::test]
async fn a_log_is_kept_and_the_rest_planned_anew() {
    let server = server();
    let run = run(&server).await;
    let first =
        files(&get(&server, &format!("/api/runs/{run}/sheet.zip?alternative=1")).await.expect(200));
    let mut log: Value = serde_json::from_str(&first["log.json"]).unwrap();
    log["now"] = json!("2027-05-12T06:00");
    log["events"] = json!([{ "pass": 1, "outlet": 2, "what": "missed" }]);
    let ask = |log: String| json!({ "scenario": small(), "log": log });
    let anew = files(&post(&server, "/api/sheet", &ask(log.to_string())).await.expect(200));
    assert_eq!(anew["log.json"], log.to_string(), "the log is handed back as it came");
    assert!(first["sheet.html"] != anew["sheet.html"] && anew["sheet.csv"].contains("missed"));

    // All problems at once, each with its place.
    log["now"] = json!("yesterday");
    log["events"] = json!([{ "pass": 1, "outlet": 2, "what": "lost" }]);
    let told = post(&server, "/api/sheet", &ask(log.to_string())).await.expect(422).json();
    assert_eq!(told["problem"], "The log has problems.");
    let places: Vec<&str> = told["problems"]
        .as_array()
        .unwrap()
        .iter()
        .map(|problem| problem["pointer"].as_str().unwrap())
        .collect();
    assert_eq!(places, ["/now", "/events/0/what"]);
    post(&server, "/api/sheet", &ask("no log".to_owned())).await.refused(422, "log has problems");
    let mut bad = ask(first["log.json"].clone());
    bad["scenario"]["field"]["cell"] = json!("2 psi");
    post(&server, "/api/sheet", &bad).await.refused(422, "scenario has problems");
    let long = ask("x".repeat(crate::limits::BODY_BYTES));
    post(&server, "/api/sheet", &long).await.refused(413, "over 8 MB");
}
