//! Plan against actual: the page beside the report of a season with a log.

use crate::failure::Failure;
use crate::folder::Draft;
use crate::inputs::Loaded;
use crate::notes::study_notes;
use crate::report::display_units;
use evenfall_core::schedule::replan::against_plan;
use evenfall_core::season::Outcome;
use evenfall_figures::{AsItWasStudy, as_it_was_study};
use evenfall_scenario::Log;
use evenfall_view::AsItWasParts;

/// Writes the page and its numbers, and gives what to do next year; in `outcome` the season as it
/// happened is the last one.
pub(crate) fn write(
    draft: &mut Draft,
    loaded: &Loaded,
    outcome: &Outcome,
    log: &Log,
    command: &str,
) -> Result<String, Failure> {
    let scenario = &loaded.resolved.scenario;
    let alternative = &scenario.alternatives[log.alternative];
    let missing = || Failure::Fault("the season of the log is missing".to_owned());
    let planned = outcome.alternatives.get(log.alternative).ok_or_else(missing)?;
    let real = outcome.alternatives.last().ok_or_else(missing)?;
    let found = against_plan(&log.first, &log.replanned, &log.record);
    let study = AsItWasStudy {
        parts: AsItWasParts {
            alternative: &alternative.name,
            first: &log.first,
            now_h: log.record.now_h,
            found: &found,
            planned,
            real,
        },
        calendar: scenario.calendar_of(alternative),
    };
    let notes = study_notes(loaded, command);
    let page = as_it_was_study(&study, &notes, display_units(loaded.resolved.units))?;
    draft.write("as-it-was.html", page.html.as_bytes())?;
    draft.write("as-it-was.json", page.json.as_bytes())?;
    Ok(study.advice())
}
