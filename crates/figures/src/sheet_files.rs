//! The move sheet with its picture: the page, and the files with names and bytes.

use crate::drawing::clearance_picture;
use crate::files::picture_files;
use crate::picture::Picture;
use crate::reports::beside::{Put, put_beside};
use crate::reports::sheet::{self, Sheet, sheet_csv, sheet_ics};
use evenfall_canvas::DrawError;

/// The page of a move sheet, by which its folder is known.
pub const SHEET_PAGE: &str = "sheet.html";

/// What may stand in a sheet's folder by itself.
const OWN: [&str; 7] =
    [SHEET_PAGE, "sheet.csv", "sheet.ics", "scenario.json", "log.json", "log.csv", "pictures"];

/// Longest reminder before a set, minutes: a day.
pub const LONGEST_ALARM_MIN: u32 = 1440;

/// The texts that lie beside a sheet and what else is asked of it.
#[derive(Clone, Copy, Debug)]
pub struct SheetExtras<'a> {
    /// The scenario's text as it was given.
    pub scenario_text: &'a str,
    /// The files that it names, name and bytes.
    pub named_files: &'a [(String, Vec<u8>)],
    /// The log as JSON: what happened so far, or a blank one to begin with.
    pub log_text: &'a str,
    /// The table that was filled in, as it was given, where that was the log.
    pub filled_in: Option<&'a str>,
    /// A reminder so many minutes before each set in the calendar.
    pub alarm_min: Option<u32>,
}

/// The sheet as one HTML page: no script, no request, made to print on A4 or letter.
///
/// # Errors
/// If the sheet's parts do not belong together, or a library refuses.
pub fn sheet_html(sheet: &Sheet<'_>) -> Result<String, DrawError> {
    sheet::page(sheet, clearance(sheet)?.as_ref())
}

/// The crop under the pipe; `None` for a hand-move or without a crop.
fn clearance(sheet: &Sheet<'_>) -> Result<Option<Picture>, DrawError> {
    clearance_picture(
        sheet.maintenance,
        &sheet.alternative.lateral.machine,
        (sheet.units, sheet.language),
    )
}

/// Gives `put` every file of the sheet, name and bytes, in order; stops at the first that fails.
///
/// # Errors
/// What `put` returns, or what drawing fails with.
pub fn sheet_files<E: From<DrawError>>(
    sheet: &Sheet<'_>,
    extras: &SheetExtras<'_>,
    put: Put<'_, E>,
) -> Result<(), E> {
    let picture = clearance(sheet)?;
    put(SHEET_PAGE, sheet::page(sheet, picture.as_ref())?.as_bytes())?;
    put("sheet.csv", sheet_csv(sheet)?.as_bytes())?;
    // Passes that the crop calls have no dates to put into a calendar.
    if !sheet.is_called() {
        put("sheet.ics", sheet_ics(sheet, extras.alarm_min)?.as_bytes())?;
    }
    put("scenario.json", extras.scenario_text.as_bytes())?;
    put_beside(extras.named_files, &OWN, put)?;
    put("log.json", extras.log_text.as_bytes())?;
    if let Some(filled_in) = extras.filled_in {
        put("log.csv", filled_in.as_bytes())?;
    }
    for (name, bytes) in picture_files(picture.as_slice())? {
        put(&name, &bytes)?;
    }
    Ok(())
}
