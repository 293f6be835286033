//! Who is answered: the explorer's own page in the browser of whoever started it, and nobody else.
//!
//! Any page in the user's browser can send requests to loopback, and a foreign name can be made to
//! point there. So the `Host` must be the address that was bound, and an `Origin`, where the
//! browser sends one, must be the page's own; a browser that says which site a request comes from must
//! name the page's own too; and whoever asks must hold the owner's key (module `owner`). Every answer forbids scripts from elsewhere, frames,
//! guessing of types and caching.

use crate::limits::fail::Fail;
use crate::limits::owner::{NO_KEY, Owner, led_here_page, no_key_page};
use crate::limits::places::Place;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse as _, Response};

/// What the page may load and do.
const PAGE_POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; \
     img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; base-uri 'none'; \
     form-action 'none'; frame-ancestors 'none'";

/// Refuses strangers; dresses every answer.
pub(crate) async fn guard(State(gate): State<Gate>, request: Request, next: Next) -> Response {
    if gate.owner.is_known(request.headers())
        && let Some(place) = request.extensions().get::<Place>()
    {
        place.is_owners();
    }
    let mut response = match refused(&gate, &request) {
        Some(response) => response,
        None => next.run(request).await,
    };
    let headers = response.headers_mut();
    let mut set = |name: HeaderName, value: &'static str| {
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    };
    set(header::CONTENT_SECURITY_POLICY, PAGE_POLICY);
    set(header::X_CONTENT_TYPE_OPTIONS, "nosniff");
    set(header::REFERRER_POLICY, "no-referrer");
    set(header::CACHE_CONTROL, "no-store");
    set(HeaderName::from_static("cross-origin-resource-policy"), "same-origin");
    set(HeaderName::from_static("cross-origin-opener-policy"), "same-origin");
    response
}

/// The port that is listened at, and whose page it is.
#[derive(Clone, Debug)]
pub(crate) struct Gate {
    pub(crate) port: u16,
    pub(crate) owner: Owner,
}

/// That the program is there may be known to all; it holds its name and version.
const OPEN_TO_ALL: &str = "/api/health";

/// What is answered instead of what was asked for; nothing where the owner's own page asks.
fn refused(gate: &Gate, request: &Request) -> Option<Response> {
    let (uri, headers) = (request.uri(), request.headers());
    if let Some(fail) = stranger(uri, headers, gate.port) {
        return Some(fail.into_response());
    }
    let is_asked_by_person = uri.path() == "/" && request.method() == Method::GET;
    if is_asked_by_person && let Some(response) = gate.owner.welcome(uri) {
        return Some(response);
    }
    if !comes_from_here(headers) {
        return Some(if is_asked_by_person {
            led_here_page()
        } else {
            let fail = "Only the explorer's own page is answered.";
            Fail::new(StatusCode::FORBIDDEN, fail).into_response()
        });
    }
    if uri.path() == OPEN_TO_ALL || gate.owner.is_known(headers) {
        return None;
    }
    let (problem, hint) = NO_KEY;
    Some(if is_asked_by_person {
        no_key_page()
    } else {
        Fail::new(StatusCode::UNAUTHORIZED, problem).hint(hint).into_response()
    })
}

/// Whether the browser says that a request comes from the page itself or from a person (Fetch Metadata,
/// W3C), or does not say it. Another port of this machine is the same site and another origin.
fn comes_from_here(headers: &HeaderMap) -> bool {
    let mut said = headers.get_all("sec-fetch-site").into_iter();
    said.all(|site| site == "same-origin" || site == "none")
}

fn stranger(uri: &Uri, headers: &HeaderMap, port: u16) -> Option<Fail> {
    let refused = |problem: &str| {
        Some(Fail::new(StatusCode::FORBIDDEN, problem).hint(format!("http://127.0.0.1:{port}/")))
    };
    let is_own_authority = |authority: &str| {
        let host = match authority.rsplit_once(':') {
            Some((host, given)) if given == port.to_string() => host,
            // Browsers leave out the port that http has anyway.
            None if port == 80 => authority,
            _ => return false,
        };
        host == "127.0.0.1" || host.eq_ignore_ascii_case("localhost")
    };
    let is_own = |value: &HeaderValue, prefix: &str| {
        value.to_str().ok().and_then(|v| v.strip_prefix(prefix)).is_some_and(is_own_authority)
    };
    // Where the address names a host itself, that one counts (RFC 9112, section 3.2.2).
    if uri.authority().is_some_and(|authority| !is_own_authority(authority.as_str())) {
        return refused("This address is not the explorer's own.");
    }
    let one = |name: HeaderName| {
        let mut all = headers.get_all(name).iter();
        (all.next(), all.next())
    };
    match one(header::HOST) {
        (Some(host), None) if is_own(host, "") => {}
        _ => return refused("This address is not the explorer's own."),
    }
    match one(header::ORIGIN) {
        (None, _) => None,
        (Some(origin), None) if is_own(origin, "http://") => None,
        _ => refused("Only the explorer's own page is answered."),
    }
}
