//! What every entry means: the reference as a page of its own, with its search box.

use super::check::Start;
use crate::limits::fail::Fail;
use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{Html, IntoResponse as _, Response};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use evenfall_figures::{REFERENCE_SCRIPT, reference_page};
use sha2::{Digest as _, Sha256};
use std::sync::Arc;

/// The page; of all scripts its own few lines alone may run.
pub(crate) async fn reference(State(start): State<Arc<Start>>) -> Result<Response, Fail> {
    let page = reference_page(&start.reference)?;
    let digest = STANDARD.encode(Sha256::digest(REFERENCE_SCRIPT));
    let policy = format!(
        "default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{digest}'; img-src data:; \
         base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    );
    let policy = HeaderValue::try_from(policy).map_err(|_| Fail::fault())?;
    Ok(([(header::CONTENT_SECURITY_POLICY, policy)], Html(page)).into_response())
}
