//! The report of a run, as the command writes it: its page, or all its files in one archive.

use super::archive::zipped;
use super::bodies;
use super::found::{Run, Runs, found};
use super::request::{PathName, assumptions, display_units, inputs};
use crate::jobs::run::Kind;
use crate::jobs::short::{Short, Work};
use crate::limits::fail::Fail;
use axum::extract::State;
use axum::response::Response;
use evenfall_core::model::Scenario;
use evenfall_core::season::{self, Outcome, RunControl, SeasonControl};
use evenfall_core::worth::check_plan;
use evenfall_figures::{CLIENT_PAGES, GROWER_PAGE, Report, papers, report_files, report_page};
use evenfall_scenario::known_words;
use evenfall_view::ReportNotes;
use std::sync::Arc;

/// The report's page.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/report.html",
    params(("run" = String, Path, description = "number of the run")),
    responses(
        (status = 200, content_type = "text/html", body = String),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn report_of_run(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
) -> Result<Response, Fail> {
    let run = runs.get(&id)?;
    let page = short.run(move |work| with_report(work, &run, |report| Ok(report_page(report)?)));
    Ok(bodies::page(page.await?))
}

/// The grower's page of a worth.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/grower.html",
    params(("run" = String, Path, description = "number of the run")),
    responses(
        (status = 200, content_type = "text/html", body = String),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn grower_of_run(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
) -> Result<Response, Fail> {
    let run = runs.get(&id)?;
    Ok(bodies::page(short.run(move |work| paper(work, &run, GROWER_PAGE)).await?))
}

/// The two pages of a worth for a client and the office that shares the cost.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/client.html",
    params(("run" = String, Path, description = "number of the run")),
    responses(
        (status = 200, content_type = "text/html", body = String),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn client_of_run(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
) -> Result<Response, Fail> {
    let run = runs.get(&id)?;
    Ok(bodies::page(short.run(move |work| paper(work, &run, CLIENT_PAGES)).await?))
}

/// The paper of that name.
fn paper(work: &Work, run: &Run, name: &str) -> Result<String, Fail> {
    let made = with_report(work, run, |report| Ok(papers(report)?))?;
    let found = made.into_iter().find_map(|(own, page)| (own == name).then_some(page));
    found.ok_or_else(|| {
        Fail::not_found("There is no such paper of this run.")
            .hint("Calculate whether it pays first, with two alternatives or more.")
    })
}

/// All files of the report folder, in one ZIP archive.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/figures.zip",
    params(("run" = String, Path, description = "number of the run")),
    responses(
        (status = 200, content_type = "application/zip", body = Vec<u8>),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn report_files_of_run(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
) -> Result<Response, Fail> {
    let run = runs.get(&id)?;
    let zipped = short.run(move |work| with_report(work, &run, packed)).await?;
    Ok(bodies::archive("evenfall-report", zipped))
}

/// Hands the report of a run to `use_it`. Its season is run here, also where the run was one: runs
/// keep no more of it than the page shows, and a report of a worth shows one too, as the command's
/// does.
pub(crate) fn with_report<T>(
    work: &Work,
    run: &Run,
    use_it: impl FnOnce(&Report<'_>) -> Result<T, Fail>,
) -> Result<T, Fail> {
    let scenario = &run.order.resolved.scenario;
    let _share = work.memory_for(scenario)?;
    let found = found(run)?;
    if run.order.kind == Kind::Search {
        return Err(Fail::not_found("A search has no report here; `evenfall search` writes one."));
    }
    let go_on = |at| work.go_on(at);
    let control = || RunControl::new(&go_on).with_landing_maps(&work.cache);
    let outcome = season::run(scenario, control())?;
    let even = even(scenario, control())?;
    use_it(&Report {
        scenario,
        scenario_text: &run.order.text,
        named_files: &run.order.resolved.files,
        outcome: &outcome,
        notes: &notes(run, &outcome, even.as_ref(), found.worth().map(|(_, t)| t.seasons))?,
        worth: found.worth(),
        units: display_units(&run.order.resolved),
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
) -> Result<ReportNotes, Fail> {
    let resolved = &run.order.resolved;
    let plans = outcome.alternatives.iter().map(|found| found.plan.clone()).collect();
    let agronomy = resolved.worth.as_ref().map(|(agronomy, _)| agronomy);
    let plan = check_plan(&resolved.scenario, plans, agronomy);
    let plan = plan.map_err(|error| Fail::impossible(error.to_string()))?;
    let mut notes = ReportNotes::of(&resolved.scenario, outcome, even);
    notes.sources.extend(resolved.sources.iter().cloned());
    let mut warnings = resolved.warnings.clone();
    warnings.extend(Some(run.order.note.clone()).filter(|note| !note.is_empty()));
    let command = match seasons {
        Some(seasons) => format!("evenfall worth --seasons {seasons} scenario.json"),
        None => "evenfall season scenario.json".to_owned(),
    };
    Ok(ReportNotes {
        question: resolved.question.clone(),
        invented: resolved.invented,
        assumptions: assumptions(resolved),
        inputs: inputs(resolved),
        inputs_words: known_words(&resolved.inputs),
        warnings,
        version: env!("CARGO_PKG_VERSION").to_owned(),
        digest: resolved.digest.clone(),
        command,
        plan: Some(plan),
        ..notes
    })
}

fn packed(report: &Report<'_>) -> Result<Vec<u8>, Fail> {
    zipped(&mut |put| report_files::<Fail>(report, put))
}
