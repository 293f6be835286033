//! The folder of a study: what it is of, its parts, and what may be written into it.
//!
//! A part is written aside, synced, renamed, and its folder synced (`aside.rs`): under its name it is
//! whole or not there. `study.json` says which study the folder is of; another one is refused.

use super::aside::Aside;
use crate::disk;
use crate::failure::Failure;
use crate::reading;
use evenfall_study::{PartSeen, Study, seen};
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// The file that says which study the folder is of.
const MARK: &str = "study.json";

/// The folder of a study.
pub(super) struct Folder<'a> {
    path: &'a Path,
    study: &'a Study,
}

/// What is there of a block.
pub(super) enum Part {
    /// All of it.
    Done(PartSeen),
    /// Something, but not this study's block, or not whole.
    Broken,
    /// Nothing.
    Missing,
}

impl<'a> Folder<'a> {
    /// The folder at `path`, if it is of this study.
    pub(super) fn open(path: &'a Path, study: &'a Study) -> Result<Self, Failure> {
        let folder = Self { path, study };
        let shown = path.display();
        let mark = match reading::text(&path.join(MARK)) {
            Ok(mark) => mark,
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                return Err(Failure::Files(format!(
                    "`{shown}` holds no study (no {MARK}). `evenfall study run` makes it"
                )));
            }
            Err(error) => {
                let told = format!("cannot read `{MARK}` in `{shown}`: {error}");
                return Err(Failure::Files(told));
            }
        };
        let known: serde_json::Value = serde_json::from_str(&mark).unwrap_or_default();
        if known["study_sha256"] == study.digest() {
            return Ok(folder);
        }
        let parts = fs::read_dir(folder.parts()).map_or(0, |all| {
            all.filter_map(Result::ok).filter(|entry| is_part(&entry.path())).count()
        });
        Err(Failure::Files(format!(
            "`{shown}` holds another study, with {parts} finished block(s): the plan, its scenario, a file of \
             these or the program is not what it was. Nothing was changed. Put it back as it was, or name \
             another folder with --into"
        )))
    }

    /// The same; made if there is nothing yet.
    pub(super) fn open_or_make(path: &'a Path, study: &'a Study) -> Result<Self, Failure> {
        let folder = Self { path, study };
        if path.join(MARK).exists() {
            return Self::open(path, study);
        }
        let cannot = |error: io::Error| {
            Failure::Files(format!("cannot write into `{}`: {error}", path.display()))
        };
        // What another shard is just making counts as nothing.
        let is_ours = |name: &str| name == "parts" || name.starts_with('.');
        if let Ok(mut all) = fs::read_dir(path)
            && all.any(|entry| entry.is_ok_and(|e| !is_ours(&e.file_name().to_string_lossy())))
            && !path.join(MARK).exists()
        {
            return Err(Failure::Files(format!(
                "`{}` holds files and is no study's folder. Name a new one with --into",
                path.display()
            )));
        }
        disk::make_folders(&folder.parts()).map_err(cannot)?;
        folder.put(MARK, |file| disk::write(file, study.about().as_bytes()))?;
        Self::open(path, study)
    }

    fn parts(&self) -> PathBuf {
        self.path.join("parts")
    }

    /// The name of a block's part in the folder.
    pub(super) fn part_name(block: usize) -> String {
        format!("parts/block-{block:06}.parquet")
    }

    /// What is there of a block.
    pub(super) fn part(&self, block: usize) -> Part {
        let file = match reading::file(&self.path.join(Self::part_name(block))) {
            Ok(file) => file,
            // Something else has its name.
            Err(error) if error.kind() == io::ErrorKind::InvalidInput => return Part::Broken,
            Err(_) => return Part::Missing,
        };
        match seen(&file) {
            Some(found) if found.block == block && found.digest == self.study.digest() => {
                Part::Done(found)
            }
            _ => Part::Broken,
        }
    }

    /// A block's part, to be read.
    pub(super) fn read(&self, block: usize) -> io::Result<File> {
        reading::file(&self.path.join(Self::part_name(block)))
    }

    /// Holds the folder for one share of the work, until what is returned goes.
    pub(super) fn hold(&self, share: &str) -> Result<Option<File>, Failure> {
        let path = self.path.join(format!(".share-{share}"));
        let Ok(file) = File::create(&path) else { return Ok(None) };
        match file.try_lock() {
            Ok(()) => Ok(Some(file)),
            Err(TryLockError::WouldBlock) => Err(Failure::Files(format!(
                "another run is doing share {share} in `{}`. Wait for it, end it, or do another share",
                self.path.display()
            ))),
            // A disk that knows no locks: parts are the same whoever writes them.
            Err(TryLockError::Error(_)) => Ok(None),
        }
    }

    /// Writes the file `name`, whole or not at all.
    pub(super) fn put(
        &self,
        name: &str,
        write: impl FnOnce(&mut File) -> io::Result<()>,
    ) -> Result<(), Failure> {
        let mut aside = self.aside(name)?;
        write(&mut aside.file).map_err(|error| aside.cannot_write(&error))?;
        aside.sync()?;
        aside.place()
    }

    /// Begins a file of the folder, which gets its name later.
    pub(super) fn aside(&self, name: &'a str) -> Result<Aside<'a>, Failure> {
        Aside::begin(self.path, name)
    }

    /// Removes what a run that was killed left half written.
    pub(super) fn sweep(&self, block: usize) {
        let stem = format!(".block-{block:06}.parquet.");
        let Ok(all) = fs::read_dir(self.parts()) else { return };
        for entry in all.filter_map(Result::ok) {
            if entry.file_name().to_string_lossy().starts_with(&stem) {
                let _ = fs::remove_file(entry.path());
            }
        }
    }
}

fn is_part(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "parquet")
}
