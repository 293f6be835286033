//! `evenfall pressure`: pressures and discharges along the pipe, listed, judged and drawn.

use crate::arguments::PressureArguments;
use crate::failure::Failure;
use crate::inputs;
use crate::report::display_units;
use crate::terminal::Voice;
use crate::whole;
use evenfall_core::lateral::hydraulics::PressureLine;
use evenfall_core::model::{Alternative, Scenario};
use evenfall_figures::{PNG_SCALE, pressure_picture, pressures_text};
use evenfall_view::UnitSystem;
use std::path::Path;

pub(crate) fn table(options: &PressureArguments, voice: Voice) -> Result<String, Failure> {
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    let scenario = &loaded.resolved.scenario;
    let units = display_units(loaded.resolved.units);
    let solve = |alternative: &Alternative| {
        let named = |problem| Failure::Season(format!("{}: {problem}", alternative.name));
        alternative.pressures().map_err(named)
    };
    let lines: Vec<Option<PressureLine>> =
        scenario.alternatives.iter().map(solve).collect::<Result<_, _>>()?;
    if let Some(path) = &options.picture {
        draw(path, scenario, &lines, units)?;
    }
    Ok(pressures_text(scenario, &lines, units))
}

/// Draws into a file that must not be there yet.
fn draw(
    path: &Path,
    scenario: &Scenario,
    lines: &[Option<PressureLine>],
    units: UnitSystem,
) -> Result<(), Failure> {
    let wrong = |why: &str| Failure::Usage(format!("--picture \"{}\": {why}", path.display()));
    let ending = path.extension().and_then(|ending| ending.to_str()).map(str::to_lowercase);
    let picture = pressure_picture(scenario, lines, units)?;
    let picture = picture.ok_or_else(|| wrong("no alternative has a `pipe`"))?;
    let bytes = match ending.as_deref() {
        Some("svg") => picture.svg().as_bytes().to_vec(),
        Some("png") => picture.png(PNG_SCALE)?,
        _ => return Err(wrong("the name must end in .svg or .png")),
    };
    // What is there already stays.
    whole::write_new(path, &bytes).map_err(|error| {
        let shown = path.display();
        Failure::Files(format!("cannot write `{shown}`: {error}. Nothing is left behind"))
    })
}
