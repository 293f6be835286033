//! Whose page it is: with the key all is answered, without it nothing is read or run.

use super::helpers::{KEY, PORT, get, request, send, server, small};
use axum::Router;
use axum::body::Body;
use axum::http::{HeaderName, Method, Request, header};
use serde_json::json;

/// A request from this machine without the owner's cookie.
fn bare(method: Method, path: &str, headers: &[(HeaderName, &str)]) -> Request<Body> {
    let host = format!("127.0.0.1:{PORT}");
    let mut request = Request::builder().method(method).uri(path).header(header::HOST, host);
    for (name, value) in headers {
        request = request.header(name, *value);
    }
    let body = json!({ "scenario": small(), "kind": "season" }).to_string();
    request.header(header::CONTENT_TYPE, "application/json").body(Body::from(body)).unwrap()
}

/// Every address of the interface, with the ways in which it may be asked.
async fn addresses(server: &Router) -> Vec<(Method, String)> {
    let document = get(server, "/api/openapi.json").await.expect(200).json();
    let paths = document["paths"].as_object().unwrap();
    let mut all = Vec::new();
    for (path, ways) in paths {
        for way in ways.as_object().unwrap().keys() {
            let path = path.replace("{run}", "1").replace("{farm}", "mine");
            all.push((way.to_uppercase().parse().unwrap(), path));
        }
    }
    all
}

#[tokio::test]
async fn without_the_key_no_address_is_answered_but_that_the_program_is_there() {
    let server = server();
    let mut all = addresses(&server).await;
    assert!(all.len() > 30, "{all:?}");
    let beside = ["/reference", "/assets/app.js", "/favicon.svg", "/api/openapi.json", "/nothing"];
    all.extend(beside.map(|path| (Method::GET, path.to_owned())));
    let wrong = format!("evenfall-{PORT}={}", KEY.replace('0', "1"));
    let other_port = format!("evenfall-{}={KEY}", PORT + 1);
    let short = format!("evenfall-{PORT}={}", &KEY[1..]);
    let none = format!("evenfall-{PORT}=");
    for (method, path) in all.into_iter().filter(|(_, path)| path != "/api/health") {
        for cookie in ["", &wrong, &other_port, &short, &none] {
            let cookie = [(header::COOKIE, cookie)];
            let answer = send(&server, bare(method.clone(), &path, &cookie)).await;
            answer.refused(401, "not the page of whoever started Evenfall");
        }
    }
    send(&server, bare(Method::GET, "/api/health", &[])).await.expect(200);
    // Nothing was started by any of it.
    get(&server, "/api/runs/1").await.expect(404);
}

#[tokio::test]
async fn the_printed_address_gives_the_cookie_and_a_bare_one_says_where_to_find_it() {
    let server = server();
    let door = send(&server, bare(Method::GET, "/", &[])).await.expect(401);
    assert!(door.text().contains("<code>evenfall explore</code> printed"), "{}", door.text());
    assert!(!door.text().contains("<script") && !door.headers.contains_key(header::SET_COOKIE));
    for path in ["/?key=", "/?key=1234", &format!("/?key={KEY}0"), &format!("/?kex={KEY}")] {
        send(&server, bare(Method::GET, path, &[])).await.expect(401);
    }
    let path = format!("/?key={KEY}");
    let welcome = send(&server, bare(Method::GET, &path, &[])).await.expect(303);
    assert_eq!(welcome.headers[header::LOCATION], "/");
    let cookie = welcome.headers[header::SET_COOKIE].to_str().unwrap();
    let wanted = format!("evenfall-{PORT}={KEY}; Path=/; HttpOnly; SameSite=Strict");
    assert_eq!(cookie, wanted);
    // Beside cookies of other programs at other ports.
    let cookies = format!("theme=dark; {}; evenfall-1=x", &cookie[..cookie.find(';').unwrap()]);
    let asked = bare(Method::GET, "/", &[(header::COOKIE, &cookies)]);
    assert!(send(&server, asked).await.expect(200).text().contains("<script"));
}

#[tokio::test]
async fn what_another_site_asks_for_is_refused_though_the_browser_has_the_cookie() {
    let server = server();
    let site = HeaderName::from_static("sec-fetch-site");
    for from in ["cross-site", "same-site", "anything"] {
        let asked = |path: &str| request(Method::GET, path).header(&site, from);
        let door = send(&server, asked("/").body(Body::empty()).unwrap()).await.expect(403);
        assert!(door.text().contains("Another site led here"), "{}", door.text());
        for path in ["/api/demo", "/assets/app.js", "/api/health"] {
            let answer = send(&server, asked(path).body(Body::empty()).unwrap()).await;
            answer.refused(403, "own page");
        }
    }
    for from in ["same-origin", "none"] {
        let asked = request(Method::GET, "/api/demo").header(&site, from);
        send(&server, asked.body(Body::empty()).unwrap()).await.expect(200);
    }
}
