//! Asking the router.

use crate::{Start, router};
use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use http_body_util::BodyExt as _;
use serde_json::{Value, json};
use std::time::Duration;
use tower::ServiceExt as _;

pub(super) const PORT: u16 = 8123;
/// The owner's key.
pub(super) const KEY: &str = "0123456789abcdef";

/// The cookie that goes with it.
pub(super) fn cookie(port: u16) -> String {
    format!("evenfall-{port}={KEY}")
}

/// An answer, read to its end.
pub(super) struct Answer {
    pub(super) status: StatusCode,
    pub(super) headers: HeaderMap,
    pub(super) body: Vec<u8>,
}

impl Answer {
    pub(super) fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|error| panic!("{error}: {}", self.text()))
    }

    pub(super) fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub(super) fn floats(&self) -> Vec<f32> {
        let four = |bytes: &[u8]| f32::from_le_bytes(bytes.try_into().unwrap());
        self.body.chunks_exact(4).map(four).collect()
    }

    /// The answer if it has this status; else what it says.
    pub(super) fn expect(self, status: u16) -> Self {
        assert_eq!(self.status.as_u16(), status, "{}", self.text());
        self
    }

    /// A refusal: its status, and a problem in words.
    pub(super) fn refused(self, status: u16, words: &str) {
        let told = self.expect(status).json();
        let problem = told["problem"].as_str().unwrap_or_default();
        assert!(problem.contains(words), "{told}");
    }
}

/// A server of its own for one test.
pub(super) fn server() -> Router {
    router(Start::default(), PORT, KEY)
}

pub(super) fn request(method: Method, path: &str) -> axum::http::request::Builder {
    let host = format!("127.0.0.1:{PORT}");
    let request = Request::builder().method(method).uri(path).header(header::HOST, host);
    request.header(header::COOKIE, cookie(PORT))
}

pub(super) async fn send(server: &Router, request: Request<Body>) -> Answer {
    // A test that is never answered shall fail, not hang.
    let answer = tokio::time::timeout(Duration::from_mins(2), async {
        let answer = server.clone().oneshot(request).await.unwrap();
        let (parts, body) = answer.into_parts();
        let body = body.collect().await.unwrap().to_bytes().to_vec();
        Answer { status: parts.status, headers: parts.headers, body }
    });
    answer.await.expect("an answer within two minutes")
}

pub(super) async fn get(server: &Router, path: &str) -> Answer {
    send(server, request(Method::GET, path).body(Body::empty()).unwrap()).await
}

pub(super) async fn delete(server: &Router, path: &str) -> Answer {
    send(server, request(Method::DELETE, path).body(Body::empty()).unwrap()).await
}

pub(super) async fn post(server: &Router, path: &str, body: &Value) -> Answer {
    let request = request(Method::POST, path).header(header::CONTENT_TYPE, "application/json");
    send(server, request.body(Body::from(body.to_string())).unwrap()).await
}

/// The demo on a field, season and number of cells that a test can afford.
pub(super) fn small() -> Value {
    let mut demo: Value = serde_json::from_str(evenfall_scenario::demo()).unwrap();
    demo["field"]["length_along_pipe"] = json!("400 ft");
    demo["field"]["width_across"] = json!("360 ft");
    demo["field"]["cell"] = json!("5 ft");
    demo["lateral"]["sprinklers"] = json!(10);
    demo["season"]["passes"] = json!(6);
    demo
}

/// The same with a season too long to end while a test looks at it.
pub(super) fn long() -> Value {
    let mut long = small();
    long["season"]["passes"] = json!(400);
    long["field"]["cell"] = json!("1 ft");
    for crop in ["crop", "soil", "climate", "worth"] {
        long.as_object_mut().unwrap().remove(crop);
    }
    long
}

/// Starts a run and gives its number.
pub(super) async fn start(server: &Router, body: &Value) -> String {
    let started = post(server, "/api/runs", body).await.expect(201).json();
    started["run"].as_str().unwrap().to_owned()
}

/// The events of a run to its end: names with data.
pub(super) async fn follow(server: &Router, run: &str) -> Vec<(String, Value)> {
    let answer = get(server, &format!("/api/runs/{run}/events")).await.expect(200);
    assert_eq!(answer.headers[header::CONTENT_TYPE], "text/event-stream");
    let field = |block: &str, name: &str| {
        let line = block.lines().find_map(|line| line.strip_prefix(name)).unwrap_or_default();
        line.trim().to_owned()
    };
    let text = answer.text();
    let blocks = text.split("\n\n").filter(|block| block.contains("event:"));
    blocks
        .map(|block| {
            let data = field(block, "data:");
            (field(block, "event:"), serde_json::from_str(&data).unwrap())
        })
        .collect()
}

/// A run that is done, with what it found.
pub(super) async fn finished(server: &Router, body: &Value) -> (String, Value) {
    let run = start(server, body).await;
    let events = follow(server, &run).await;
    assert_eq!(events.last().unwrap().0, "done", "{events:?}");
    let told = get(server, &format!("/api/runs/{run}")).await.expect(200).json();
    assert_eq!(told["state"], "done");
    (run, told)
}
