//! Writing the report's files into its folder.

use crate::failure::Failure;
use crate::folder::{Draft, MARK};
use crate::inputs::Loaded;
use evenfall_core::season::Outcome;
use evenfall_core::worth::{Economics, Worth};
pub(crate) use evenfall_figures::PNG_SCALE;
use evenfall_figures::{DrawError, Picture, Report, ReportNotes, Study, UnitSystem, report_files};
use std::sync::atomic::{AtomicBool, Ordering};

/// Draws everything and writes it; with `worth`, what the alternatives are worth as well.
pub(crate) fn write(
    draft: &mut Draft,
    loaded: &Loaded,
    outcome: &Outcome,
    report_notes: &ReportNotes,
    worth: Option<(&Worth, &Economics)>,
    stop: &AtomicBool,
) -> Result<(), Failure> {
    let report = Report {
        scenario: &loaded.resolved.scenario,
        scenario_text: &loaded.text,
        named_files: &loaded.resolved.files,
        outcome,
        notes: report_notes,
        worth,
        units: display_units(loaded.resolved.units),
    };
    report_files(&report, &mut |name, bytes| {
        if stop.load(Ordering::SeqCst) {
            return Err(Failure::Interrupted("while writing; nothing was written".to_owned()));
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
            return Err(Failure::Interrupted("while writing; nothing was written".to_owned()));
        }
        draft.write(&name, &bytes)?;
    }
    Ok(())
}

/// Every picture as SVG and PNG, in order.
pub(crate) fn picture_files(drawn: &[Picture]) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    Ok(evenfall_figures::picture_files(drawn)?)
}

pub(crate) fn drawing(error: &DrawError) -> Failure {
    Failure::Fault(format!("drawing the report: {error}"))
}

impl From<DrawError> for Failure {
    fn from(error: DrawError) -> Self {
        drawing(&error)
    }
}

/// The units of the scenario as the figures name them.
pub(crate) fn display_units(units: evenfall_scenario::UnitSystem) -> UnitSystem {
    match units {
        evenfall_scenario::UnitSystem::Us => UnitSystem::Us,
        evenfall_scenario::UnitSystem::Si => UnitSystem::Si,
    }
}
