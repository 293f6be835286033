//! The report of a run, as the command writes it: its page, or all its files in one archive.

use crate::app::{App, Awaited};
use crate::archive::zipped;
use crate::ask::Named;
use crate::fail::Fail;
use crate::guard::REPORT_POLICY;
use crate::memory;
use crate::runs::{Kind, Run};
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use evenfall_core::model::Scenario;
use evenfall_core::season::{self, Outcome, RunControl, SeasonControl};
use evenfall_figures::{Assumption, Report, ReportNotes, report_files, report_page};
use std::borrow::Cow;
use std::sync::Arc;

/// The report's page.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/report.html",
    params(("run" = String, Path, description = "number of the run")),
    responses(
        (status = 200, content_type = "text/html", body = String),
        (status = "4XX", body = crate::fail::Told)
    )
)]
pub(crate) async fn page(State(app): State<Arc<App>>, Named(id): Named) -> Result<Response, Fail> {
    let run = app.runs.get(&id)?;
    let page = app.quickly(move |app, awaited| {
        with_report(app, awaited, &run, |report| Ok(report_page(report)?))
    });
    let heads = [
        (header::CONTENT_TYPE, "text/html; charset=utf-8"),
        (header::CONTENT_SECURITY_POLICY, REPORT_POLICY),
    ];
    Ok((heads, page.await?).into_response())
}

/// All files of the report folder, in one ZIP archive.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/figures.zip",
    params(("run" = String, Path, description = "number of the run")),
    responses(
        (status = 200, content_type = "application/zip", body = Vec<u8>),
        (status = "4XX", body = crate::fail::Told)
    )
)]
pub(crate) async fn archive(
    State(app): State<Arc<App>>,
    Named(id): Named,
) -> Result<Response, Fail> {
    let run = app.runs.get(&id)?;
    let zipped = app.quickly(move |app, awaited| with_report(app, awaited, &run, packed)).await?;
    let heads = [
        (header::CONTENT_TYPE, "application/zip"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"evenfall-report.zip\""),
    ];
    Ok((heads, zipped).into_response())
}

/// Hands the report of a run to `use_it`. A worth shows one season too, as the command's does: it
/// is run here.
fn with_report<T>(
    app: &App,
    awaited: &Awaited,
    run: &Run,
    use_it: impl FnOnce(&Report<'_>) -> Result<T, Fail>,
) -> Result<T, Fail> {
    let _share = app.memory.take_here(memory::season_mb(&run.resolved.scenario), awaited)?;
    let found = run.found().ok_or_else(|| Fail::not_found("The run is not done."))?;
    if run.kind == Kind::Search {
        return Err(Fail::not_found("A search has no report here; `evenfall search` writes one."));
    }
    let scenario = &run.resolved.scenario;
    let go_on = |at| awaited.go_on(at);
    let control = || RunControl::new(&go_on).with_landing_maps(&app.kept);
    let outcome = match found.outcome() {
        Some(outcome) => Cow::Borrowed(outcome),
        None => Cow::Owned(season::run(scenario, control())?),
    };
    let even = even(scenario, control())?;
    use_it(&Report {
        scenario,
        scenario_text: &run.text,
        named_files: &run.resolved.files,
        outcome: &outcome,
        notes: &notes(run, &outcome, even.as_ref(), found.worth().map(|(_, t)| t.seasons)),
        worth: found.worth(),
        units: run.units(),
    })
}

/// The same season with all sprinklers at their stated pressure, where a pipe is described: what
/// the pressures cost is the difference.
fn even(scenario: &Scenario, control: SeasonControl<'_>) -> Result<Option<Outcome>, Fail> {
    if scenario.alternatives.iter().all(|alternative| alternative.feed.is_none()) {
        return Ok(None);
    }
    let mut even = scenario.clone();
    even.alternatives.iter_mut().for_each(|alternative| alternative.feed = None);
    Ok(Some(season::run(&even, control)?))
}

/// What the report says beside results; its command line is the one that gives the same.
fn notes(
    run: &Run,
    outcome: &Outcome,
    even: Option<&Outcome>,
    seasons: Option<usize>,
) -> ReportNotes {
    let resolved = &run.resolved;
    let assumption = |a: &evenfall_scenario::Assumption| Assumption {
        what: a.what.clone(),
        value: a.value.clone(),
        why: a.why.clone(),
    };
    let mut notes = ReportNotes::of(&resolved.scenario, outcome, even);
    notes.sources.extend(resolved.sources.iter().cloned());
    let mut warnings = resolved.warnings.clone();
    warnings.extend(Some(run.note.clone()).filter(|note| !note.is_empty()));
    let command = match seasons {
        Some(seasons) => format!("evenfall worth --seasons {seasons} scenario.json"),
        None => "evenfall season scenario.json".to_owned(),
    };
    ReportNotes {
        question: resolved.question.clone(),
        invented: resolved.invented,
        assumptions: resolved.assumptions.iter().map(assumption).collect(),
        warnings,
        version: env!("CARGO_PKG_VERSION").to_owned(),
        digest: resolved.digest.clone(),
        command,
        ..notes
    }
}

fn packed(report: &Report<'_>) -> Result<Vec<u8>, Fail> {
    zipped(&mut |put| report_files::<Fail>(report, put))
}
