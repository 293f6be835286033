//! Files that appear whole or not at all: written aside in the same folder, forced to the disk, then
//! given their name. Until then what was there is untouched.

use crate::{disk, drafts};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

/// A file that lies ready beside the one it is to be; removed again if it is not put in place.
#[derive(Debug)]
pub(crate) struct Aside {
    ready: PathBuf,
    target: PathBuf,
    is_placed: bool,
}

impl Aside {
    /// Writes `bytes` beside `target`. All that can fail for want of room fails here.
    pub(crate) fn write(target: &Path, bytes: &[u8]) -> io::Result<Self> {
        if target.file_name().is_none() {
            return Err(io::Error::new(io::ErrorKind::InvalidInput, "no name of a file"));
        }
        remove_dead(target);
        let ready = drafts::beside(target, "aside", 0);
        let mut file = disk::create(&ready)?;
        let made = Self { ready, target: target.to_owned(), is_placed: false };
        // Held while it is written; some disks of networks know no locks.
        let _ = file.try_lock();
        disk::write(&mut file, bytes)?;
        disk::sync(&file)?;
        Ok(made)
    }

    /// What it is to be.
    pub(crate) fn target(&self) -> &Path {
        &self.target
    }

    /// Gives the file its name, in place of what had it.
    pub(crate) fn place(mut self) -> io::Result<()> {
        disk::rename(&self.ready, &self.target)?;
        self.is_placed = true;
        self.target.parent().map_or(Ok(()), disk::sync_folder)
    }

    /// The same where nothing may have that name.
    fn place_new(mut self) -> io::Result<()> {
        disk::rename_new(&self.ready, &self.target)?;
        self.is_placed = true;
        self.target.parent().map_or(Ok(()), disk::sync_folder)
    }
}

impl Drop for Aside {
    fn drop(&mut self) {
        if !self.is_placed {
            // Nothing better can be done with an error while another is being told.
            let _ = disk::remove(&self.ready);
        }
    }
}

/// Writes a whole file.
pub(crate) fn write(target: &Path, bytes: &[u8]) -> io::Result<()> {
    Aside::write(target, bytes)?.place()
}

/// Writes a whole file that must not be there yet.
pub(crate) fn write_new(target: &Path, bytes: &[u8]) -> io::Result<()> {
    if target.symlink_metadata().is_ok() {
        return Err(io::ErrorKind::AlreadyExists.into());
    }
    Aside::write(target, bytes)?.place_new()
}

/// How old what lies aside must be before it counts as left: nothing is written for so long.
const LEFT_AFTER_S: u64 = 3600;

/// Removes what programs that were ended left aside.
fn remove_dead(target: &Path) {
    let (Some(name), Some(parent)) = (target.file_name(), target.parent()) else { return };
    let parent = if parent.as_os_str().is_empty() { Path::new(".") } else { parent };
    let mut stem = std::ffi::OsString::from(".");
    stem.push(name);
    stem.push(".aside-");
    let Ok(entries) = fs::read_dir(parent) else { return };
    for entry in entries.flatten() {
        let is_aside = entry.file_name().as_encoded_bytes().starts_with(stem.as_encoded_bytes());
        let is_free = || File::open(entry.path()).is_ok_and(|file| file.try_lock().is_ok());
        if is_aside && is_left(&entry) && is_free() {
            let _ = disk::remove(&entry.path());
        }
    }
}

/// Whether what lies aside is so old that nobody writes it any more.
pub(crate) fn is_left(entry: &fs::DirEntry) -> bool {
    entry.metadata().is_ok_and(|about| {
        let age = about.modified().ok().and_then(|time| time.elapsed().ok());
        about.is_file() && age.is_some_and(|age| age.as_secs() > LEFT_AFTER_S)
    })
}

/// Names in a folder that are words, with whether they are folders; links are neither followed nor
/// given. Nothing where the folder is not there.
pub(crate) fn inside(folder: &Path) -> io::Result<Vec<(String, bool)>> {
    let entries = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        other => other?,
    };
    let mut found = Vec::new();
    for entry in entries {
        let entry = entry?;
        let kind = entry.file_type()?;
        if let (true, Ok(name)) = (kind.is_dir() || kind.is_file(), entry.file_name().into_string())
        {
            found.push((name, kind.is_dir()));
        }
    }
    found.sort();
    Ok(found)
}

/// The bytes of a plain file; nothing where there is none by this name.
pub(crate) fn read(path: &Path) -> io::Result<Option<Vec<u8>>> {
    match fs::symlink_metadata(path) {
        Ok(about) if about.is_file() => fs::read(path).map(Some),
        Ok(_) => Ok(None),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}
