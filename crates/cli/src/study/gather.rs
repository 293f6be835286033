//! `evenfall study gather`: all parts as one table.

use super::aside::Aside;
use super::folder::{Folder, Part};
use super::gathered::place;
use super::load::load;
use super::state::State;
use crate::arguments::StudyGatherArguments;
use crate::disk::{self, Pieces};
use crate::failure::Failure;
use crate::made_at::made_at;
use crate::terminal::Voice;
use evenfall_figures::{CRATE_FILE, RunMade, crate_json};
use evenfall_study::{GatherError, Gathered, Study};
use std::io::{BufWriter, Write as _};

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
    // Both tables are written aside in one reading of the parts, and get their names after it.
    let (lines, table) = (folder.aside(LINES)?, folder.aside(TABLE)?);
    let rows =
        gathered(study, &folder, [&table, &lines]).map_err(|why| table.cannot_write(&why))?;
    let names = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>();
    let made_at = made_at()?;
    let made = crate_json(&RunMade {
        made_at: made_at.as_deref(),
        title: &study.plan.title,
        about: "A study: scenarios that differ in stated factors, every season and alternative a row.",
        version: env!("CARGO_PKG_VERSION"),
        command: "evenfall study run, then evenfall study gather",
        inputs: &names(&["study.json"]),
        results: &names(&[TABLE, LINES]),
    })?;
    let mut about = folder.aside(CRATE_FILE)?;
    let written = disk::write(&mut about.file, made.as_bytes());
    written.map_err(|error| about.cannot_write(&error))?;
    place(into, vec![table, lines, about], options.replace)?;
    let place = into.display();
    let words = format!("{rows} rows: {place}/{TABLE}, {place}/{LINES}");
    voice.say(&words).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

/// Writes all parts that are there into both tables; how many rows they have.
fn gathered(
    study: &Study,
    folder: &Folder<'_>,
    [table, lines]: [&Aside<'_>; 2],
) -> Result<usize, GatherError> {
    let (table, lines) = (Pieces(&table.file), Pieces(&lines.file));
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
}
