//! Reading: scenario files, the files they name, quantities on the command line.

use crate::failure::Failure;
use crate::reading;
use crate::terminal::Voice;
use evenfall_scenario::{Carried, Resolved, demo, resolve, with_seed};
use std::path::{Path, PathBuf};

/// A scenario with the name and text it came from.
#[derive(Debug)]
pub(crate) struct Loaded {
    pub(crate) resolved: Resolved,
    /// The text as read, kept beside the report.
    pub(crate) text: String,
    /// The argument that names it, empty for the embedded demo.
    pub(crate) argument: String,
    /// The folder from which the files that it names are read.
    pub(crate) folder: PathBuf,
}

/// Reads and checks the scenario at `path`, or the embedded demo.
pub(crate) fn load(path: Option<&Path>, voice: Voice) -> Result<Loaded, Failure> {
    load_seeded(path, None, voice)
}

/// The same with another seed, which is then the scenario's: in its text and in its digest.
pub(crate) fn load_seeded(
    path: Option<&Path>,
    seed: Option<u64>,
    voice: Voice,
) -> Result<Loaded, Failure> {
    let mut carried = None;
    let (text, argument, folder) = match path {
        None => (demo().to_owned(), String::new(), Path::new(".")),
        Some(path) => {
            let text = reading::text(path).map_err(|error| unreadable(path, &error))?;
            let folder = path.parent().unwrap_or(Path::new("."));
            carried = self::carried(path, &text)?;
            let text = carried.as_ref().map_or(text, |carried| carried.scenario.clone());
            (text, path.display().to_string(), folder)
        }
    };
    let name = if argument.is_empty() { "the built-in demo" } else { argument.as_str() };
    let text = seed.and_then(|seed| with_seed(&text, seed)).unwrap_or(text);
    let read_beside = |name: &str| match &carried {
        Some(carried) => of_carried(carried, name),
        None => reading::bytes(&folder.join(name)).map_err(|error| error.to_string()),
    };
    let resolved = resolve(&text, &read_beside)
        .map_err(|problems| Failure::Scenario(problems.render(name, voice.color)))?;
    Ok(Loaded { resolved, text, argument, folder: folder.to_owned() })
}

/// The scenario inside a page that somebody gave; nothing where the file is no page.
pub(crate) fn carried(path: &Path, text: &str) -> Result<Option<Carried>, Failure> {
    if !text.trim_start_matches('\u{feff}').trim_start().starts_with('<') {
        return Ok(None);
    }
    let shown = path.display();
    match Carried::of_page(text) {
        Some(Ok(carried)) => Ok(Some(carried)),
        Some(Err(why)) => Err(Failure::Files(format!("cannot read `{shown}`: {why}"))),
        None => Err(Failure::Files(format!(
            "`{shown}` is a page without a scenario in it. `evenfall give` writes pages with one"
        ))),
    }
}

/// A file that such a page carries: what it names comes from the page alone, never from this disk.
pub(crate) fn of_carried(carried: &Carried, name: &str) -> Result<Vec<u8>, String> {
    let text = carried.files.get(name).ok_or("the page does not hold this file")?;
    Ok(text.clone().into_bytes())
}

pub(crate) fn unreadable(path: &Path, error: &std::io::Error) -> Failure {
    let hint = if error.kind() == std::io::ErrorKind::InvalidData {
        ". Scenarios are JSON in UTF-8"
    } else {
        ". `evenfall demo > my-scenario.json` writes one to start from"
    };
    Failure::Files(format!("cannot read `{}`: {error}{hint}", path.display()))
}

/// A quantity given as an option, read with the limits and the words of its key.
pub(crate) fn option(
    name: &str,
    text: &str,
    read: fn(&str) -> Result<f64, String>,
) -> Result<f64, Failure> {
    read(text).map_err(|why| Failure::Usage(format!("--{name}: {why}")))
}

/// A file's name without its folder, as well as it can be shown.
pub(crate) fn shown(path: &Path) -> String {
    path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into())
}
