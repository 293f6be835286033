//! `evenfall study gather`: all parts as one table.

use super::folder::{Folder, Part};
use super::load::load;
use super::state::State;
use crate::arguments::StudyGatherArguments;
use crate::failure::Failure;
use crate::terminal::Voice;
use evenfall_figures::{CRATE_FILE, RunMade, crate_json};
use evenfall_study::{GatherError, Gathered};
use std::fs::File;
use std::io::{self, BufWriter, Write as _};

const TABLE: &str = "study.parquet";
const LINES: &str = "study.csv";

pub(super) fn run(options: &StudyGatherArguments, voice: Voice) -> Result<(), Failure> {
    let loaded = load(&options.folder.plan)?;
    let study = &loaded.study;
    let into = &options.folder.into;
    let folder = Folder::open(into, study)?;
    let state = State::of(&folder, study.blocks());
    if state.to_do() > 0 && !options.partial {
        return Err(Failure::Files(format!(
            "{} of {} blocks in `{}` are not done. `evenfall study run` does them; --partial puts \
             together what is there",
            state.to_do(),
            study.blocks(),
            into.display()
        )));
    }
    let mut rows = 0;
    // Both tables are written aside in one reading of the parts, and get their names after it.
    folder.put(LINES, |lines| {
        let lines: &File = lines;
        let mut failed = None;
        let table = folder.put(TABLE, |table| {
            let table: &File = table;
            let gathered = || -> Result<usize, GatherError> {
                let mut all = Gathered::begin(study, BufWriter::new(table), BufWriter::new(lines))?;
                for block in 0..study.blocks() {
                    if matches!(folder.part(block), Part::Done(_)) {
                        all.add(folder.read(block)?)?;
                    }
                }
                let (rows, mut table, mut lines) = all.finish()?;
                table.flush()?;
                lines.flush()?;
                Ok(rows)
            };
            rows = gathered().map_err(|error| io::Error::other(error.to_string()))?;
            Ok(())
        });
        if let Err(failure) = table {
            failed = Some(failure);
        }
        failed.map_or(Ok(()), |failure| Err(io::Error::other(failure.to_string())))
    })?;
    let names = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>();
    let made = crate_json(&RunMade {
        title: &study.plan.title,
        about: "A study: scenarios that differ in stated factors, every season and alternative a row.",
        version: env!("CARGO_PKG_VERSION"),
        command: "evenfall study run, then evenfall study gather",
        inputs: &names(&["study.json"]),
        results: &names(&[TABLE, LINES]),
    })?;
    folder.put(CRATE_FILE, |file| file.write_all(made.as_bytes()))?;
    let place = into.display();
    let words = format!("{rows} rows: {place}/{TABLE}, {place}/{LINES}");
    voice.say(&words).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}
