//! `evenfall explore`: the explorer's page, served on loopback until it is stopped; with the farms that
//! it keeps, and the file that it was started with, which it opens and keeps where it lies.

mod port;

use crate::arguments::ExploreArguments;
use crate::failure::Failure;
use crate::farms::FarmsOnDisk;
use crate::inputs;
use crate::reading;
use crate::terminal::{Voice, print, shown};
use etcetera::BaseStrategy as _;
use evenfall_explorer::Start;
use evenfall_scenario::resolve;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

pub(crate) fn run(options: &ExploreArguments, voice: Voice) -> Result<(), Failure> {
    let (mut start, file) = match &options.scenario {
        Some(path) => read(path, voice)?,
        None => (Start::default(), None),
    };
    start.reference = crate::reference::reference();
    if let Some(folder) = farms_folder(options.farms.as_deref())? {
        let farms = FarmsOnDisk::new(folder, file);
        start.farm = farms.this_file().map(str::to_owned);
        start.farms = Some(Arc::new(farms));
    } else {
        tell("No home folder is known, so farms are not kept. Name a folder with --farms.");
    }
    let (explorer, said) = port::bind(&start, options.port)?;
    if let Some(said) = said {
        tell(&said);
    }
    let stopper = explorer.stopper();
    ctrlc::set_handler(move || stopper.stop())
        .map_err(|error| Failure::Fault(format!("cannot listen for Ctrl-C: {error}")))?;
    let address = explorer.address();
    let end = if voice.quiet { "" } else { "Nothing leaves this machine. Press Ctrl-C to stop.\n" };
    print(&format!("{address}\n{end}"))
        .map_err(|error| Failure::Files(format!("cannot print: {error}")))?;
    if options.open
        && let Err(error) = open::that_detached(&address)
    {
        // The page is there all the same.
        tell(&format!("cannot open a browser: {error}. Open the address above yourself"));
    }
    explorer.run().map_err(|error| Failure::Fault(format!("the server failed: {error}")))
}

/// Says something that is no result.
fn tell(words: &str) {
    // If standard error is gone there is nobody to tell; the page is there all the same.
    let _ = writeln!(std::io::stderr(), "{}", shown(words));
}

/// The folder of farms: the one asked for, or the usual place for a user's data; nothing where the
/// system knows no home.
fn farms_folder(asked: Option<&Path>) -> Result<Option<PathBuf>, Failure> {
    let Some(folder) = asked else {
        let usual = etcetera::base_strategy::choose_native_strategy().ok();
        return Ok(usual.map(|usual| usual.data_dir().join("evenfall").join("farms")));
    };
    let full = std::path::absolute(folder).map_err(|error| {
        Failure::Files(format!("`{}` cannot be the folder of farms: {error}", folder.display()))
    })?;
    if full.exists() && !full.is_dir() {
        return Err(Failure::Files(format!(
            "`{}` is not a folder, so no farms can be kept in it. Name another with --farms",
            full.display()
        )));
    }
    Ok(Some(full))
}

/// The scenario with the files that it names. Problems are told here and shown in the page, beside
/// the entries that cause them; only what is no JSON cannot be shown. Gives the file too, where it is one
/// to keep in place: a page that carries a scenario is somebody else's.
fn read(path: &Path, voice: Voice) -> Result<(Start, Option<&Path>), Failure> {
    let text = reading::text(path).map_err(|error| inputs::unreadable(path, &error))?;
    let folder = path.parent().unwrap_or(Path::new("."));
    let carried = inputs::carried(path, &text)?;
    let files = RefCell::new(BTreeMap::new());
    let read_beside = |name: &str| {
        let bytes = match &carried {
            Some(carried) => inputs::of_carried(carried, name)?,
            None => reading::bytes(&folder.join(name)).map_err(|error| error.to_string())?,
        };
        files.borrow_mut().insert(name.to_owned(), bytes.clone());
        Ok(bytes)
    };
    let scenario = carried.as_ref().map_or(&text, |carried| &carried.scenario);
    let checked = resolve(scenario, &read_beside);
    let start = Start { scenario: Some(scenario.clone()), files: files.take(), ..Start::default() };
    if let Err(problems) = checked {
        let told = problems.render(&shown(&path.display().to_string()), voice.color);
        if !start.is_readable() {
            return Err(Failure::Scenario(told));
        }
        tell(&told);
    }
    Ok((start, carried.is_none().then_some(path)))
}
