//! The move sheet of one alternative, as `evenfall sheet` writes it: its page to print, or all its
//! files in one archive; with a log of what happened, planned anew from there.

use crate::handlers::archive::zipped;
use crate::handlers::bodies;
use crate::handlers::found::{Run, Runs};
use crate::handlers::request::{
    JsonBody, PathName, Query, ScenarioRequest, clock_face, display_units, sheet_language,
};
use crate::jobs::short::{Short, Work};
use crate::limits::fail::Fail;
use axum::extract::State;
use axum::response::Response;
use evenfall_core::season;
use evenfall_figures::{
    LONGEST_ALARM_MIN, Sheet, SheetExtras, SheetNotes, sheet_files, sheet_html,
};
use evenfall_scenario::{Log, LogAsked, Resolved, blank_log, read_log_as};
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

/// Which sheet of a run.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub(crate) struct SheetQuery {
    /// Alternative, from 0.
    alternative: usize,
    /// A reminder so many minutes before each set in the calendar, 0 to 1440.
    alarm_min: Option<u32>,
    /// Language of the sheet: `en` or `es`; the scenario's where nothing is said.
    language: Option<String>,
    /// How the clock is written: `12-hour` or `24-hour`; the scenario's, or by its units.
    clock: Option<String>,
}

/// A sheet of a scenario; with a log, what happened is kept and the rest is planned anew.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SheetRequest {
    /// The JSON object of the scenario file.
    #[schema(value_type = Object)]
    scenario: Value,
    /// Texts of files that the scenario names.
    #[serde(default)]
    files: BTreeMap<String, String>,
    /// Alternative, from 0; not needed where there is one only, or with a log, which names its own.
    alternative: Option<usize>,
    /// Text of the log: JSON, or the table of a sheet with its last columns filled in.
    log: Option<String>,
    /// A reminder so many minutes before each set in the calendar, 0 to 1440.
    alarm_min: Option<u32>,
    /// Language of the sheet: `en` or `es`; the scenario's where nothing is said.
    language: Option<String>,
    /// How the clock is written: `12-hour` or `24-hour`; the scenario's, or by its units.
    clock: Option<String>,
}

/// The sheet's page, to print.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/sheet.html",
    params(("run" = String, Path, description = "number of the run"), SheetQuery),
    responses(
        (status = 200, content_type = "text/html", body = String),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn sheet_of_run(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
    Query(asked): Query<SheetQuery>,
) -> Result<Response, Fail> {
    let run = runs.get(&id)?;
    let page = short.run(move |work| {
        with_sheet(work, &Wish::of(&run, &asked), |sheet, _| Ok(sheet_html(sheet)?))
    });
    Ok(bodies::page(page.await?))
}

/// All files of the sheet, in one ZIP archive.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/sheet.zip",
    params(("run" = String, Path, description = "number of the run"), SheetQuery),
    responses(
        (status = 200, content_type = "application/zip", body = Vec<u8>),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn sheet_files_of_run(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
    Query(asked): Query<SheetQuery>,
) -> Result<Response, Fail> {
    let run = runs.get(&id)?;
    let zipped = short.run(move |work| with_sheet(work, &Wish::of(&run, &asked), packed));
    Ok(bodies::archive("evenfall-sheet", zipped.await?))
}

/// All files of the sheet of a scenario, in one ZIP archive, whether it has been run or not.
#[utoipa::path(
    post,
    path = "/api/sheet",
    request_body = SheetRequest,
    responses(
        (status = 200, content_type = "application/zip", body = Vec<u8>),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn sheet_files_asked(
    State(short): State<Short>,
    JsonBody(asked): JsonBody<SheetRequest>,
) -> Result<Response, Fail> {
    let zipped = short.run(move |work| with_asked(work, asked, packed));
    Ok(bodies::archive("evenfall-sheet", zipped.await?))
}

/// A sheet that is wanted.
struct Wish<'a> {
    resolved: &'a Resolved,
    text: &'a str,
    alternative: usize,
    log: Option<(&'a Log, &'a str)>,
    alarm_min: Option<u32>,
    language: Option<&'a str>,
    clock: Option<&'a str>,
    /// What the reader should know of the cells; empty for the scenario's own.
    note: &'a str,
}

impl<'a> Wish<'a> {
    fn of(run: &'a Run, asked: &'a SheetQuery) -> Self {
        Self {
            resolved: &run.order.resolved,
            text: &run.order.text,
            alternative: asked.alternative,
            log: None,
            alarm_min: asked.alarm_min,
            language: asked.language.as_deref(),
            clock: asked.clock.as_deref(),
            note: &run.order.note,
        }
    }
}

fn packed(sheet: &Sheet<'_>, extras: &SheetExtras<'_>) -> Result<Vec<u8>, Fail> {
    zipped(&mut |put| sheet_files::<Fail>(sheet, extras, put))
}

/// Hands the sheet that was asked for to `use_it`, with what lies beside it.
pub(crate) fn with_asked<T>(
    work: &Work,
    asked: SheetRequest,
    use_it: impl FnOnce(&Sheet<'_>, &SheetExtras<'_>) -> Result<T, Fail>,
) -> Result<T, Fail> {
    let SheetRequest { scenario, files, alternative, log: log_text, alarm_min, language, clock } =
        asked;
    let request = ScenarioRequest { scenario, files };
    let resolved = request.resolve().map_err(|problems| Fail::scenario(&problems))?;
    let name = alternative.and_then(|index| resolved.scenario.alternatives.get(index));
    let beside = LogAsked { alternative: name.map(|one| one.name.as_str()), ..Default::default() };
    let log = log_text.as_ref().map(|text| read_log_as(text, &resolved.scenario, &beside));
    let log = log.transpose();
    let log = log.map_err(|problems| Fail::log(&problems))?;
    let wish = Wish {
        resolved: &resolved,
        text: &request.text(),
        alternative: choose(&resolved, alternative, log.as_ref())?,
        log: log.as_ref().zip(log_text.as_deref()),
        alarm_min,
        language: language.as_deref(),
        clock: clock.as_deref(),
        note: "",
    };
    with_sheet(work, &wish, use_it)
}

/// Which alternative is meant: the one asked for, the log's, or the only one.
fn choose(resolved: &Resolved, asked: Option<usize>, log: Option<&Log>) -> Result<usize, Fail> {
    let alternatives = &resolved.scenario.alternatives;
    match (asked, log.map(|log| log.alternative)) {
        (Some(asked), Some(own)) if asked != own => Err(Fail::impossible(format!(
            "The log is of the alternative \"{}\".",
            alternatives[own].name
        ))
        .hint("Leave `alternative` out.")),
        (Some(index), _) | (None, Some(index)) => Ok(index),
        (None, None) if alternatives.len() == 1 => Ok(0),
        (None, None) => {
            let last = alternatives.len().saturating_sub(1);
            Err(Fail::impossible(format!("Say with `alternative`, 0 to {last}, which one is run.")))
        }
    }
}

/// Hands the sheet to `use_it`, with what lies beside it.
fn with_sheet<T>(
    work: &Work,
    wish: &Wish<'_>,
    use_it: impl FnOnce(&Sheet<'_>, &SheetExtras<'_>) -> Result<T, Fail>,
) -> Result<T, Fail> {
    let Wish { resolved, alarm_min, .. } = *wish;
    if alarm_min.is_some_and(|minutes| minutes > LONGEST_ALARM_MIN) {
        return Err(Fail::impossible(format!("`alarm_min` is 0 to {LONGEST_ALARM_MIN}.")));
    }
    let scenario = &resolved.scenario;
    let missing = || Fail::not_found("The scenario has no such alternative.");
    let alternative = scenario.alternatives.get(wish.alternative).ok_or_else(missing)?;
    let log = wish.log.map(|(log, _)| log);
    let replanned = log.map(|log| &log.replanned);
    let _share = work.memory_for(scenario)?;
    let worked = season::worked(scenario, wish.alternative, replanned)?;
    let mut warnings = resolved.field_warnings();
    warnings
        .extend(Some(wish.note.trim_end_matches('.').to_owned()).filter(|note| !note.is_empty()));
    let sheet = Sheet {
        scenario,
        alternative,
        worked: &worked,
        record: log.map(|log| &log.record),
        maintenance: &resolved.maintenance,
        units: display_units(resolved),
        language: sheet_language(wish.language, resolved.sheet.language)?,
        face: clock_face(wish.clock, resolved.sheet.clock)?,
        contact: &resolved.sheet.contact,
        notes: &SheetNotes {
            invented: resolved.invented,
            warnings,
            log_warnings: log.map(|log| log.warnings.clone()).unwrap_or_default(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            digest: resolved.digest.clone(),
        },
    };
    let log_text = match log {
        Some(log) => log.json.clone(),
        None => blank_log(scenario, alternative, &worked.first),
    };
    use_it(
        &sheet,
        &SheetExtras {
            scenario_text: wish.text,
            named_files: &resolved.files,
            log_text: &log_text,
            filled_in: wish.log.map(|(_, text)| text).filter(|text| *text != log_text),
            alarm_min,
        },
    )
}
