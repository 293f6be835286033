//! The whole demo as a user runs it: the release binary, report and all.

use crate::Fault;
use crate::explorer::program;
use crate::numpy::Python;
use crate::report::{Section, within};
use crate::timing::{by_turns, short};
use std::path::Path;
use std::{fs, thread};

const ROUNDS: usize = 5;

/// Builds the program in `target` and measures it; the report goes into `folder`.
///
/// # Errors
/// It cannot be built or run.
pub fn measure(python: &Python, target: &Path, folder: &Path) -> Result<Section, Fault> {
    let program = program(target)?;
    let report = folder.join("report");
    let mut peaks_mb: Vec<f64> = Vec::new();
    let mut run = || {
        let words = ["--quiet", "season", "--into"].map(Path::new);
        let command = [&[program.as_path()], &words[..], &[report.as_path()]].concat();
        let (seconds, megabytes) = python.run_measured(&command)?;
        peaks_mb.extend(megabytes);
        fs::remove_dir_all(&report)?;
        Ok(seconds)
    };
    let times = by_turns(ROUNDS, &mut [&mut run])?;
    let cores = thread::available_parallelism()?;
    let memory = match peaks_mb.into_iter().reduce(f64::max) {
        Some(peak) => [format!("{} MB", short(peak)), within(peak, 300.0, "MB")],
        None => ["not told by this system".to_owned(), "at most 300 MB: unknown".to_owned()],
    };
    Ok(Section {
        title: "The whole demo",
        notes: vec![format!(
            "`evenfall season`: three alternatives, 12 passes, hourly wind, 660 × 660 cells, report \
             and pictures written and synced to disk; release binary, {cores} cores. Time is the \
             median, memory the highest of {ROUNDS} runs."
        )],
        heads: &["measure", "Evenfall", "target"],
        rows: vec![
            vec!["wall time".to_owned(), times[0].to_string(), within(times[0].median(), 3.0, "s")],
            [vec!["peak memory".to_owned()], memory.to_vec()].concat(),
        ],
    })
}
