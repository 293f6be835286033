//! `evenfall sheet`: the move sheet for the irrigator; `evenfall maintenance`: the maintenance list.

use crate::arguments::{FolderArguments, MaintenanceArguments, SheetArguments};
use crate::failure::Failure;
use crate::folder::Draft;
use crate::inputs::{self, Loaded};
use crate::report::display_units;
use crate::terminal::Voice;
use evenfall_core::season::{self, RunControl, air_at_moves};
use evenfall_figures::{
    MaintenancePart, SHEET_PAGE, Sheet, SheetExtras, SheetNotes, maintenance_text, sheet_files,
};
use evenfall_scenario::{Log, blank_log, read_log};
use serde_json::Value;
use std::fs;
use std::path::Path;

/// The log that lies beside every sheet.
const LOG: &str = "log.json";

pub(crate) fn run(options: &SheetArguments, voice: Voice) -> Result<(), Failure> {
    let loaded = inputs::load(options.page.scenario.as_deref(), voice)?;
    let given = options.log.as_deref().map(read).transpose()?;
    let log = match (&options.log, &given) {
        (Some(path), Some(text)) => Some(log_of(path, text, &loaded, voice)?),
        _ => None,
    };
    let index = choose(&loaded, options.alternative.as_deref(), log.as_ref())?;
    if given.is_none() {
        spare_events(&options.page.folder)?;
    }
    let known = [("scenario.json", loaded.text.as_str()), (LOG, given.as_deref().unwrap_or(""))];
    let mut draft = Draft::begin(&options.page.folder, "evenfall-sheet", SHEET_PAGE, &known)?;
    let scenario = &loaded.resolved.scenario;
    let alternative = &scenario.alternatives[index];
    let replanned = log.as_ref().map(|log| &log.replanned);
    let worked = season::worked(scenario, index, replanned, &RunControl::default())?;
    let sheet = Sheet {
        scenario,
        alternative,
        worked: &worked,
        maintenance: &loaded.resolved.maintenance,
        units: display_units(loaded.resolved.units),
        notes: &SheetNotes {
            invented: loaded.resolved.invented,
            warnings: loaded.resolved.field_warnings(),
            log_warnings: log.map(|log| log.warnings).unwrap_or_default(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            digest: loaded.resolved.digest.clone(),
        },
    };
    let log_text = given.unwrap_or_else(|| blank_log(scenario, alternative, &worked.first));
    let extras = SheetExtras {
        scenario_text: &loaded.text,
        named_files: &loaded.resolved.files,
        log_text: &log_text,
        alarm_min: options.alarm,
    };
    sheet_files::<Failure>(&sheet, &extras, &mut |name, bytes| draft.write(name, bytes))?;
    let page = draft.finish()?.join(SHEET_PAGE);
    let place = page.canonicalize().unwrap_or(page);
    let mut said: Vec<String> =
        sheet.warnings().iter().map(|words| format!("Note: {words}")).collect();
    said.push(format!("Move sheet for {}: {}", alternative.name, place.display()));
    voice.say(&said.join("\n")).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

/// The maintenance list for the terminal.
pub(crate) fn maintenance(options: &MaintenanceArguments, voice: Voice) -> Result<String, Failure> {
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    let scenario = &loaded.resolved.scenario;
    // Alternatives commonly share the machine; without a name the first one's is meant.
    let index = match &options.alternative {
        Some(name) => choose(&loaded, Some(name), None)?,
        None => 0,
    };
    let alternative = &scenario.alternatives[index];
    let plan = season::plans(scenario)?.swap_remove(index);
    let air_c = air_at_moves(scenario, alternative, &plan)?;
    Ok(maintenance_text(&MaintenancePart {
        maintenance: &loaded.resolved.maintenance,
        machine: &alternative.lateral.machine,
        calendar: scenario.calendar_of(alternative),
        air_c: &air_c,
        units: display_units(loaded.resolved.units),
    }))
}

/// Reads the log at `path` and plans the rest of the season anew.
pub(crate) fn load_log(path: &Path, loaded: &Loaded, voice: Voice) -> Result<Log, Failure> {
    log_of(path, &read(path)?, loaded, voice)
}

fn log_of(path: &Path, text: &str, loaded: &Loaded, voice: Voice) -> Result<Log, Failure> {
    read_log(text, &loaded.resolved.scenario).map_err(|problems| {
        Failure::Scenario(problems.render(&path.display().to_string(), voice.color))
    })
}

/// A log that holds events is not replaced by an empty one.
fn spare_events(folder: &FolderArguments) -> Result<(), Failure> {
    let Some(into) = folder.into.as_ref().filter(|_| folder.replace && !folder.discard_edits)
    else {
        return Ok(());
    };
    let path = into.join(LOG);
    let count = fs::read_to_string(&path).map_or(0, |text| events_in(&text));
    if count == 0 {
        return Ok(());
    }
    let log = path.display();
    let (events, them) = if count == 1 { ("event", "it") } else { ("events", "them") };
    Err(Failure::Files(format!(
        "`{log}` holds {count} {events}, and a new sheet would replace {them} with an empty log. \
         Nothing was changed. Add `--log {log}` to keep {them} and plan the rest of the season, \
         name a new folder with --into, or add --discard-edits to throw {them} away"
    )))
}

/// How many events a log holds; what cannot be read as one counts as edited elsewhere.
fn events_in(text: &str) -> usize {
    let log: Option<Value> = serde_json::from_str(text).ok();
    log.and_then(|log| Some(log.get("events")?.as_array()?.len())).unwrap_or(0)
}

fn read(path: &Path) -> Result<String, Failure> {
    fs::read_to_string(path).map_err(|error| {
        Failure::Files(format!(
            "cannot read `{}`: {error}. `evenfall sheet` writes an empty `log.json` with every sheet",
            path.display()
        ))
    })
}

/// Which alternative is meant: the one named, the log's, or the only one.
fn choose(loaded: &Loaded, asked: Option<&str>, log: Option<&Log>) -> Result<usize, Failure> {
    let alternatives = &loaded.resolved.scenario.alternatives;
    let names = || {
        let names = alternatives.iter().map(|one| format!("\"{}\"", one.name));
        names.collect::<Vec<_>>().join(", ")
    };
    let found = asked.map(|name| {
        let same = |known: &str| known.to_lowercase() == name.trim().to_lowercase();
        alternatives.iter().position(|one| same(&one.name)).ok_or_else(|| {
            Failure::Usage(format!("--alternative \"{name}\": the scenario has {}", names()))
        })
    });
    match (found, log) {
        (Some(found), Some(log)) if found.as_ref().ok() != Some(&log.alternative) => {
            found.and(Err(Failure::Usage(format!(
                "the log belongs to the alternative \"{}\": leave --alternative out",
                alternatives[log.alternative].name
            ))))
        }
        (Some(found), _) => found,
        (None, Some(log)) => Ok(log.alternative),
        (None, None) if alternatives.len() == 1 => Ok(0),
        (None, None) => Err(Failure::Usage(format!(
            "name the alternative you run with --alternative: {}",
            names()
        ))),
    }
}
