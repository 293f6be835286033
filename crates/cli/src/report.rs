//! Drawing the report and writing it into its folder.

use crate::failure::Failure;
use crate::folder::{Draft, MARK};
use crate::inputs::Loaded;
use evenfall_core::grid::DepthGrid;
use evenfall_core::season::Outcome;
use evenfall_core::worth::{Terms, Worth};
use evenfall_figures::{
    DrawError, Picture, ReportNotes, Study, UnitSystem, WorthPart, grid_npy, passes_csv, pictures,
    png, pressures_csv, report_html, report_with_worth_html, summary_json, worth_json,
    worth_pictures,
};
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};

/// Pixels of a PNG to one of the drawing's units: sharp on paper at the width of a page.
pub(crate) const PNG_SCALE: f32 = 1.5;

/// Draws everything and writes it; with `worth`, what the alternatives are worth as well.
pub(crate) fn write(
    draft: &Draft,
    loaded: &Loaded,
    outcome: &Outcome,
    report_notes: &ReportNotes,
    worth: Option<(&Worth, &Terms)>,
    stop: &AtomicBool,
) -> Result<(), Failure> {
    let resolved = &loaded.resolved;
    let scenario = &resolved.scenario;
    let units = display_units(resolved.units);
    let mut drawn = pictures(scenario, outcome, units).map_err(|error| drawing(&error))?;
    let page = match worth {
        None => report_html(scenario, outcome, report_notes, &drawn, units),
        Some((worth, terms)) => {
            let shown = worth_pictures(scenario, worth, terms, units);
            let shown = shown.map_err(|error| drawing(&error))?;
            let part = WorthPart { worth, terms, pictures: &shown };
            let page =
                report_with_worth_html(scenario, outcome, report_notes, &drawn, &part, units);
            drawn.extend(shown);
            page
        }
    }
    .map_err(|error| drawing(&error))?;
    let write = |name: &str, bytes: &[u8]| {
        if stop.load(Ordering::SeqCst) {
            return Err(Failure::Interrupted("while writing; nothing was written".to_owned()));
        }
        draft.write(name, bytes)
    };
    let text = |made: Result<String, DrawError>| made.map_err(|error| drawing(&error));
    write("report.html", page.as_bytes())?;
    write(MARK, text(summary_json(scenario, outcome, report_notes))?.as_bytes())?;
    let lines: Vec<_> = outcome.alternatives.iter().map(|found| found.pressures.clone()).collect();
    if let Some(csv) = pressures_csv(scenario, &lines).map_err(|error| drawing(&error))? {
        write("pressures.csv", csv.as_bytes())?;
    }
    write("passes.csv", text(passes_csv(scenario, outcome))?.as_bytes())?;
    write("scenario.json", loaded.text.as_bytes())?;
    if let Some((worth, terms)) = worth {
        write("worth.json", text(worth_json(scenario, worth, terms))?.as_bytes())?;
    }
    for (name, bytes) in picture_files(&drawn)? {
        write(&name, &bytes)?;
    }
    for (number, found) in outcome.alternatives.iter().enumerate() {
        write_grid(&write, "season-depth-mm", number, found.season_depth_mm())?;
    }
    for (number, maps) in worth.map_or(&[][..], |(worth, _)| &worth.seasons.maps).iter().enumerate()
    {
        write_grid(&write, "mean-yield-fraction", number, &maps.yield_fraction)?;
        write_grid(&write, "mean-percolation-mm", number, &maps.percolation_mm)?;
    }
    Ok(())
}

/// Writes a page of its own, named `page`, with its pictures and its numbers.
pub(crate) fn write_study(
    draft: &Draft,
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

/// How a file gets into the folder: its name and its bytes.
type Write<'a> = &'a dyn Fn(&str, &[u8]) -> Result<(), Failure>;

fn write_grid(
    write: Write<'_>,
    what: &str,
    alternative: usize,
    grid: &DepthGrid,
) -> Result<(), Failure> {
    let bytes = grid_npy(grid).map_err(|error| drawing(&error))?;
    write(&format!("grids/{what}-{}.npy", alternative + 1), &bytes)
}

/// Every picture as SVG and PNG, in order.
pub(crate) fn picture_files(drawn: &[Picture]) -> Result<Vec<(String, Vec<u8>)>, Failure> {
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

pub(crate) fn drawing(error: &DrawError) -> Failure {
    Failure::Fault(format!("drawing the report: {error}"))
}

/// The units of the scenario as the figures name them.
pub(crate) fn display_units(units: evenfall_scenario::UnitSystem) -> UnitSystem {
    match units {
        evenfall_scenario::UnitSystem::Us => UnitSystem::Us,
        evenfall_scenario::UnitSystem::Si => UnitSystem::Si,
    }
}
