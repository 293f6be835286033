//! Hidden drafts beside what they are to become: each has a name of its own and an owner, who holds a
//! lock on a file in it. A draft whose lock is free is that of a program that was ended: it is removed,
//! whatever the number of that program was. The same with what a replaced folder leaves behind.

use crate::disk;
use crate::written::{LIST, OWNER};
use std::ffi::OsString;
use std::fs::{File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

const WORDS: &str = "Evenfall is writing here. Where none runs, this folder may be removed.\n";
/// Names that are tried for a draft.
const TRIES: u32 = 100;

/// What a hidden name begins with: `.report.partial-` of `report`.
fn stem(name: &std::ffi::OsStr, kind: &str) -> OsString {
    let mut stem = OsString::from(".");
    stem.push(name);
    stem.push(format!(".{kind}-"));
    stem
}

/// A hidden name beside `target` that nothing has had: time, process and a count.
#[expect(clippy::disallowed_methods, reason = "the name of a draft; no result holds it")]
pub(crate) fn beside(target: &Path, kind: &str, count: u32) -> PathBuf {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    let mut name = stem(target.file_name().unwrap_or_default(), kind);
    name.push(format!("{:x}-{}-{count}", since.as_micros(), std::process::id()));
    target.with_file_name(name)
}

/// Makes a new draft of a folder; the file is its lock.
pub(crate) fn make(target: &Path) -> io::Result<(PathBuf, File)> {
    for count in 0..TRIES {
        let draft = beside(target, "partial", count);
        match disk::make_folder(&draft) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
            other => other?,
        }
        match own(&draft) {
            Ok(owner) => return Ok((draft, owner)),
            // Somebody who cleaned up took it for a dead one.
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => {
                // Nothing better can be done with an error while another is being told.
                let _ = disk::remove_folder(&draft);
                return Err(error);
            }
        }
    }
    Err(io::Error::other("no name for a draft is free"))
}

fn own(draft: &Path) -> io::Result<File> {
    let mut owner = disk::create(&draft.join(OWNER))?;
    // Some disks of networks know no locks; then nobody takes the draft for a dead one.
    let _ = owner.try_lock();
    disk::write(&mut owner, WORDS.as_bytes())?;
    Ok(owner)
}

/// Cleans up after programs that were ended while they wrote `target`, and says what became of it where
/// one was ended while it replaced it. What cannot be cleaned up stays and blocks nothing.
pub(crate) fn clean_up(target: &Path) -> Option<String> {
    let name = target.file_name()?;
    let mut told = None;
    // A program may have been ended just after it gave the folder its name.
    let owner = target.join(OWNER);
    if OpenOptions::new().write(true).open(&owner).is_ok_and(|owner| owner.try_lock().is_ok()) {
        let _ = disk::remove(&owner);
    }
    for path in hidden(target, &stem(name, "partial")) {
        if is_dead(&path) {
            let _ = disk::remove_folder(&path);
        }
    }
    for path in hidden(target, &stem(name, "old")) {
        let _ = disk::remove_folder(&path);
    }
    for path in hidden(target, &stem(name, "earlier")) {
        let shown = target.display();
        if target.symlink_metadata().is_ok() {
            // The new one is in place whole, or somebody put something else there.
            if target.join(LIST).is_file() {
                let _ = disk::remove_folder(&path);
            }
        } else if disk::rename_new(&path, target).is_ok() {
            told = Some(format!(
                "A run was ended while it replaced `{shown}`; the earlier one is back in its place."
            ));
        }
    }
    told
}

/// Folders beside `target` whose names begin with `stem`.
fn hidden(target: &Path, stem: &OsString) -> Vec<PathBuf> {
    let parent = match target.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let Ok(entries) = std::fs::read_dir(parent) else { return Vec::new() };
    let stem = stem.as_encoded_bytes();
    let mut found: Vec<PathBuf> = entries
        .flatten()
        .filter(|entry| entry.file_name().as_encoded_bytes().starts_with(stem))
        .filter(|entry| entry.file_type().is_ok_and(|kind| kind.is_dir()))
        .map(|entry| entry.path())
        .collect();
    found.sort();
    found
}

/// Whether nobody writes a draft any more: its lock is free; or it has no owner and is a whole folder
/// that was replaced, or nothing at all.
fn is_dead(draft: &Path) -> bool {
    match OpenOptions::new().write(true).open(draft.join(OWNER)) {
        Ok(owner) => owner.try_lock().is_ok(),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            let is_empty = || std::fs::read_dir(draft).is_ok_and(|mut all| all.next().is_none());
            draft.join(LIST).is_file() || is_empty()
        }
        Err(_) => false,
    }
}
