//! `evenfall sheet`: the move sheet for the irrigator; `evenfall maintenance`: the maintenance list.

use crate::arguments::{FolderArguments, MaintenanceArguments, SheetArguments};
use crate::failure::Failure;
use crate::folder::Draft;
use crate::inputs::{self, Loaded};
use crate::reading;
use crate::report::{clock_face, display_units, sheet_language};
use crate::size;
use crate::terminal::{Voice, shown};
use evenfall_core::season::{self, air_at_moves};
use evenfall_figures::{
    MaintenancePart, SHEET_PAGE, Sheet, SheetExtras, SheetNotes, maintenance_text, sheet_files,
};
use evenfall_scenario::{Log, LogAsked, blank_log, read_log_as};
use jiff::civil::DateTime;
use serde_json::Value;
use std::path::Path;

/// The log that lies beside every sheet.
const LOG: &str = "log.json";
/// The table of every sheet, to be filled in.
const TABLE: &str = "sheet.csv";
/// The table that was given as the log.
const LAST_TABLE: &str = "log.csv";

pub(crate) fn run(options: &SheetArguments, voice: Voice) -> Result<(), Failure> {
    let loaded = inputs::load(options.page.scenario.as_deref(), voice)?;
    let given = options.log.as_deref().map(read).transpose()?;
    let name = options.alternative.as_deref();
    let log = match (&options.log, &given) {
        (Some(path), Some(text)) => {
            Some(log_of((path, text), (name, options.now), &loaded, voice)?)
        }
        _ => None,
    };
    let index = choose(&loaded, name, log.as_ref())?;
    if given.is_none() {
        spare_events(&options.page.folder)?;
    }
    let json = log.as_ref().map_or("", |log| log.json.as_str());
    // A table that was filled in is kept beside the new one, so it may stand where that comes.
    let filled_in = given.as_deref().filter(|given| *given != json);
    let table = filled_in.unwrap_or("");
    let known = [("scenario.json", loaded.text.as_str()), (LOG, json), (TABLE, table)];
    let mut draft = Draft::begin(&options.page.folder, "evenfall-sheet", SHEET_PAGE, &known)?;
    let scenario = &loaded.resolved.scenario;
    let alternative = &scenario.alternatives[index];
    let replanned = log.as_ref().map(|log| &log.replanned);
    size::check(scenario, size::Work::Plans)?;
    let worked = season::worked(scenario, index, replanned)?;
    let wishes = &loaded.resolved.sheet;
    let language = options.language.unwrap_or(wishes.language);
    let sheet = Sheet {
        scenario,
        alternative,
        worked: &worked,
        record: log.as_ref().map(|log| &log.record),
        maintenance: &loaded.resolved.maintenance,
        units: display_units(loaded.resolved.units),
        language: sheet_language(language),
        face: options.clock.or(wishes.clock).map(clock_face),
        contact: &wishes.contact,
        notes: &SheetNotes {
            invented: loaded.resolved.invented,
            warnings: loaded.resolved.field_warnings(),
            log_warnings: log.as_ref().map(|log| log.warnings.clone()).unwrap_or_default(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            digest: loaded.resolved.digest.clone(),
        },
    };
    let log_text = match &log {
        Some(log) => log.json.clone(),
        None => blank_log(scenario, alternative, &worked.first),
    };
    let extras = SheetExtras {
        scenario_text: &loaded.text,
        named_files: &loaded.resolved.files,
        log_text: &log_text,
        filled_in,
        alarm_min: options.alarm,
    };
    if let Some(filled_in) = filled_in {
        draft.kept_elsewhere(TABLE, filled_in.as_bytes());
    }
    sheet_files::<Failure>(&sheet, &extras, &mut |name, bytes| draft.write(name, bytes))?;
    for (name, bytes) in earlier_tables(&options.page.folder, filled_in)? {
        draft.write(&name, &bytes)?;
    }
    let page = draft.finish()?.join(SHEET_PAGE);
    let place = page.canonicalize().unwrap_or(page);
    let mut said: Vec<String> =
        sheet.warnings().iter().map(|words| format!("Note: {words}")).collect();
    said.extend(sheet.before_it_goes_out().iter().map(|words| format!("Note: {words}.")));
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
    let plan = size::plans(scenario)?.swap_remove(index);
    let air_c = air_at_moves(scenario, alternative, &plan)?;
    Ok(maintenance_text(&MaintenancePart {
        maintenance: &loaded.resolved.maintenance,
        machine: &alternative.lateral.machine,
        calendar: scenario.calendar_of(alternative),
        air_c: &air_c,
        units: display_units(loaded.resolved.units),
    }))
}

/// Reads the log at `path`, up to `now` where that is said, and plans the rest of the season anew.
pub(crate) fn load_log(
    path: &Path,
    now: Option<DateTime>,
    loaded: &Loaded,
    voice: Voice,
) -> Result<Log, Failure> {
    log_of((path, &read(path)?), (None, now), loaded, voice)
}

fn log_of(
    (path, text): (&Path, &str),
    (alternative, now): (Option<&str>, Option<DateTime>),
    loaded: &Loaded,
    voice: Voice,
) -> Result<Log, Failure> {
    let is_table = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    let asked = LogAsked { alternative, now, is_table };
    read_log_as(text, &loaded.resolved.scenario, &asked).map_err(|problems| {
        Failure::Scenario(problems.render(&shown(&path.display().to_string()), voice.color))
    })
}

/// The tables that were given as logs before and lie in the folder that is replaced, under the names that
/// they get: what was noted in them stands nowhere else. The last one is `log.csv`; where another takes its
/// place it becomes the next of `log-1.csv`, `log-2.csv` …
fn earlier_tables(
    folder: &FolderArguments,
    filled_in: Option<&str>,
) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let Some(into) = folder.into.as_ref().filter(|_| folder.replace) else {
        return Ok(Vec::new());
    };
    let number_of = |name: &str| -> Option<u32> {
        name.strip_prefix("log-")?.strip_suffix(".csv")?.parse().ok()
    };
    let read = |name: &str| {
        reading::bytes(&into.join(name)).map_err(|error| {
            Failure::Files(format!("cannot read `{}`: {error}", into.join(name).display()))
        })
    };
    // A folder that is not there holds none.
    let names = std::fs::read_dir(into).into_iter().flatten().flatten();
    let names: Vec<String> =
        names.filter_map(|entry| entry.file_name().into_string().ok()).collect();
    let mut found = Vec::new();
    for name in names.iter().filter(|name| number_of(name).is_some()) {
        found.push((name.clone(), read(name)?));
    }
    if names.iter().any(|name| name == LAST_TABLE) {
        let last = read(LAST_TABLE)?;
        if Some(last.as_slice()) != filled_in.map(str::as_bytes) {
            let highest = names.iter().filter_map(|name| number_of(name)).max().unwrap_or(0);
            found.push((format!("log-{}.csv", highest.saturating_add(1)), last));
        }
    }
    Ok(found)
}

/// A log that holds events is not replaced by an empty one.
fn spare_events(folder: &FolderArguments) -> Result<(), Failure> {
    let Some(into) = folder.into.as_ref().filter(|_| folder.replace && !folder.discard_edits)
    else {
        return Ok(());
    };
    let path = into.join(LOG);
    let count = reading::text(&path).map_or(0, |text| events_in(&text));
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
    let refused = |why: &str| Failure::Files(format!("cannot read `{}`: {why}", path.display()));
    let bytes = reading::bytes(path).map_err(|error| {
        let beside = "`evenfall sheet` writes an empty `log.json` and a `sheet.csv` to fill in";
        refused(&format!("{error}. {beside} with every sheet"))
    })?;
    String::from_utf8(bytes)
        .map_err(|_| refused("it is not text in UTF-8. Save a table as CSV in UTF-8"))
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
