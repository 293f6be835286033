//! A file for somebody else: one page with the scenario, its files and, where a season was calculated,
//! the report with its pictures.

use super::bodies;
use super::found::Runs;
use super::report::with_report;
use super::request::{JsonBody, ScenarioRequest};
use crate::jobs::run::Kind;
use crate::jobs::short::Short;
use crate::limits::fail::Fail;
use axum::extract::State;
use axum::response::Response;
use evenfall_figures::{DrawError, GivenPage, GivenSection, given_html, report_page};
use evenfall_scenario::{CARRIED_ID, Carried, entered};
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;
use utoipa::ToSchema;

/// What is to be given.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct GivenRequest {
    /// The JSON object of the scenario file.
    #[schema(value_type = Object)]
    scenario: Value,
    /// Texts of files that the scenario names.
    #[serde(default)]
    files: BTreeMap<String, String>,
    /// Number of the run whose report goes along; it has to be of this very scenario.
    run: Option<String>,
}

/// One page for somebody else, complete in itself; it opens without the program, and the page and
/// the command open it again.
#[utoipa::path(
    post,
    path = "/api/given",
    request_body = GivenRequest,
    responses(
        (status = 200, content_type = "text/html", body = String),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn give(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    JsonBody(asked): JsonBody<GivenRequest>,
) -> Result<Response, Fail> {
    let GivenRequest { scenario, files, run } = asked;
    let run = run.map(|id| runs.get(&id)).transpose()?;
    let request = ScenarioRequest { scenario, files };
    let page = short.run(move |work| {
        let report = match &run {
            None => String::new(),
            Some(run) => {
                let own = request.resolve().map_err(|problems| Fail::scenario(&problems))?;
                if run.order.kind == Kind::Search || run.order.resolved.digest != own.digest {
                    return Err(Fail::impossible("The report is of another scenario.")
                        .hint("Wait until the season is drawn again."));
                }
                with_report(work, run, |report| Ok(report_page(report)?))?
            }
        };
        Ok(given_page(&request.text(), &request.files, &report)?)
    });
    Ok(bodies::page(page.await?))
}

/// The page for somebody else, from a scenario's text, the texts of its files, and the report's page
/// where there is one.
///
/// # Errors
/// If the template's library refuses.
pub fn given_page(
    scenario: &str,
    files: &BTreeMap<String, String>,
    report: &str,
) -> Result<String, DrawError> {
    let carried = Carried {
        scenario: scenario.to_owned(),
        files: files.clone(),
        version: env!("CARGO_PKG_VERSION").to_owned(),
    };
    let sections = entered(scenario);
    let sections = sections.iter().map(|one| GivenSection { title: &one.title, rows: &one.rows });
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    let parsed: Value = serde_json::from_str(scenario).unwrap_or_default();
    given_html(&GivenPage {
        title: parsed["title"].as_str().unwrap_or("A field"),
        version: &carried.version,
        files: &names,
        entered: &sections.collect::<Vec<_>>(),
        block_id: CARRIED_ID,
        block: &carried.to_block(),
        report,
    })
}
