//! Where a farm lies: a scenario file, the files beside it that it names, and a folder of versions.
//!
//! Kept is in this order: everything is written aside; the new version is written; a note says that it
//! is about to be put in place; the files take their names, the scenario last; the note goes. Up to
//! the note what was there stays; a program that is ended after it puts the version in place when the
//! farm is next opened. What was changed by hand since the last keep becomes a version first. A file
//! beside is replaced only if the present scenario names it, and nothing is written outside the folder.

use super::names;
use super::state::{State, named};
use super::versions::Versions;
use crate::disk;
use crate::reading;
use crate::whole::{self, Aside};
use evenfall_explorer::FarmFail;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Most that is read of one file, bytes: what the page takes.
const MOST_BYTES: u64 = 7_500_000;

/// A farm's place on the disk.
#[derive(Clone, Debug)]
pub(super) struct Home {
    scenario: PathBuf,
    pub(super) versions: Versions,
}

/// What the disk says, with the place it says it of.
pub(super) fn failed(what: &str, path: &Path, error: &io::Error) -> FarmFail {
    FarmFail::Disk(format!("Cannot {what} `{}`: {error}.", path.display()))
}

impl Home {
    /// A farm in a folder of its own.
    pub(super) fn in_folder(folder: &Path) -> Self {
        let versions = Versions(folder.join("versions"));
        Self { scenario: folder.join("scenario.json"), versions }
    }

    /// A scenario file somewhere, whose versions lie elsewhere.
    pub(super) fn of_file(scenario: &Path, versions: PathBuf) -> Self {
        Self { scenario: scenario.to_owned(), versions: Versions(versions) }
    }

    fn beside(&self, name: &str) -> PathBuf {
        self.scenario.with_file_name(name)
    }

    /// What it holds now; nothing where there is no scenario.
    pub(super) fn present(&self, reads_outside: bool) -> Result<Option<State>, FarmFail> {
        let of_versions = |error| failed("read", &self.versions.0, &error);
        if let Some(ms) = self.versions.unfinished().map_err(of_versions)? {
            let state = self.versions.read(ms).map_err(of_versions)?;
            // Where it cannot be put in place now, what was kept is still the version.
            if self.finish(&state, ms).is_err() {
                return Ok(Some(state));
            }
        }
        self.read(reads_outside)
    }

    fn read(&self, reads_outside: bool) -> Result<Option<State>, FarmFail> {
        let path = &self.scenario;
        let Some(bytes) = read_bounded(path)? else { return Ok(None) };
        let text = String::from_utf8(bytes).map_err(|_| {
            let problem = format!("`{}` is not UTF-8 text.", path.display());
            FarmFail::Refused(problem, "Save it again as UTF-8, or go back to a version.".into())
        })?;
        let mut state = State { text, ..State::default() };
        for name in named(&state.text) {
            let is_plain = names::is_plain(&name);
            if is_plain && let Some(bytes) = read_bounded(&self.beside(&name))? {
                state.files.insert(name, bytes);
            } else if !is_plain
                && reads_outside
                && let Ok(bytes) = reading::bytes(&self.beside(&name))
            {
                state.files.insert(name, bytes);
            }
        }
        Ok(Some(state))
    }

    /// Keeps a state and gives the time of its version.
    pub(super) fn keep(
        &self,
        present: Option<&State>,
        state: &State,
        now_ms: u64,
    ) -> Result<u64, FarmFail> {
        let of_versions = |error: io::Error| failed("write", &self.versions.0, &error);
        self.check_beside(present, state)?;
        let inner = within(state);
        if let Some(present) = present {
            let known = self.versions.latest(&within(present)).map_err(of_versions)?;
            let newest = self.versions.times().map_err(of_versions)?.first().copied();
            match known {
                Some(ms) if present == state && known == newest => return Ok(ms),
                Some(_) => {}
                None => {
                    self.versions.add(&within(present), now_ms).map_err(of_versions)?;
                }
            }
        }
        let asides = self.aside(&inner)?;
        let ms = self.versions.add(&inner, now_ms).map_err(of_versions)?;
        self.versions.begin(ms).map_err(of_versions)?;
        place(asides)?;
        self.drop_stale(present, state);
        self.versions.end().map_err(of_versions)?;
        // What is not thinned now is thinned next time; the keep is done.
        let _ = self.versions.thin();
        Ok(ms)
    }

    /// Puts a version in place that was kept but not finished.
    fn finish(&self, state: &State, ms: u64) -> Result<(), FarmFail> {
        let of_versions = |error: io::Error| failed("write", &self.versions.0, &error);
        if let Some(found) = self.read(false)?.map(|found| within(&found))
            && self.versions.latest(&found).map_err(of_versions)?.is_none()
        {
            // Somebody may have worked on it by hand meanwhile: older than what was kept.
            self.versions.add(&found, ms).map_err(of_versions)?;
            self.versions.add(state, ms).map_err(of_versions)?;
        }
        place(self.aside(state)?)?;
        self.versions.end().map_err(of_versions)
    }

    /// Whether each file may lie where the scenario names it.
    fn check_beside(&self, present: Option<&State>, state: &State) -> Result<(), FarmFail> {
        let named_now = present.map(|present| named(&present.text)).unwrap_or_default();
        for (name, bytes) in &state.files {
            let path = self.beside(name);
            let refuse = |problem: String, hint: &str| Err(FarmFail::Refused(problem, hint.into()));
            if !names::is_plain(name) {
                if reading::bytes(&path).is_ok_and(|known| known == *bytes) {
                    continue;
                }
                return refuse(
                    format!("`{name}` was changed and does not lie beside the scenario."),
                    "Only files beside it are written. Keep it as a farm, which takes the file \
                     along.",
                );
            }
            let known = whole::read(&path).map_err(|error| failed("read", &path, &error))?;
            let is_there = known.is_some() || path.symlink_metadata().is_ok();
            if known.as_ref() != Some(bytes) && is_there && !named_now.contains(name) {
                return refuse(
                    format!("`{}` is there already and holds something else.", path.display()),
                    "Move it away or give it another name, then keep again.",
                );
            }
        }
        Ok(())
    }

    /// Writes aside what differs from what is there, the scenario last.
    fn aside(&self, state: &State) -> Result<Vec<Aside>, FarmFail> {
        let files = state.files.iter().map(|(name, bytes)| (self.beside(name), bytes.as_slice()));
        let all = files.chain([(self.scenario.clone(), state.text.as_bytes())]);
        let mut asides = Vec::new();
        for (path, bytes) in all {
            let is_same = whole::read(&path).is_ok_and(|known| known.as_deref() == Some(bytes));
            if !is_same {
                let aside = Aside::write(&path, bytes);
                asides.push(aside.map_err(|error| failed("write", &path, &error))?);
            }
        }
        Ok(asides)
    }

    /// Removes files that the scenario no longer names, if they are just what was kept of them.
    fn drop_stale(&self, present: Option<&State>, state: &State) {
        let still = named(&state.text);
        for (name, bytes) in present.map(|present| &present.files).into_iter().flatten() {
            let path = self.beside(name);
            let is_own = names::is_plain(name) && self.is_farm();
            if is_own
                && !still.contains(name)
                && whole::read(&path).is_ok_and(|known| known.as_ref() == Some(bytes))
            {
                // It lies in a version; a file too many here does no harm.
                let _ = disk::remove(&path);
            }
        }
    }

    /// Whether the folder is the farm's own, not somebody's with one scenario among other files.
    fn is_farm(&self) -> bool {
        self.versions.0.parent() == self.scenario.parent()
    }
}

/// The part of a state that lies in its folder.
pub(super) fn within(state: &State) -> State {
    let mut state = state.clone();
    state.files.retain(|name, _| names::is_plain(name));
    state
}

/// Gives all of them their names.
fn place(asides: Vec<Aside>) -> Result<(), FarmFail> {
    asides.into_iter().try_for_each(|aside| {
        let path = aside.target().to_owned();
        aside.place().map_err(|error| {
            let path = path.display();
            FarmFail::Disk(format!(
                "It is kept as a version, but `{path}` cannot be replaced: {error}. Close the \
                 program that holds it open."
            ))
        })
    })
}

/// A file's bytes, unless they are too many for the page.
fn read_bounded(path: &Path) -> Result<Option<Vec<u8>>, FarmFail> {
    let size = fs::symlink_metadata(path).map_or(0, |about| about.len());
    if size > MOST_BYTES {
        let problem = format!("`{}` has {} MB.", path.display(), size.div_ceil(1_000_000));
        let hint = "The page takes at most 7.5 MB of one file. The commands have no such limit.";
        return Err(FarmFail::Refused(problem, hint.to_owned()));
    }
    whole::read(path).map_err(|error| failed("read", path, &error))
}
