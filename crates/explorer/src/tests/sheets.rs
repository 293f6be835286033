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
    let body = |log: String| json!({ "scenario": small(), "log": log });
    let packed = post(&server, "/api/sheet", &body(log.to_string())).await.expect(200);
    let anew = files(&packed);
    assert_eq!(anew["log.json"], log.to_string(), "the log is handed back as it came");
    assert!(first["sheet.html"] != anew["sheet.html"] && anew["sheet.csv"].contains("missed"));

    // Its page can be opened at an address of its own, and says what it warns of.
    let made = post(&server, "/api/sheets", &body(log.to_string())).await.expect(201).json();
    assert_eq!(made["name"], "Two stops");
    let warnings = made["warnings"].as_array().unwrap();
    assert!(!warnings.is_empty(), "{made}");
    let page = get(&server, &address(&made)).await.expect(200);
    assert_eq!(page.text(), anew["sheet.html"]);
    let policy = page.headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
    assert!(policy.contains("default-src 'none'") && !policy.contains("script-src"), "{policy}");
    for warning in warnings {
        assert!(page.text().contains(warning.as_str().unwrap()), "{warning}");
    }
    // The field names no zone, which is said to whoever hands the sheet out.
    let notes = made["notes"].as_array().unwrap();
    assert_eq!(notes.len(), 1, "{made}");
    assert!(notes[0].as_str().unwrap().starts_with("times are standard time"), "{made}");
}

fn address(made: &Value) -> String {
    format!("/api/sheets/{}/sheet.html", made["sheet"].as_str().unwrap())
}

#[tokio::test]
async fn all_problems_of_a_log_are_told_with_their_places() {
    let server = server();
    let body = |log: String| json!({ "scenario": small(), "log": log });
    let log = json!({
        "evenfall_log": 1,
        "scenario": small()["title"],
        "alternative": "Two stops",
        "now": "2027-05-13T06:00",
        "events": [
            { "what": "done", "pass": 1, "outlet": 77 },
            { "what": "breakdown", "from": "2027-05-11T06:00", "to": "2027-05-11T05:00" },
            { "what": "lost" },
        ],
    });
    let text = serde_json::to_string_pretty(&log).unwrap();
    for address in ["/api/sheet", "/api/sheets"] {
        let told = post(&server, address, &body(text.clone())).await.expect(422).json();
        assert_eq!(told["problem"], "The log has problems.");
        let problems = told["problems"].as_array().unwrap();
        for (pointer, words) in [
            ("/events/0", "there is no outlet 77"),
            ("/events/1", "backwards"),
            ("/events/2/what", "Kind of event is \"lost\""),
        ] {
            let found = problems.iter().find(|problem| problem["pointer"] == pointer);
            let found = found.unwrap_or_else(|| panic!("{pointer}: {told}"));
            assert!(found["problem"].as_str().unwrap().contains(words), "{found}");
            let line = text.lines().nth(found["line"].as_u64().unwrap() as usize - 1).unwrap();
            assert!(line.contains('{') || line.contains("lost"), "{line}");
        }
        assert_eq!(problems.len(), 3);
    }
    // Times that are none, no log at all, a log too long by its events, by its bytes, or too deep.
    let told = |log: String| {
        let server = server.clone();
        async move { post(&server, "/api/sheet", &body(log)).await }
    };
    let mut late = log.clone();
    late["now"] = json!("yesterday");
    assert!(told(late.to_string()).await.expect(422).text().contains("/now"));
    told("no log".to_owned()).await.refused(422, "log has problems");
    told("[".repeat(100_000)).await.refused(422, "log has problems");
    let mut long = log.clone();
    long["events"] = Value::from(vec![json!({}); 20_001]);
    assert!(told(long.to_string()).await.expect(422).text().contains("at most 20000 events"));
    told("x".repeat(crate::limits::BODY_BYTES)).await.refused(413, "over 8 MB");
    let mut bad = body(text);
    bad["scenario"]["field"]["cell"] = json!("2 psi");
    post(&server, "/api/sheet", &bad).await.refused(422, "scenario has problems");
}

#[tokio::test]
async fn a_sheet_needs_no_run_but_must_know_its_alternative() {
    let server = server();
    let run = run(&server).await;
    let asked = |more: Value| {
        let mut asked = json!({ "scenario": small() });
        asked.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        asked
    };
    let packed =
        post(&server, "/api/sheet", &asked(json!({ "alternative": 1, "alarm_min": 30 }))).await;
    let of_run =
        get(&server, &format!("/api/runs/{run}/sheet.zip?alternative=1&alarm_min=30")).await;
    assert_eq!(packed.expect(200).body, of_run.expect(200).body);
    let log = json!({
        "evenfall_log": 1,
        "scenario": small()["title"],
        "alternative": "Two stops",
        "now": "2027-05-13T06:00",
        "events": [],
    })
    .to_string();
    for (more, status, words) in [
        (json!({}), 422, "`alternative`, 0 to 2"),
        (json!({ "alternative": 3 }), 404, "no such alternative"),
        (json!({ "alternative": -1 }), 422, "alternative"),
        (json!({ "alternative": 0, "log": log }), 422, "of the alternative \"Two stops\""),
        (json!({ "alternative": 0, "alarm_min": 1441 }), 422, "0 to 1440"),
        (json!({ "alternative": 0, "alarm_minutes": 5 }), 422, "alarm_minutes"),
    ] {
        for address in ["/api/sheet", "/api/sheets"] {
            post(&server, address, &asked(more.clone())).await.refused(status, words);
        }
    }
    let mut one = small();
    one["alternatives"] = json!([small()["alternatives"][0]]);
    post(&server, "/api/sheet", &json!({ "scenario": one })).await.expect(200);
}

#[tokio::test]
async fn a_sheet_has_the_language_and_the_clock_that_are_asked_for() {
    let server = server();
    let run = run(&server).await;
    let at = |query: &str| format!("/api/runs/{run}/sheet.html?alternative=0{query}");
    let page = get(&server, &at("&language=es&clock=24-hour")).await.expect(200);
    assert!(
        page.text().contains("<html lang=\"es\">")
            && page.text().contains("<td class=\"time\">18:00")
    );
    let wish = json!({
        "scenario": small(), "alternative": 0, "language": "es", "clock": "24-hour"
    });
    let made = post(&server, "/api/sheets", &wish).await.expect(201).json();
    assert_eq!(get(&server, &address(&made)).await.expect(200).text(), page.text());
    // Without a word, the scenario's own.
    let mut spanish = small();
    spanish["sheet"] = json!({ "language": "es", "clock": "24-hour" });
    let wish = json!({ "scenario": spanish, "alternative": 0 });
    let own = post(&server, "/api/sheets", &wish).await.expect(201).json();
    let own = get(&server, &address(&own)).await.expect(200);
    assert!(own.text().contains("<html lang=\"es\">"));
    get(&server, &at("&language=fr")).await.refused(422, "Expected \"en\", \"es\"");
    get(&server, &at("&clock=13-hour")).await.refused(422, "Expected \"12-hour\", \"24-hour\"");
}

#[tokio::test]
async fn a_sheet_on_coarser_cells_says_so() {
    let server = server();
    let coarse = json!({ "scenario": small(), "kind": "season", "coarser": 4 });
    let (run, _) = finished(&server, &coarse).await;
    let page = get(&server, &format!("/api/runs/{run}/sheet.html?alternative=0")).await.expect(200);
    let note = "Cells of 20.00\u{a0}ft, larger than the scenario";
    assert!(page.text().contains(note), "the page does not tell its cells");
}

#[tokio::test]
async fn the_latest_sheets_are_kept_to_be_opened() {
    let server = server();
    let asked = json!({ "scenario": small(), "alternative": 0 });
    let mut made = Vec::new();
    for _ in 0..=crate::limits::SHEETS_KEPT {
        made.push(post(&server, "/api/sheets", &asked).await.expect(201).json());
    }
    get(&server, &address(&made[0])).await.refused(404, "no such sheet");
    for one in &made[1..] {
        get(&server, &address(one)).await.expect(200);
    }
    get(&server, "/api/sheets/..%2f..%2fetc%2fhostname/sheet.html").await.expect(404);
}
