//! Whatever is sent, the server answers, in words where it refuses, and lives on.

use super::helpers::{get, post, request, send, server, small};
use axum::Router;
use axum::body::Body;
use axum::http::{Method, header};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::sync::LazyLock;
use tokio::runtime::Runtime;

static RUNTIME: LazyLock<Runtime> = LazyLock::new(|| Runtime::new().unwrap());
static SERVER: LazyLock<Router> = LazyLock::new(server);

/// All places of a value, as JSON pointers.
fn pointers(value: &Value, at: &str, all: &mut Vec<String>) {
    all.push(at.to_owned());
    match value {
        Value::Object(entries) => {
            entries.iter().for_each(|(key, value)| pointers(value, &format!("{at}/{key}"), all));
        }
        Value::Array(items) => {
            items
                .iter()
                .enumerate()
                .for_each(|(i, value)| pointers(value, &format!("{at}/{i}"), all));
        }
        _ => {}
    }
}

/// A few values of `what` replaced.
fn changed(mut what: Value, changes: &[(prop::sample::Index, Value)]) -> Value {
    for (place, value) in changes {
        let mut all = Vec::new();
        pointers(&what, "", &mut all);
        *what.pointer_mut(&all[place.index(all.len())]).unwrap() = value.clone();
    }
    what
}

/// The small scenario on coarse cells, with a few of its values replaced.
fn mutated(changes: &[(prop::sample::Index, Value)]) -> Value {
    let mut scenario = small();
    scenario["season"]["passes"] = json!(2);
    scenario["field"]["cell"] = json!("10 ft");
    changed(scenario, changes)
}

/// A sound log of it.
fn log() -> Value {
    json!({
        "evenfall_log": 1,
        "scenario": small()["title"],
        "alternative": "Two stops",
        "now": "2027-05-13T07:00",
        "missed": "catch up next",
        "events": [
            { "what": "done", "pass": 1, "outlet": 1, "from": "2027-05-10T07:15", "to": "2027-05-10T17:30" },
            { "what": "missed", "pass": 1, "outlet": 2, "note": "nobody came" },
            { "what": "wrong stop", "pass": 1, "outlet": 3, "stood": "-1 turn" },
            { "what": "breakdown", "from": "2027-05-11T17:45", "to": "2027-05-12T05:00" },
        ],
    })
}

/// Values that stand in logs, sound by themselves.
fn log_values() -> impl Strategy<Value = Value> {
    let time = (4_u32..8, 1_u32..32, 0_u32..24)
        .prop_map(|(month, day, hour)| json!(format!("2027-{month:02}-{day:02}T{hour:02}:00")));
    prop_oneof![
        values(),
        time,
        (1..8).prop_map(Value::from),
        "done|missed|breakdown|moved by hand|wrong stop".prop_map(Value::from),
        "leave until the next pass|catch up next|Fixed|Three stops".prop_map(Value::from),
    ]
}

fn values() -> impl Strategy<Value = Value> {
    let quantity = (-1.0e3..1.0e3_f64, "ft|m|in|mm|psi|deg|h|%|m/s|days|turns|per t|gpm|")
        .prop_map(|(number, unit)| json!(format!("{number} {unit}")));
    prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        (-10_000_i64..10_000).prop_map(Value::from),
        prop::num::f64::ANY.prop_map(|number| json!(number)),
        quantity,
        ".{0,12}".prop_map(Value::from),
        Just(json!([])),
        Just(json!({})),
        prop::collection::vec(Just(json!("0 ft")), 0..30).prop_map(Value::from),
    ]
}

/// Whether an answer is one that the interface allows.
fn is_allowed(status: u16, body: &Value) -> bool {
    match status {
        200 | 201 => true,
        400 | 403 | 404 | 405 | 408 | 413 | 415 | 422 | 429 => {
            body["problem"].as_str().is_some_and(|words| !words.is_empty())
        }
        _ => false,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn invariant_mutated_scenarios_are_answered(
        changes in prop::collection::vec((any::<prop::sample::Index>(), values()), 1..4),
        path in prop::sample::select(vec!["/api/check", "/api/layout", "/api/preview", "/api/sheets"]),
    ) {
        let scenario = mutated(&changes);
        let mut body = json!({ "scenario": scenario });
        if path == "/api/sheets" {
            body["alternative"] = json!(1);
        }
        let answer = RUNTIME.block_on(post(&SERVER, path, &body));
        let told = answer.json();
        prop_assert!(is_allowed(answer.status.as_u16(), &told), "{} {told} {scenario}", answer.status);
    }

    #[test]
    fn invariant_mutated_logs_are_answered(
        changes in prop::collection::vec((any::<prop::sample::Index>(), log_values()), 0..4),
    ) {
        let log = changed(log(), &changes);
        let body = json!({ "scenario": mutated(&[]), "log": log.to_string() });
        let answer = RUNTIME.block_on(post(&SERVER, "/api/sheets", &body));
        let told = answer.json();
        prop_assert!(is_allowed(answer.status.as_u16(), &told), "{} {told} {log}", answer.status);
        if changes.is_empty() {
            prop_assert_eq!(answer.status.as_u16(), 201, "{}", told);
        }
    }

    #[test]
    fn invariant_any_bytes_as_a_shapefile_are_answered(
        bytes in prop::collection::vec(any::<u8>(), 0..200),
        has_head in any::<bool>(),
        projection in prop::option::of(".{0,40}"),
    ) {
        let head: &[u8] = if has_head { &[0, 0, 0x27, 0x0a] } else { &[] };
        let body = json!({ "shape": STANDARD.encode([head, &bytes].concat()), "projection": projection });
        let answer = RUNTIME.block_on(post(&SERVER, "/api/boundary", &body));
        let told = answer.json();
        prop_assert!(is_allowed(answer.status.as_u16(), &told), "{} {told} {body}", answer.status);
    }

    #[test]
    fn invariant_any_bytes_at_any_address_are_answered(
        method in prop::sample::select(vec![Method::GET, Method::POST, Method::DELETE, Method::PUT, Method::HEAD, Method::OPTIONS]),
        path in prop_oneof![
            "/[a-z0-9./%_-]{0,30}",
            "/api/(runs|check|layout|preview|palette|grid|sheets?)(/[a-z0-9-]{0,8}){0,3}(\\?[a-z_]{1,11}=[a-z0-9.-]{0,8}(&[a-z_]{1,11}=[a-z0-9.-]{0,8}){0,3})?",
        ],
        body in prop::collection::vec(any::<u8>(), 0..300),
        kind in prop::sample::select(vec!["application/json", "text/plain", "application/json; charset=latin1"]),
    ) {
        let built = request(method.clone(), &path).header(header::CONTENT_TYPE, kind).body(Body::from(body));
        let Ok(built) = built else { return Ok(()) };
        let answer = RUNTIME.block_on(send(&SERVER, built));
        let status = answer.status.as_u16();
        prop_assert!(status < 500, "{method} {path}: {status} {}", answer.text());
        if status >= 400 && method != Method::HEAD {
            prop_assert!(is_allowed(status, &answer.json()), "{method} {path}: {}", answer.text());
        }
    }

    #[test]
    fn invariant_any_question_about_a_finished_run_is_answered(
        what in "[a-z]{0,11}|pass|cumulative|deviation|yield",
        alternative in any::<i64>(), pass in any::<i64>(),
        (x, y) in (prop::num::f64::ANY, prop::num::f64::ANY),
    ) {
        static RUN: LazyLock<String> = LazyLock::new(|| {
            let asked = json!({ "scenario": mutated(&[]), "kind": "season" });
            RUNTIME.block_on(super::helpers::finished(&SERVER, &asked)).0
        });
        for path in [
            format!("grid?alternative={alternative}&what={what}&pass={pass}"),
            format!("grid?alternative={}&what={what}&pass={}", alternative % 4, pass % 4),
            format!("sets?alternative={alternative}&pass={pass}"),
            format!("place?x_m={x}&y_m={y}"),
            format!("closer?x_m={x}&y_m={y}&span_m={x}"),
            format!("closer?x_m={x}&y_m={y}&span_m=30"),
            format!("sheet.html?alternative={alternative}&alarm_min={pass}"),
        ] {
            let answer = RUNTIME.block_on(get(&SERVER, &format!("/api/runs/{}/{path}", *RUN)));
            prop_assert!(answer.status.as_u16() < 500, "{path}: {}", answer.text());
        }
    }
}
