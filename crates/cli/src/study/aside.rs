//! A file of a study's folder that is written aside and then gets its name: it is whole or not there.

use crate::disk;
use crate::failure::Failure;
use crate::whole::is_left;
use crate::written::fingerprint_of;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

/// A file that lies aside; removed again if it does not get its name.
#[derive(Debug)]
pub(super) struct Aside<'a> {
    folder: &'a Path,
    name: &'a str,
    pub(super) file: File,
    path: PathBuf,
    is_placed: bool,
}

impl<'a> Aside<'a> {
    /// Begins the file that is to be `name` in `folder`.
    pub(super) fn begin(folder: &'a Path, name: &'a str) -> Result<Self, Failure> {
        let target = folder.join(name);
        let stem = target.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let path = target.with_file_name(format!(".{stem}.{}", std::process::id()));
        // A run of the same process number that was killed may have left one.
        let _ = fs::remove_file(&path);
        remove_dead(&target, &format!(".{stem}."));
        match disk::create(&path) {
            Ok(file) => Ok(Self { folder, name, file, path, is_placed: false }),
            Err(error) => {
                // That it may be there half made is no better known than what went wrong.
                let _ = fs::remove_file(&path);
                Err(cannot_write(folder, name, &error))
            }
        }
    }

    /// What it is to be called.
    pub(super) fn name(&self) -> &'a str {
        self.name
    }

    /// What it is to replace.
    pub(super) fn target(&self) -> PathBuf {
        self.folder.join(self.name)
    }

    /// The fingerprint of what was written.
    pub(super) fn fingerprint(&self) -> Result<String, Failure> {
        File::open(&self.path).and_then(fingerprint_of).map_err(|error| self.cannot_write(&error))
    }

    /// Waits until it is on the disk; some disks tell that they are full only now.
    pub(super) fn sync(&self) -> Result<(), Failure> {
        disk::sync(&self.file).map_err(|error| self.cannot_write(&error))
    }

    /// Gives it its name, in place of what has it.
    pub(super) fn place(mut self) -> Result<(), Failure> {
        let target = self.target();
        disk::rename(&self.path, &target).map_err(|error| self.cannot_write(&error))?;
        self.is_placed = true;
        let synced = target.parent().map_or(Ok(()), disk::sync_folder);
        synced.map_err(|error| self.cannot_write(&error))
    }

    /// That it could not be written, and why.
    pub(super) fn cannot_write(&self, error: &dyn std::fmt::Display) -> Failure {
        cannot_write(self.folder, self.name, error)
    }
}

impl Drop for Aside<'_> {
    fn drop(&mut self) {
        if !self.is_placed {
            // Nothing better can be done with an error while another is being told.
            let _ = fs::remove_file(&self.path);
        }
    }
}

/// Removes what runs that were killed left aside, an hour later.
fn remove_dead(target: &Path, stem: &str) {
    let Some(Ok(entries)) = target.parent().map(fs::read_dir) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let number = name.to_str().and_then(|name| name.strip_prefix(stem));
        let is_aside = number.is_some_and(|number| number.parse::<u32>().is_ok());
        if is_aside && is_left(&entry) {
            let _ = disk::remove(&entry.path());
        }
    }
}

fn cannot_write(folder: &Path, name: &str, error: &dyn std::fmt::Display) -> Failure {
    Failure::Files(format!(
        "cannot write `{name}` into `{}`: {error}. What is finished stays: mend it and give the same \
         command again",
        folder.display()
    ))
}
