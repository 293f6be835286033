//! Whose page it is: whoever started the program, and no other account of this machine.
//!
//! Loopback is open to every account. So the address that is printed carries a key, drawn anew at each
//! start; who opens it gets the key as a cookie that no script reads and no other site sends, and the
//! address without the key takes its place. Without the cookie nothing is read or run. The cookie's name
//! holds the port, because browsers share cookies between the ports of an address.

use axum::http::{HeaderMap, StatusCode, Uri, header};
use axum::response::{IntoResponse as _, Response};
use std::fmt::Write as _;
use std::io;
use std::sync::Arc;

/// What pages made to be printed, and those of the doorkeeper, bring along: style and pictures, and no
/// script at all.
pub(crate) const REPORT_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; \
     img-src data:; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// Bytes of a key: 128 bits cannot be guessed.
const KEY_BYTES: usize = 16;

/// The key of the one who started the program.
#[derive(Clone, Debug)]
pub(crate) struct Owner {
    key: Arc<str>,
    cookie: Arc<str>,
}

impl Owner {
    /// An owner with a key that the system's random numbers make.
    pub(crate) fn new(port: u16) -> io::Result<Self> {
        let mut bytes = [0; KEY_BYTES];
        getrandom::fill(&mut bytes)
            .map_err(|error| io::Error::other(format!("no random numbers: {error}")))?;
        let key = bytes.iter().fold(String::new(), |mut key, byte| {
            // Writing to a text does not fail.
            let _ = write!(key, "{byte:02x}");
            key
        });
        Ok(Self::with_key(port, &key))
    }

    pub(crate) fn with_key(port: u16, key: &str) -> Self {
        Self { key: key.into(), cookie: format!("evenfall-{port}").into() }
    }

    /// What follows the port in the address that is printed.
    pub(crate) fn path(&self) -> String {
        format!("/?key={}", self.key)
    }

    /// Whether a request comes with the key as its cookie.
    pub(crate) fn is_known(&self, headers: &HeaderMap) -> bool {
        let given = headers.get_all(header::COOKIE).into_iter();
        let given = given.filter_map(|value| value.to_str().ok());
        let mut pairs =
            given.flat_map(|all| all.split(';')).filter_map(|one| one.trim().split_once('='));
        pairs.any(|(name, value)| name == &*self.cookie && is_same(value, &self.key))
    }

    /// Where the address carries the key: the cookie, and the address without it.
    pub(crate) fn welcome(&self, uri: &Uri) -> Option<Response> {
        let given = uri.query()?.split('&').find_map(|one| one.strip_prefix("key="))?;
        if uri.path() != "/" || !is_same(given, &self.key) {
            return None;
        }
        let cookie = format!("{}={}; Path=/; HttpOnly; SameSite=Strict", self.cookie, self.key);
        let headers = [(header::SET_COOKIE, cookie), (header::LOCATION, "/".to_owned())];
        Some((StatusCode::SEE_OTHER, headers).into_response())
    }
}

/// Whether two texts are the same, in a time that does not tell where they differ.
fn is_same(one: &str, other: &str) -> bool {
    let differ = |(one, other): (u8, u8)| one ^ other;
    one.len() == other.len()
        && one.bytes().zip(other.bytes()).map(differ).fold(0, |all, one| all | one) == 0
}

/// What is said to whoever has no key, for a person and for a program.
pub(crate) const NO_KEY: (&str, &str) = (
    "This is not the page of whoever started Evenfall, or Evenfall was started again since.",
    "Open the address that `evenfall explore` printed: it stands in the window where it runs, and \
     ends in a key.",
);

/// The page for whoever comes without the key.
pub(crate) fn no_key_page() -> Response {
    let (problem, hint) = NO_KEY;
    door(StatusCode::UNAUTHORIZED, problem, hint)
}

/// The page for whoever was led here by another site: what that asked for is not opened.
pub(crate) fn led_here_page() -> Response {
    door(
        StatusCode::FORBIDDEN,
        "Another site led here, so nothing of what it asked for was opened.",
        "<a href=\"/\">Open Evenfall</a> as you left it.",
    )
}

fn door(status: StatusCode, problem: &str, hint: &str) -> Response {
    let hint = hint.replace("`evenfall explore`", "<code>evenfall explore</code>");
    let page = format!(
        "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>Evenfall</title>\
         <style>body{{font:1.1rem/1.5 sans-serif;max-width:36rem;margin:4rem auto;padding:0 1rem}}\
         </style><h1>Evenfall</h1><p>{problem}</p><p>{hint}</p></html>"
    );
    let headers = [
        (header::CONTENT_TYPE, "text/html; charset=utf-8"),
        (header::CONTENT_SECURITY_POLICY, REPORT_POLICY),
    ];
    (status, headers, page).into_response()
}
