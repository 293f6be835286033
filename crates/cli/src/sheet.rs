//! `evenfall sheet`: the move sheet for the irrigator; `evenfall maintenance`: the maintenance list.

use crate::arguments::{MaintenanceArguments, SheetArguments};
use crate::failure::Failure;
use crate::folder::{Draft, free_name};
use crate::inputs::{self, Loaded};
use crate::report::display_units;
use crate::terminal::Voice;
use evenfall_core::season::{self, LandingMapCache, SeasonError, air_at_moves};
use evenfall_figures::{
    MaintenancePart, SHEET_PAGE, Sheet, SheetExtras, SheetNotes, maintenance_text, sheet_files,
};
use evenfall_scenario::{Log, blank_log, read_log};
use std::fs;
use std::path::Path;

pub(crate) fn run(options: &SheetArguments, voice: Voice) -> Result<(), Failure> {
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    let log = match &options.log {
        Some(path) => Some(load_log(path, &loaded, voice)?),
        None => None,
    };
    let index = choose(&loaded, options.alternative.as_deref(), log.as_ref())?;
    let target = options.into.clone().unwrap_or_else(|| free_name("evenfall-sheet"));
    let draft = Draft::begin(&target, options.replace, SHEET_PAGE)?;
    let scenario = &loaded.resolved.scenario;
    let alternative = &scenario.alternatives[index];
    let replanned = log.as_ref().map(|log| &log.replanned);
    let worked = season::worked(scenario, &LandingMapCache::default(), index, replanned, &|_| true)
        .map_err(|error| told(&error))?;
    let sheet = Sheet {
        scenario,
        alternative,
        worked: &worked,
        maintenance: &loaded.resolved.maintenance,
        units: display_units(loaded.resolved.units),
        notes: &SheetNotes {
            invented: loaded.resolved.invented,
            warnings: loaded.resolved.warnings.clone(),
            log_warnings: log.map(|log| log.warnings).unwrap_or_default(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            digest: loaded.resolved.digest.clone(),
        },
    };
    let log_text = match &options.log {
        Some(path) => read(path)?,
        None => blank_log(scenario, alternative, &worked.first),
    };
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
        sheet.warnings().iter().map(|words| format!("Mind: {words}")).collect();
    said.push(format!("Move sheet of {}: {}", alternative.name, place.display()));
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
    let plan = season::plans(scenario).map_err(|error| told(&error))?.swap_remove(index);
    let air_c = air_at_moves(scenario, alternative, &plan).map_err(|error| told(&error))?;
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
    let text = read(path)?;
    read_log(&text, &loaded.resolved.scenario).map_err(|problems| {
        Failure::Scenario(problems.render(&path.display().to_string(), voice.color))
    })
}

fn read(path: &Path) -> Result<String, Failure> {
    fs::read_to_string(path).map_err(|error| {
        Failure::Files(format!(
            "cannot read `{}`: {error}; `evenfall sheet` puts a `log.json` to begin with beside \
             every sheet",
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
            Failure::Usage(format!("there is no alternative \"{name}\"; there are {}", names()))
        })
    });
    match (found, log) {
        (Some(found), Some(log)) if found.as_ref().ok() != Some(&log.alternative) => {
            found.and(Err(Failure::Usage(format!(
                "the log is of the alternative \"{}\"; leave --alternative out",
                alternatives[log.alternative].name
            ))))
        }
        (Some(found), _) => found,
        (None, Some(log)) => Ok(log.alternative),
        (None, None) if alternatives.len() == 1 => Ok(0),
        (None, None) => {
            Err(Failure::Usage(format!("say with --alternative which one is run: {}", names())))
        }
    }
}

fn told(error: &SeasonError) -> Failure {
    Failure::Season(error.to_string())
}
