//! The files of a move sheet: names with bytes, for whoever puts them somewhere.

use super::{Sheet, sheet_csv, sheet_html, sheet_ics};
use crate::beside::put_beside;
use crate::error::DrawError;
use crate::files::{Put, picture_files};
use crate::maintenance::clearance_picture;

/// The page of a move sheet, by which its folder is known.
pub const SHEET_PAGE: &str = "sheet.html";

/// What may stand in a sheet's folder by itself.
const OWN: [&str; 6] =
    [SHEET_PAGE, "sheet.csv", "sheet.ics", "scenario.json", "log.json", "pictures"];

/// Longest reminder before a set, minutes: a day.
pub const LONGEST_ALARM_MIN: u32 = 1440;

/// The texts that lie beside a sheet and what else is asked of it.
#[derive(Clone, Copy, Debug)]
pub struct SheetExtras<'a> {
    /// The scenario's text as it was given.
    pub scenario_text: &'a str,
    /// The files that it names, name and bytes.
    pub named_files: &'a [(String, Vec<u8>)],
    /// The log: what happened so far, or a blank one to begin with.
    pub log_text: &'a str,
    /// A reminder so many minutes before each set in the calendar.
    pub alarm_min: Option<u32>,
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
    put(SHEET_PAGE, sheet_html(sheet)?.as_bytes())?;
    put("sheet.csv", sheet_csv(sheet)?.as_bytes())?;
    put("sheet.ics", sheet_ics(sheet, extras.alarm_min)?.as_bytes())?;
    put("scenario.json", extras.scenario_text.as_bytes())?;
    put_beside(extras.named_files, &OWN, put)?;
    put("log.json", extras.log_text.as_bytes())?;
    let machine = &sheet.alternative.lateral.machine;
    let picture = clearance_picture(sheet.maintenance, machine, sheet.units)?;
    for (name, bytes) in picture_files(picture.as_slice())? {
        put(&name, &bytes)?;
    }
    Ok(())
}
