//! A folder that appears whole or not at all.
//!
//! Files are written into a hidden sibling folder, which takes the wanted name only when all of
//! them are safely on the disk. Until then nothing that was there is touched; a draft that is
//! dropped removes itself. An earlier folder is replaced only when asked, only if this program
//! wrote it, and only if nothing in it would be lost that somebody else put there: the list of
//! `crate::written` tells which files these are. What this program did not write stays in any case.

#[cfg(test)]
mod tests;

use crate::arguments::FolderArguments;
use crate::failure::Failure;
use crate::terminal::shown;
use crate::written::{LIST, OWNER, Written};
use crate::{disk, drafts, stopping};
use std::collections::BTreeSet;
use std::ffi::OsString;
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::thread;

/// The file by which a folder is known as a report of this program.
pub(crate) const MARK: &str = "summary.json";

/// Files that are kept open until they are on the disk, at most.
const MOST_UNSYNCED: usize = 128;
/// Threads that wait for the disk.
const SYNCED_AT_ONCE: usize = 16;

/// What may be done with a folder that is there already.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Permission {
    replace: bool,
    discard_edits: bool,
}

/// A report folder in the making.
#[derive(Debug)]
pub(crate) struct Draft {
    target: PathBuf,
    /// The usual name, where none was asked for: the next free one is as good.
    stem: Option<String>,
    partial: PathBuf,
    /// Its lock tells others that the draft is alive.
    owner: Option<fs::File>,
    permission: Permission,
    mark: &'static str,
    written: Written,
    /// Files that may not be on the disk yet, with their names.
    unsynced: Vec<(String, fs::File)>,
    /// Folders in it whose names may not be on the disk yet.
    folders: BTreeSet<PathBuf>,
    /// Name and content of a file that comes back under another name.
    elsewhere: Option<(&'static str, Vec<u8>)>,
    finished: bool,
}

impl Draft {
    /// Begins a draft that is to become the folder asked for, or the next free name after `stem`;
    /// of what is there, only a folder that holds `mark` may be replaced. `known` are the names and
    /// texts of files that will be written as they are given.
    pub(crate) fn begin(
        asked: &FolderArguments,
        stem: &str,
        mark: &'static str,
        known: &[(&str, &str)],
    ) -> Result<Self, Failure> {
        // Whoever writes can be stopped, and leaves nothing behind.
        stopping::flag()?;
        let usual = asked.into.is_none().then(|| stem.to_owned());
        let target = asked.into.clone().unwrap_or_else(|| free_name(stem));
        let target = where_it_leads(target)?;
        let permission = Permission { replace: asked.replace, discard_edits: asked.discard_edits };
        if target.file_name().is_none() {
            return Err(Failure::Files(format!("`{}` cannot name a folder", target.display())));
        }
        if let Some(told) = drafts::clean_up(&target) {
            // If standard error is gone there is nobody to tell.
            let _ = writeln!(io::stderr(), "{}", shown(&told));
        }
        if target.symlink_metadata().is_ok() {
            let stays = |name: &str, bytes: &[u8]| {
                known.iter().any(|(known, text)| *known == name && text.as_bytes() == bytes)
            };
            allowed_to_replace(&target, permission, mark, &stays)?;
        }
        let (partial, owner) = drafts::make(&target).map_err(|error| {
            let parent = target.parent().filter(|parent| !parent.as_os_str().is_empty());
            Failure::Files(format!(
                "cannot write `{}` into `{}`: {error}. Use --into to name a folder that exists and \
                 that you may write to",
                target.file_name().unwrap_or_default().display(),
                parent.unwrap_or(Path::new(".")).display()
            ))
        })?;
        stopping::begun(&partial);
        Ok(Self {
            target,
            stem: usual,
            folders: BTreeSet::from([partial.clone()]),
            partial,
            owner: Some(owner),
            permission,
            mark,
            written: Written::default(),
            unsynced: Vec::new(),
            elsewhere: None,
            finished: false,
        })
    }

    /// Writes one file, `name` being relative to the folder.
    pub(crate) fn write(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        self.put(name, bytes)?;
        self.written.add(name, bytes);
        Ok(())
    }

    /// Lets an edited file `name` be replaced if it holds just this, which is written under another
    /// name too.
    pub(crate) fn kept_elsewhere(&mut self, name: &'static str, bytes: &[u8]) {
        self.elsewhere = Some((name, bytes.to_vec()));
    }

    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let path = self.partial.join(name);
        let write = || -> io::Result<fs::File> {
            if let Some(parent) = path.parent() {
                disk::make_folders(parent)?;
            }
            let mut file = disk::create(&path)?;
            disk::write(&mut file, bytes)?;
            Ok(file)
        };
        let file = write().map_err(|error| self.cannot_write(name, &error))?;
        self.unsynced.push((name.to_owned(), file));
        let inside = path.ancestors().skip(1).take_while(|one| *one != self.partial);
        self.folders.extend(inside.map(Path::to_owned));
        if self.unsynced.len() < MOST_UNSYNCED { Ok(()) } else { self.sync() }
    }

    /// Waits until all that was written is on the disk. The files are synced side by side: a disk
    /// takes hardly longer for many than for one, and others were written meanwhile.
    fn sync(&mut self) -> Result<(), Failure> {
        let files = std::mem::take(&mut self.unsynced);
        // Some disks tell that they are full only now.
        let synced = |(name, file): &(String, fs::File)| {
            disk::sync(file).map_err(|error| self.cannot_write(name, &error))
        };
        thread::scope(|scope| {
            let many = files.len().div_ceil(SYNCED_AT_ONCE).max(1);
            let parts = files.chunks(many);
            let waiting: Vec<_> =
                parts.map(|part| scope.spawn(|| part.iter().try_for_each(synced))).collect();
            let fault = || Failure::Fault("a file could not be waited for".to_owned());
            waiting.into_iter().try_for_each(|part| part.join().map_err(|_| fault())?)
        })
    }

    fn cannot_write(&self, name: &str, error: &io::Error) -> Failure {
        Failure::Files(format!(
            "cannot write `{name}` for `{}`: {error}. Nothing is left behind",
            self.target.display()
        ))
    }

    /// Gives the folder its name.
    pub(crate) fn finish(mut self) -> Result<PathBuf, Failure> {
        let list = self.written.to_text();
        self.put(LIST, list.as_bytes())?;
        self.sync()?;
        if cfg!(windows) {
            // There a folder with an open file in it keeps its name.
            self.owner = None;
        }
        let _placing = stopping::placing();
        self.name_it()?;
        self.finished = true;
        stopping::placed();
        stopping::ended(&self.partial);
        // The report is there; what cannot be tidied up now is next time.
        let _ = disk::remove(&self.target.join(OWNER));
        self.owner = None;
        Ok(self.target.clone())
    }

    fn name_it(&mut self) -> Result<(), Failure> {
        loop {
            match self.place() {
                // Somebody took the usual name meanwhile: the next one is as good.
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => match &self.stem {
                    Some(stem) => self.target = free_name(stem),
                    None => return self.replace(),
                },
                other => return other.map_err(|error| self.cannot_place(&error)),
            }
        }
    }

    fn cannot_place(&self, error: &io::Error) -> Failure {
        let target = self.target.display();
        Failure::Files(format!(
            "cannot put the report at `{target}`: {error}. Nothing is left behind"
        ))
    }

    /// Gives it a name that nothing has.
    fn place(&self) -> io::Result<()> {
        if self.target.symlink_metadata().is_ok() {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        self.folders.iter().rev().try_for_each(|folder| disk::sync_folder(folder))?;
        disk::rename_new(&self.partial, &self.target)?;
        // It has its name; that the name is not on the disk yet is no reason to call it failed.
        let _ = self.target.parent().map_or(Ok(()), disk::sync_folder);
        Ok(())
    }

    /// Takes the place of an earlier folder, where that is allowed.
    fn replace(&mut self) -> Result<(), Failure> {
        let stays = |name: &str, bytes: &[u8]| {
            let elsewhere = self.elsewhere.as_ref();
            self.written.has(name, bytes)
                || elsewhere.is_some_and(|(known, kept)| *known == name && kept == bytes)
        };
        allowed_to_replace(&self.target, self.permission, self.mark, &stays)?;
        let old = self.take_along().and_then(|()| self.change_places());
        let old = old.map_err(|error| self.cannot_place(&error))?;
        let _ = self.target.parent().map_or(Ok(()), disk::sync_folder);
        disk::remove_folder(&old).map_err(|error| {
            self.finished = true;
            let old = old.display();
            Failure::Files(format!(
                "the report is written, but the earlier one stays as `{old}`: {error}. The next run \
                 removes it"
            ))
        })
    }

    /// Files that this program did not write stay: they lie in the new folder too, before it takes the
    /// place of the one that they are in.
    fn take_along(&mut self) -> io::Result<()> {
        let text = fs::read_to_string(self.target.join(LIST)).unwrap_or_default();
        let known = Written::of_text(&text);
        let all = Written::default().edited(&self.target, &|_, _| false)?;
        for name in all.iter().filter(|name| !name.to_str().is_some_and(|name| known.knows(name))) {
            let (from, to) = (self.target.join(name), self.partial.join(name));
            if to.symlink_metadata().is_ok() {
                continue;
            }
            if let Some(parent) = to.parent() {
                disk::make_folders(parent)?;
            }
            if name.as_encoded_bytes().ends_with(b"/") {
                disk::make_folders(&to)?;
            } else if disk::link(&from, &to).is_err() {
                // Not every disk links.
                let mut copy = disk::create(&to)?;
                disk::write(&mut copy, &fs::read(&from)?)?;
                disk::sync(&copy)?;
            }
        }
        self.folders.iter().rev().try_for_each(|folder| disk::sync_folder(folder))
    }

    /// Puts the draft in the place of what is there, and gives the place where that lies then.
    fn change_places(&self) -> io::Result<PathBuf> {
        let old = drafts::beside(&self.target, "old", 0);
        if disk::exchange(&self.partial, &self.target)? {
            // What was there has the draft's name now; by another one it is known as done with.
            let renamed = disk::rename(&self.partial, &old);
            return Ok(if renamed.is_ok() { old } else { self.partial.clone() });
        }
        let earlier = drafts::beside(&self.target, "earlier", 0);
        disk::rename(&self.target, &earlier)?;
        if let Err(error) = disk::rename(&self.partial, &self.target) {
            // Put the earlier report back before saying so.
            disk::rename(&earlier, &self.target)?;
            return Err(error);
        }
        Ok(earlier)
    }
}

impl Drop for Draft {
    fn drop(&mut self) {
        if !self.finished {
            // Some systems remove no file that is open.
            self.unsynced.clear();
            self.owner = None;
            // Nothing better can be done with an error while another is being told.
            let _ = disk::remove_folder(&self.partial);
        }
        stopping::ended(&self.partial);
    }
}

/// The folder that a name leads to, links followed.
fn where_it_leads(target: PathBuf) -> Result<PathBuf, Failure> {
    if !target.symlink_metadata().is_ok_and(|about| about.file_type().is_symlink()) {
        return Ok(target);
    }
    target.canonicalize().map_err(|error| {
        let shown = target.display();
        Failure::Files(format!("`{shown}` is a link that leads nowhere: {error}. Remove it first"))
    })
}

/// Refuses where replacing `target` is not allowed; `stays` tells whether a file of this name and
/// content comes back.
fn allowed_to_replace(
    target: &Path,
    permission: Permission,
    mark: &str,
    stays: &dyn Fn(&str, &[u8]) -> bool,
) -> Result<(), Failure> {
    let shown = target.display();
    if !permission.replace {
        return Err(Failure::Files(format!(
            "`{shown}` exists already. Name another folder with --into, or add --replace to \
             replace an earlier report"
        )));
    }
    if !target.join(mark).is_file() {
        return Err(Failure::Files(format!(
            "`{shown}` is no report of this program (it holds no {mark}), so it is left alone. \
             Name another folder with --into"
        )));
    }
    if permission.discard_edits {
        return Ok(());
    }
    let Ok(list) = fs::read_to_string(target.join(LIST)) else {
        return Err(Failure::Files(format!(
            "`{shown}` has no list of the files that were written into it ({LIST}), so your own \
             edits can't be told apart. Nothing was changed. Name another folder with --into, or \
             add --discard-edits to throw away all that it holds"
        )));
    };
    let cannot = |error: io::Error| Failure::Files(format!("cannot read `{shown}`: {error}"));
    let edited = Written::of_text(&list).edited(target, stays).map_err(cannot)?;
    if edited.is_empty() {
        return Ok(());
    }
    Err(Failure::Files(format!(
        "`{shown}` holds {} added or edited since it was written: {}. Nothing was changed. Move \
         {} out of the folder, name another folder with --into, or add --discard-edits: then edits of \
         what this program wrote are thrown away, and what was added stays",
        if edited.len() == 1 { "a file that was" } else { "files that were" },
        few(&edited),
        if edited.len() == 1 { "it" } else { "them" },
    )))
}

/// The first few names, and how many more there are.
fn few(names: &[OsString]) -> String {
    const SHOWN: usize = 5;
    let shown: Vec<_> = names.iter().take(SHOWN).map(|name| name.to_string_lossy()).collect();
    let shown = shown.join(", ");
    match names.len().saturating_sub(SHOWN) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}

/// The first free name of `stem`, `stem-2`, … in the current folder.
fn free_name(stem: &str) -> PathBuf {
    let numbered = (2..).map(|number| PathBuf::from(format!("{stem}-{number}")));
    std::iter::once(PathBuf::from(stem))
        .chain(numbered)
        .find(|path| path.symlink_metadata().is_err())
        .unwrap_or_default()
}
