//! `evenfall season`: simulate, draw, and put the report where it was asked for.

use crate::arguments::SeasonArguments;
use crate::failure::Failure;
use crate::folder::{Draft, MARK, free_name};
use crate::inputs::{self, Loaded};
use crate::notes;
use crate::terminal::Voice;
use evenfall_core::season::{self, Outcome, Progress, Scenario, SeasonError};
use evenfall_figures::{
    DrawError, Picture, ReportNotes, UnitSystem, grid_npy, passes_csv, pictures, png, report_html,
    summary_json,
};
use rayon::prelude::*;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Pixels of a PNG to one of the drawing's units: sharp on paper at the width of a page.
const PNG_SCALE: f32 = 1.5;

pub(crate) fn run(options: &SeasonArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stop_flag()?;
    let mut loaded = inputs::load(options.scenario.as_deref(), voice)?;
    if let Some(seed) = options.seed {
        loaded.resolved.scenario.seed = seed;
    }
    // The folder comes first: better to hear of a full or forbidden disk before the work is done.
    let target = options.into.clone().unwrap_or_else(free_name);
    let draft = Draft::begin(&target, options.replace)?;
    let outcome = simulate(&loaded.resolved.scenario, &stop, voice)?;
    let report_notes = notes::report_notes(&loaded, &outcome, options.seed);
    write_report(&draft, &loaded, &outcome, &report_notes, &stop)?;
    let folder = draft.finish()?;
    let page = folder.join("report.html");
    let place = page.canonicalize().unwrap_or(page);
    let said =
        format!("{}\nReport: {}", headline(&loaded.resolved.scenario, &outcome), place.display());
    voice.say(&said).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

/// A flag that Ctrl-C (or a request to end) raises.
fn stop_flag() -> Result<Arc<AtomicBool>, Failure> {
    let stop = Arc::new(AtomicBool::new(false));
    let raised = Arc::clone(&stop);
    ctrlc::set_handler(move || raised.store(true, Ordering::SeqCst))
        .map_err(|error| Failure::Fault(format!("cannot listen for Ctrl-C: {error}")))?;
    Ok(stop)
}

fn simulate(scenario: &Scenario, stop: &AtomicBool, voice: Voice) -> Result<Outcome, Failure> {
    let bar = voice.progress(0, "Laying down passes");
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

fn write_report(
    draft: &Draft,
    loaded: &Loaded,
    outcome: &Outcome,
    report_notes: &ReportNotes,
    stop: &AtomicBool,
) -> Result<(), Failure> {
    let resolved = &loaded.resolved;
    let scenario = &resolved.scenario;
    let units = display_units(resolved.units);
    let drawn = pictures(scenario, outcome, units).map_err(|error| drawing(&error))?;
    let page = report_html(scenario, outcome, report_notes, &drawn, units)
        .map_err(|error| drawing(&error))?;
    let write = |name: &str, bytes: &[u8]| {
        if stop.load(Ordering::SeqCst) {
            return Err(Failure::Interrupted("while writing; nothing was written".to_owned()));
        }
        draft.write(name, bytes)
    };
    write("report.html", page.as_bytes())?;
    write(
        MARK,
        summary_json(scenario, outcome, report_notes).map_err(|error| drawing(&error))?.as_bytes(),
    )?;
    write(
        "passes.csv",
        passes_csv(scenario, outcome).map_err(|error| drawing(&error))?.as_bytes(),
    )?;
    write("scenario.json", loaded.text.as_bytes())?;
    for (name, bytes) in picture_files(&drawn)? {
        write(&name, &bytes)?;
    }
    for (number, found) in outcome.alternatives.iter().enumerate() {
        let bytes = grid_npy(found.season_depth_mm()).map_err(|error| drawing(&error))?;
        write(&format!("grids/season-depth-mm-{}.npy", number + 1), &bytes)?;
    }
    Ok(())
}

/// Every picture as SVG and PNG, in order.
fn picture_files(drawn: &[Picture]) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let pngs: Result<Vec<Vec<u8>>, DrawError> =
        drawn.par_iter().map(|picture| png(&picture.svg, PNG_SCALE)).collect();
    let pairs = drawn.iter().zip(pngs.map_err(|error| drawing(&error))?);
    Ok(pairs
        .flat_map(|(picture, png)| {
            let file = |ending: &str| format!("pictures/{}.{ending}", picture.name);
            [(file("svg"), picture.svg.clone().into_bytes()), (file("png"), png)]
        })
        .collect())
}

fn drawing(error: &DrawError) -> Failure {
    Failure::Fault(format!("drawing the report: {error}"))
}

/// The units of the scenario as the figures name them.
pub(crate) fn display_units(units: evenfall_scenario::UnitSystem) -> UnitSystem {
    match units {
        evenfall_scenario::UnitSystem::Us => UnitSystem::Us,
        evenfall_scenario::UnitSystem::Si => UnitSystem::Si,
    }
}

/// The answer in a few lines: interior uniformity of each alternative at the season's end.
fn headline(scenario: &Scenario, outcome: &Outcome) -> String {
    let width = scenario.alternatives.iter().map(|a| a.name.chars().count()).max().unwrap_or(0);
    let pairs = scenario.alternatives.iter().zip(&outcome.alternatives);
    let lines = pairs.map(|(alternative, found)| {
        let passes = found.passes.len();
        let figures = match found.season_figures().interior {
            Some(figures) => format!(
                "CU {:5.1} %   DUlq {:5.1} %   after {passes} passes",
                100.0 * figures.cu,
                100.0 * figures.du_lq
            ),
            None => "no water fell there".to_owned(),
        };
        format!("  {:width$}   {figures}", alternative.name)
    });
    let lines: Vec<String> = lines.collect();
    format!("{}\nSeason's water, interior of the field:\n{}", scenario.title, lines.join("\n"))
}
