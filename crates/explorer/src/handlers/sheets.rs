//! Sheets that were made from what the page sent, kept to be opened in a tab of their own: a tab
//! can ask for an address only, and a log does not go into one.

use super::bodies;
use super::request::{JsonBody, PathName};
use super::sheet::{SheetRequest, with_asked};
use crate::jobs::numbers::Numbers;
use crate::jobs::short::Short;
use crate::limits::fail::Fail;
use crate::limits::{SHEET_BYTES, SHEETS_KEPT};
use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use evenfall_figures::sheet_html;
use serde::Serialize;
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use utoipa::ToSchema;

/// The latest pages, the oldest first.
#[derive(Debug, Default)]
pub(crate) struct Sheets {
    kept: Mutex<Kept>,
}

#[derive(Debug, Default)]
struct Kept {
    pages: VecDeque<(String, String)>,
    numbers: Numbers,
}

impl Sheets {
    fn kept(&self) -> MutexGuard<'_, Kept> {
        // A panic elsewhere leaves the list whole: nothing panics while it is held.
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Keeps a page and gives its number; the oldest go where there are too many.
    fn keep(&self, page: String) -> String {
        let mut kept = self.kept();
        let id = kept.numbers.next();
        kept.pages.push_back((id.clone(), page));
        let bytes = |kept: &Kept| kept.pages.iter().map(|(_, page)| page.len()).sum::<usize>();
        while kept.pages.len() > SHEETS_KEPT || (kept.pages.len() > 1 && bytes(&kept) > SHEET_BYTES)
        {
            kept.pages.pop_front();
        }
        id
    }

    fn get(&self, id: &str) -> Result<String, Fail> {
        let page = self.kept().pages.iter().find(|(known, _)| known == id).cloned();
        page.map(|(_, page)| page).ok_or_else(|| {
            Fail::not_found("There is no such sheet.").hint(
                "The program keeps only the latest sheets, and none after it stops. Make it again.",
            )
        })
    }
}

/// A sheet that was made.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct SheetMade {
    /// Its number, to open it by.
    sheet: String,
    /// Name of the alternative that it is of.
    name: String,
    /// Warnings for its reader, as on the sheet.
    warnings: Vec<String>,
    /// What whoever hands it out should know first, and the sheet does not say.
    notes: Vec<String>,
}

/// Makes a sheet's page and keeps it, to be opened.
#[utoipa::path(
    post,
    path = "/api/sheets",
    request_body = SheetRequest,
    responses((status = 201, body = SheetMade), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn make_sheet(
    State(sheets): State<Arc<Sheets>>,
    State(short): State<Short>,
    JsonBody(asked): JsonBody<SheetRequest>,
) -> Result<(StatusCode, Json<SheetMade>), Fail> {
    let made = short.run(move |work| {
        with_asked(work, asked, |sheet, _| {
            Ok(SheetMade {
                sheet: sheets.keep(sheet_html(sheet)?),
                name: sheet.alternative.name.clone(),
                warnings: sheet.warnings(),
                notes: sheet.before_it_goes_out().into_iter().map(str::to_owned).collect(),
            })
        })
    });
    Ok((StatusCode::CREATED, Json(made.await?)))
}

/// The page of a sheet that was made, to print.
#[utoipa::path(
    get,
    path = "/api/sheets/{sheet}/sheet.html",
    params(("sheet" = String, Path, description = "number of the sheet")),
    responses(
        (status = 200, content_type = "text/html", body = String),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn open_sheet(
    State(sheets): State<Arc<Sheets>>,
    PathName(id): PathName,
) -> Result<Response, Fail> {
    Ok(bodies::page(sheets.get(&id)?))
}
