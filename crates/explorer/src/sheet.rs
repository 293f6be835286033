//! The move sheet of one alternative, as `evenfall sheet` writes it: its page to print, or all its
//! files in one archive; with a log of what happened, planned anew from there.

use crate::app::{App, Awaited};
use crate::archive::zipped;
use crate::ask::{Ask, Asked, Named, Sent, display_units};
use crate::fail::Fail;
use crate::guard::REPORT_POLICY;
use crate::memory;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse as _, Response};
use evenfall_core::season;
use evenfall_figures::{Sheet, SheetExtras, SheetNotes, sheet_files, sheet_html};
use evenfall_scenario::{Log, Resolved, blank_log, read_log};
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

/// Longest reminder, minutes: a day, as on the command line.
const LONGEST_ALARM_MIN: u32 = 1440;

/// Which sheet of a run.
#[derive(Debug, Deserialize, IntoParams)]
pub(crate) struct SheetAsked {
    /// Alternative, from 0.
    alternative: usize,
    /// A reminder so many minutes before each set in the calendar, 0 to 1440.
    alarm_min: Option<u32>,
}

/// A sheet after something went otherwise.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ReplanAsked {
    /// The JSON object of the scenario file.
    #[schema(value_type = Object)]
    scenario: Value,
    /// Texts of files that the scenario names.
    #[serde(default)]
    files: BTreeMap<String, String>,
    /// Text of the log; it names the alternative.
    log: String,
    /// A reminder so many minutes before each set in the calendar, 0 to 1440.
    alarm_min: Option<u32>,
}

/// The sheet's page, to print.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/sheet.html",
    params(("run" = String, Path, description = "number of the run"), SheetAsked),
    responses(
        (status = 200, content_type = "text/html", body = String),
        (status = "4XX", body = crate::fail::Told)
    )
)]
pub(crate) async fn page(
    State(app): State<Arc<App>>,
    Named(id): Named,
    Asked(asked): Asked<SheetAsked>,
) -> Result<Response, Fail> {
    let run = app.runs.get(&id)?;
    let made = app.quickly(move |app, awaited| {
        let wish = Wish { resolved: &run.resolved, text: &run.text, asked: &asked, log: None };
        with_sheet(app, awaited, &wish, |sheet, _| Ok(sheet_html(sheet)?))
    });
    let heads = [
        (header::CONTENT_TYPE, "text/html; charset=utf-8"),
        (header::CONTENT_SECURITY_POLICY, REPORT_POLICY),
    ];
    Ok((heads, made.await?).into_response())
}

/// All files of the sheet, in one ZIP archive.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/sheet.zip",
    params(("run" = String, Path, description = "number of the run"), SheetAsked),
    responses(
        (status = 200, content_type = "application/zip", body = Vec<u8>),
        (status = "4XX", body = crate::fail::Told)
    )
)]
pub(crate) async fn archive(
    State(app): State<Arc<App>>,
    Named(id): Named,
    Asked(asked): Asked<SheetAsked>,
) -> Result<Response, Fail> {
    let run = app.runs.get(&id)?;
    app.quickly(move |app, awaited| {
        let wish = Wish { resolved: &run.resolved, text: &run.text, asked: &asked, log: None };
        packed(app, awaited, &wish)
    })
    .await
}

/// The sheet with what happened kept and the rest of the season planned anew, in one ZIP archive.
#[utoipa::path(
    post,
    path = "/api/sheet",
    request_body = ReplanAsked,
    responses(
        (status = 200, content_type = "application/zip", body = Vec<u8>),
        (status = "4XX", body = crate::fail::Told)
    )
)]
pub(crate) async fn replanned(
    State(app): State<Arc<App>>,
    Sent(asked): Sent<ReplanAsked>,
) -> Result<Response, Fail> {
    app.quickly(move |app, awaited| {
        let ReplanAsked { scenario, files, log: log_text, alarm_min } = asked;
        let ask = Ask { scenario, files };
        let resolved = ask.resolve().map_err(|problems| Fail::scenario(&problems))?;
        let log = read_log(&log_text, &resolved.scenario).map_err(|found| Fail::log(&found))?;
        let asked = SheetAsked { alternative: log.alternative, alarm_min };
        let text = ask.text();
        let log = Some((&log, log_text.as_str()));
        packed(app, awaited, &Wish { resolved: &resolved, text: &text, asked: &asked, log })
    })
    .await
}

/// A sheet that is wanted.
struct Wish<'a> {
    resolved: &'a Resolved,
    text: &'a str,
    asked: &'a SheetAsked,
    log: Option<(&'a Log, &'a str)>,
}

fn packed(app: &App, awaited: &Awaited, wish: &Wish<'_>) -> Result<Response, Fail> {
    let zip = with_sheet(app, awaited, wish, |sheet, extras| {
        zipped(&mut |put| sheet_files::<Fail>(sheet, extras, put))
    })?;
    let heads = [
        (header::CONTENT_TYPE, "application/zip"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"evenfall-sheet.zip\""),
    ];
    Ok((heads, zip).into_response())
}

/// Hands the sheet to `use_it`, with what lies beside it.
fn with_sheet<T>(
    app: &App,
    awaited: &Awaited,
    wish: &Wish<'_>,
    use_it: impl FnOnce(&Sheet<'_>, &SheetExtras<'_>) -> Result<T, Fail>,
) -> Result<T, Fail> {
    let Wish { resolved, asked, .. } = *wish;
    if asked.alarm_min.is_some_and(|minutes| minutes > LONGEST_ALARM_MIN) {
        return Err(Fail::impossible(format!("`alarm_min` is 0 to {LONGEST_ALARM_MIN}.")));
    }
    let scenario = &resolved.scenario;
    let missing = || Fail::not_found("The scenario has no such alternative.");
    let alternative = scenario.alternatives.get(asked.alternative).ok_or_else(missing)?;
    let first = season::plans(scenario)?.swap_remove(asked.alternative);
    let log = wish.log.map(|(log, _)| log);
    let plan = log.map_or(&first, |log| &log.replanned.plan);
    let _share = app.memory.take_here(memory::season_mb(scenario))?;
    let water = season::set_water(scenario, &app.kept, alternative, plan, &|at| awaited.go_on(at))?;
    let mut warnings = resolved.warnings.clone();
    warnings.extend(water.notice());
    warnings.extend(log.iter().flat_map(|log| log.warnings.iter().cloned()));
    let numbers: Vec<usize> = (0..plan.passes.len()).collect();
    let sheet = Sheet {
        scenario,
        alternative,
        plan,
        numbers: log.map_or(&numbers, |log| &log.replanned.numbers),
        standing: log.map_or(&[], |log| &log.replanned.standing),
        water: &water,
        care: &resolved.care,
        units: display_units(resolved),
        notes: &SheetNotes {
            invented: resolved.invented,
            warnings,
            version: env!("CARGO_PKG_VERSION").to_owned(),
            digest: resolved.digest.clone(),
        },
    };
    let log_text = match wish.log {
        Some((_, text)) => text.to_owned(),
        None => blank_log(scenario, alternative, &first),
    };
    use_it(
        &sheet,
        &SheetExtras { scenario_text: wish.text, log_text: &log_text, alarm_min: asked.alarm_min },
    )
}
