//! `evenfall season`: simulate, draw, and put the report where it was asked for.

use crate::arguments::SeasonArguments;
use crate::failure::Failure;
use crate::folder::{Draft, free_name};
use crate::inputs::{self, Loaded};
use crate::notes;
use crate::report;
use crate::terminal::Voice;
use evenfall_core::season::{self, Outcome, Progress, Scenario, SeasonError};
use evenfall_figures::season_headline;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

pub(crate) fn run(options: &SeasonArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stop_flag()?;
    let (loaded, draft) = begin(options, voice)?;
    let scenario = &loaded.resolved.scenario;
    let outcome = simulate(scenario, &stop, voice)?;
    let report_notes = notes::report_notes(&loaded, &outcome, "season", options.seed);
    report::write(&draft, &loaded, &outcome, &report_notes, None, &stop)?;
    say_where(&season_headline(scenario, &outcome), &draft.finish()?, voice)
}

/// Reads the scenario and begins the report's folder.
pub(crate) fn begin(options: &SeasonArguments, voice: Voice) -> Result<(Loaded, Draft), Failure> {
    let mut loaded = inputs::load(options.scenario.as_deref(), voice)?;
    if let Some(seed) = options.seed {
        loaded.resolved.scenario.seed = seed;
    }
    // The folder comes first: better to hear of a full or forbidden disk before the work is done.
    let target = options.into.clone().unwrap_or_else(free_name);
    Ok((loaded, Draft::begin(&target, options.replace)?))
}

/// Says what was found, and where the report lies.
pub(crate) fn say_where(found: &str, folder: &Path, voice: Voice) -> Result<(), Failure> {
    let page = folder.join("report.html");
    let place = page.canonicalize().unwrap_or(page);
    let said = format!("{found}\nReport: {}", place.display());
    voice.say(&said).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

/// A flag that Ctrl-C (or a request to end) raises.
pub(crate) fn stop_flag() -> Result<Arc<AtomicBool>, Failure> {
    let stop = Arc::new(AtomicBool::new(false));
    let raised = Arc::clone(&stop);
    ctrlc::set_handler(move || raised.store(true, Ordering::SeqCst))
        .map_err(|error| Failure::Fault(format!("cannot listen for Ctrl-C: {error}")))?;
    Ok(stop)
}

pub(crate) fn simulate(
    scenario: &Scenario,
    stop: &AtomicBool,
    voice: Voice,
) -> Result<Outcome, Failure> {
    let bar = voice.progress(0, "Laying down passes", "passes");
    let go_on = |Progress { done, total }: Progress| {
        bar.set_length(total as u64);
        bar.set_position(done as u64);
        !stop.load(Ordering::SeqCst)
    };
    let outcome = season::run(scenario, &go_on);
    bar.finish_and_clear();
    outcome.map_err(|error| match error {
        SeasonError::Stopped { done, total } => {
            Failure::Interrupted(format!("after pass {done} of {total}; nothing was written"))
        }
        SeasonError::WaterLost { .. } => Failure::Fault(error.to_string()),
        other => Failure::Season(other.to_string()),
    })
}
