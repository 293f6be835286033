//! Writing the report's files into its folder.

use crate::failure::Failure;
use crate::folder::Draft;
use crate::inputs::Loaded;
use evenfall_core::season::Outcome;
use evenfall_core::worth::{Terms, Worth};
use evenfall_figures::{DrawError, Report, ReportNotes, UnitSystem, report_files};
use std::sync::atomic::{AtomicBool, Ordering};

/// Draws everything and writes it; with `worth`, what the alternatives are worth as well.
pub(crate) fn write(
    draft: &Draft,
    loaded: &Loaded,
    outcome: &Outcome,
    report_notes: &ReportNotes,
    worth: Option<(&Worth, &Terms)>,
    stop: &AtomicBool,
) -> Result<(), Failure> {
    let report = Report {
        scenario: &loaded.resolved.scenario,
        scenario_text: &loaded.text,
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

impl From<DrawError> for Failure {
    fn from(error: DrawError) -> Self {
        Self::Fault(format!("drawing the report: {error}"))
    }
}

/// The units of the scenario as the figures name them.
pub(crate) fn display_units(units: evenfall_scenario::UnitSystem) -> UnitSystem {
    match units {
        evenfall_scenario::UnitSystem::Us => UnitSystem::Us,
        evenfall_scenario::UnitSystem::Si => UnitSystem::Si,
    }
}
