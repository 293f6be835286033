//! Who is answered, how much is taken in, and what every answer forbids.

use super::helpers::{PORT, get, post, request, send, server};
use axum::body::Body;
use axum::http::{Method, Request, header};
use serde_json::json;

#[tokio::test]
async fn only_the_own_address_is_answered() {
    let server = server();
    let request = |hosts: &[&str], origins: &[&str]| {
        let mut request = Request::builder().uri("/api/health");
        for host in hosts {
            request = request.header(header::HOST, *host);
        }
        for origin in origins {
            request = request.header(header::ORIGIN, *origin);
        }
        request.body(Body::empty()).unwrap()
    };
    let own = format!("127.0.0.1:{PORT}");
    let named = format!("LocalHost:{PORT}");
    let origin = format!("http://{own}");
    for (hosts, origins) in
        [(vec![&*own], vec![]), (vec![&*named], vec![]), (vec![&*own], vec![&*origin])]
    {
        send(&server, request(&hosts, &origins)).await.expect(200);
    }
    let foreign = format!("evil.example:{PORT}");
    let elsewhere = format!("http://evil.example:{PORT}");
    let secure = format!("https://{own}");
    let longer = format!("{own}.evil.example");
    for (hosts, origins) in [
        (vec![], vec![]),
        (vec![&*foreign], vec![]),
        (vec!["127.0.0.1"], vec![]),
        (vec!["127.0.0.1:80"], vec![]),
        (vec!["0.0.0.0:8123"], vec![]),
        (vec![&*longer], vec![]),
        (vec![&*own, &*foreign], vec![]),
        (vec![&*own], vec![&*elsewhere]),
        (vec![&*own], vec![&*secure]),
        (vec![&*own], vec!["null"]),
        (vec![&*own], vec![&*origin, &*elsewhere]),
    ] {
        let answer = send(&server, request(&hosts, &origins)).await;
        assert_eq!(answer.status.as_u16(), 403, "{hosts:?} {origins:?}");
    }
}

#[tokio::test]
async fn every_answer_forbids_what_the_page_does_not_need() {
    let server = server();
    for path in ["/", "/api/demo", "/assets/app.js", "/nothing/here"] {
        let headers = get(&server, path).await.headers;
        let policy = headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
        assert!(policy.contains("script-src 'self';") && policy.contains("frame-ancestors 'none'"));
        assert!(!policy.contains("unsafe"), "{policy}");
        assert_eq!(headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
        assert_eq!(headers[header::REFERRER_POLICY], "no-referrer");
        assert_eq!(headers[header::CACHE_CONTROL], "no-store");
    }
}

#[tokio::test]
async fn bodies_are_json_and_not_too_large() {
    let server = server();
    let send_as = |kind: Option<&str>, body: Vec<u8>| {
        let mut request = request(Method::POST, "/api/check");
        if let Some(kind) = kind {
            request = request.header(header::CONTENT_TYPE, kind);
        }
        send(&server, request.body(Body::from(body)).unwrap())
    };
    let json_kind = Some("application/json");
    send_as(None, b"{}".to_vec()).await.refused(415, "JSON");
    send_as(Some("text/plain"), b"{}".to_vec()).await.refused(415, "JSON");
    send_as(json_kind, b"{\"scenario\":".to_vec()).await.expect(400);
    send_as(json_kind, b"{}".to_vec()).await.refused(422, "scenario");
    send_as(json_kind, vec![0xff; 10]).await.expect(400);
    // Deeper than anything a scenario holds: refused, not run into.
    send_as(json_kind, format!("{{\"scenario\":{}", "[".repeat(100_000)).into_bytes())
        .await
        .expect(400);
    let large = format!("{{\"scenario\":\"{}\"}}", "a".repeat(crate::limits::BODY_BYTES));
    send_as(json_kind, large.into_bytes()).await.refused(413, "8 MB");
}

#[tokio::test]
async fn addresses_that_are_not_there_are_refused_in_words() {
    let server = server();
    for path in ["/nothing", "/api/nothing", "/assets/nothing.js", "/api/runs/1/nothing"] {
        get(&server, path).await.refused(404, "There is no such");
    }
    for path in ["/assets/../Cargo.toml", "/assets/%2e%2e%2fCargo.toml", "/..%2f..%2fetc%2fpasswd"]
    {
        get(&server, path).await.expect(404);
    }
    post(&server, "/api/demo", &json!({})).await.refused(405, "cannot be done");
    get(&server, "/api/check").await.refused(405, "cannot be done");
    for path in [
        "",
        "/events",
        "/grid?alternative=0&what=pass",
        "/report.html",
        "/figures.zip",
        "/place?x_m=1&y_m=1",
    ] {
        get(&server, &format!("/api/runs/99{path}")).await.refused(404, "no such run");
    }
}
