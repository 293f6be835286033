//! `evenfall study state`: what is done, broken and to do.

use super::folder::{Folder, Part};
use super::load::load;
use super::out::print;
use crate::arguments::StudyFolderArguments;
use crate::failure::Failure;
use serde_json::json;

/// What is there of a study.
#[derive(Debug, Default)]
pub(super) struct State {
    pub(super) done: usize,
    pub(super) broken: Vec<usize>,
    pub(super) missing: Vec<usize>,
    rows: usize,
    unreached: usize,
}

impl State {
    pub(super) fn of(folder: &Folder<'_>, blocks: usize) -> Self {
        let mut state = Self::default();
        for block in 0..blocks {
            match folder.part(block) {
                Part::Done(seen) => {
                    state.done += 1;
                    state.rows += seen.rows;
                    state.unreached += seen.unreached;
                }
                Part::Broken => state.broken.push(block),
                Part::Missing => state.missing.push(block),
            }
        }
        state
    }

    /// Blocks that are not done.
    pub(super) fn to_do(&self) -> usize {
        self.broken.len() + self.missing.len()
    }
}

pub(super) fn run(options: &StudyFolderArguments) -> Result<(), Failure> {
    let loaded = load(&options.folder.plan)?;
    let study = &loaded.study;
    let folder = Folder::open(&options.folder.into, study)?;
    let state = State::of(&folder, study.blocks());
    if options.json {
        let all = json!({
            "study_sha256": study.digest(),
            "points": study.points(),
            "blocks": study.blocks(),
            "done": state.done,
            "broken": state.broken,
            "missing": state.missing,
            "rows": state.rows,
            "rows_without_figures": state.unreached,
        });
        return print(&format!("{all:#}\n"));
    }
    let broken = match state.broken.len() {
        0 => String::new(),
        some => format!(", {some} broken (they are run again)"),
    };
    print(&format!(
        "{} of {} blocks done, {} to do{broken}\n{} rows, {} without figures\n",
        state.done,
        study.blocks(),
        state.to_do(),
        state.rows,
        state.unreached
    ))
}
