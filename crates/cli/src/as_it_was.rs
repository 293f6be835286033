//! Plan against actual: the page beside the report of a season with a log.

use crate::failure::Failure;
use crate::folder::Draft;
use crate::inputs::Loaded;
use crate::notes::study_notes;
use crate::report::display_units;
use evenfall_core::schedule::replan::against_plan;
use evenfall_core::season::Outcome;
use evenfall_core::worth::{WorthError, crop_beside};
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
    let worth = loaded.resolved.worth.as_ref();
    let crop = worth
        .map(|(agronomy, economics)| {
            let plans = outcome.alternatives.iter().map(|own| own.plan.clone()).collect();
            let places = [log.alternative, outcome.alternatives.len() - 1];
            let found = crop_beside(scenario, (agronomy, economics), plans, places);
            found.map(|found| (found, economics.currency.as_deref()))
        })
        .transpose()
        .map_err(|error| match error {
            WorthError::Season(error) => error.into(),
            other => Failure::Season(other.to_string()),
        })?;
    let found = against_plan(&log.first, &log.replanned, &log.record);
    let study = AsItWasStudy {
        parts: AsItWasParts {
            alternative: &alternative.name,
            first: &log.first,
            now_h: log.record.now_h,
            found: &found,
            planned,
            real,
            crop: crop.as_ref().map(|(found, currency)| (found, *currency)),
        },
        calendar: scenario.calendar_of(alternative),
    };
    let notes = study_notes(loaded, command);
    let page = as_it_was_study(&study, &notes, display_units(loaded.resolved.units))?;
    draft.write("as-it-was.html", page.html.as_bytes())?;
    draft.write("as-it-was.json", page.json.as_bytes())?;
    Ok(study.advice())
}
