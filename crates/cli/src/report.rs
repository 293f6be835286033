//! Writing the report's files into its folder.

use crate::failure::Failure;
use crate::folder::{Draft, MARK};
use crate::inputs::Loaded;
use evenfall_core::season::Outcome;
use evenfall_core::worth::{Economics, Worth};
use evenfall_figures::{ClockFace, Language, Report, Study, picture_files, report_files};
use evenfall_view::{ReportNotes, UnitSystem};
use std::sync::atomic::{AtomicBool, Ordering};

/// What a season came to, what is said beside it, and what the alternatives are worth if known.
pub(crate) struct Results<'a> {
    pub(crate) outcome: &'a Outcome,
    pub(crate) notes: &'a ReportNotes,
    pub(crate) worth: Option<(&'a Worth, &'a Economics)>,
}

/// Draws everything and writes it.
pub(crate) fn write(
    draft: &mut Draft,
    loaded: &Loaded,
    results: &Results<'_>,
    stop: &AtomicBool,
) -> Result<(), Failure> {
    let report = Report {
        scenario: &loaded.resolved.scenario,
        scenario_text: &loaded.text,
        named_files: &loaded.resolved.files,
        outcome: results.outcome,
        notes: results.notes,
        worth: results.worth,
        units: display_units(loaded.resolved.units),
    };
    report_files(&report, &mut |name, bytes| {
        if stop.load(Ordering::SeqCst) {
            return Err(Failure::Interrupted("while writing. Nothing was written".to_owned()));
        }
        draft.write(name, bytes)
    })
}

/// Writes a page of its own, named `page`, with its pictures and its numbers.
pub(crate) fn write_study(
    draft: &mut Draft,
    page: &str,
    study: &Study,
    stop: &AtomicBool,
) -> Result<(), Failure> {
    draft.write(page, study.html.as_bytes())?;
    draft.write(MARK, study.json.as_bytes())?;
    for (name, bytes) in picture_files(&study.pictures)? {
        if stop.load(Ordering::SeqCst) {
            return Err(Failure::Interrupted("while writing. Nothing was written".to_owned()));
        }
        draft.write(&name, &bytes)?;
    }
    Ok(())
}

/// The units of the scenario as the figures name them.
pub(crate) fn display_units(units: evenfall_scenario::UnitSystem) -> UnitSystem {
    match units {
        evenfall_scenario::UnitSystem::Us => UnitSystem::Us,
        evenfall_scenario::UnitSystem::Si => UnitSystem::Si,
    }
}

/// The sheet's language as the figures name it.
pub(crate) fn sheet_language(language: evenfall_scenario::SheetLanguage) -> Language {
    match language {
        evenfall_scenario::SheetLanguage::English => Language::English,
        evenfall_scenario::SheetLanguage::Spanish => Language::Spanish,
    }
}

/// How the clock is written, as the figures name it.
pub(crate) fn clock_face(face: evenfall_scenario::ClockFace) -> ClockFace {
    match face {
        evenfall_scenario::ClockFace::TwelveHours => ClockFace::TwelveHours,
        evenfall_scenario::ClockFace::TwentyFourHours => ClockFace::TwentyFourHours,
    }
}
