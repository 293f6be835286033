//! `evenfall explore`: the explorer's page, served on loopback until it is stopped.

use crate::arguments::ExploreArguments;
use crate::failure::Failure;
use crate::terminal::{Voice, print};
use evenfall_explorer::{Explorer, Start};
use evenfall_scenario::resolve;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::path::Path;

pub(crate) fn run(options: &ExploreArguments, voice: Voice) -> Result<(), Failure> {
    let mut start = match &options.scenario {
        Some(path) => read(path, voice)?,
        None => Start::default(),
    };
    start.reference = crate::reference::reference();
    let port = options.port;
    let explorer = Explorer::bind(start, port).map_err(|error| {
        Failure::Files(format!(
            "cannot listen on 127.0.0.1:{port}: {error}. Leave --port out to use a free port"
        ))
    })?;
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
        let _ = writeln!(
            std::io::stderr(),
            "cannot open a browser: {error}. Open the address above yourself"
        );
    }
    explorer.run().map_err(|error| Failure::Fault(format!("the server failed: {error}")))
}

/// The scenario with the files that it names. Problems are told here and shown in the page, beside
/// the entries that cause them; only what is no JSON cannot be shown.
fn read(path: &Path, voice: Voice) -> Result<Start, Failure> {
    let text = fs::read_to_string(path).map_err(|error| crate::inputs::unreadable(path, &error))?;
    let folder = path.parent().unwrap_or(Path::new("."));
    let files = RefCell::new(BTreeMap::new());
    let read_beside = |name: &str| {
        let bytes = fs::read(folder.join(name)).map_err(|error| error.to_string())?;
        files.borrow_mut().insert(name.to_owned(), bytes.clone());
        Ok(bytes)
    };
    let checked = resolve(&text, &read_beside);
    let start = Start { scenario: Some(text), files: files.take(), ..Start::default() };
    if let Err(problems) = checked {
        let told = problems.render(&path.display().to_string(), voice.color);
        if !start.is_readable() {
            return Err(Failure::Scenario(told));
        }
        // If standard error is gone the page still tells.
        let _ = writeln!(std::io::stderr(), "{told}");
    }
    Ok(start)
}
