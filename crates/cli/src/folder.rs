//! A folder that appears whole or not at all.
//!
//! Files are written into a hidden sibling folder, which takes the wanted name only when all of
//! them are safely on the disk. Until then nothing that was there is touched; a draft that is
//! dropped removes itself. An earlier folder is replaced only when asked, only if this program
//! wrote it, and only if nothing in it would be lost that somebody else put there: the list of
//! `crate::written` tells which files these are.

#[cfg(test)]
mod tests;

use crate::arguments::FolderArguments;
use crate::failure::Failure;
use crate::written::{LIST, Written};
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
    partial: PathBuf,
    permission: Permission,
    mark: &'static str,
    written: Written,
    /// Files that may not be on the disk yet, with their names.
    unsynced: Vec<(String, fs::File)>,
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
        let target = asked.into.clone().unwrap_or_else(|| free_name(stem));
        let permission = Permission { replace: asked.replace, discard_edits: asked.discard_edits };
        let Some(name) = target.file_name() else {
            return Err(Failure::Files(format!("`{}` cannot name a folder", target.display())));
        };
        if target.exists() {
            let stays = |name: &str, bytes: &[u8]| {
                known.iter().any(|(known, text)| *known == name && text.as_bytes() == bytes)
            };
            allowed_to_replace(&target, permission, mark, &stays)?;
        }
        let parent = match target.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        let mut hidden = std::ffi::OsString::from(".");
        hidden.push(name);
        hidden.push(format!(".partial-{}", std::process::id()));
        let partial = parent.join(hidden);
        fs::create_dir(&partial).map_err(|error| {
            Failure::Files(format!(
                "cannot write into `{}`: {error}. Use --into to name a folder that exists and that \
                 you may write to",
                parent.display()
            ))
        })?;
        Ok(Self {
            target,
            partial,
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
                fs::create_dir_all(parent)?;
            }
            let mut file = fs::File::create(&path)?;
            file.write_all(bytes)?;
            Ok(file)
        };
        let file = write().map_err(|error| self.cannot_write(name, &error))?;
        self.unsynced.push((name.to_owned(), file));
        if self.unsynced.len() < MOST_UNSYNCED { Ok(()) } else { self.sync() }
    }

    /// Waits until all that was written is on the disk. The files are synced side by side: a disk
    /// takes hardly longer for many than for one, and others were written meanwhile.
    fn sync(&mut self) -> Result<(), Failure> {
        let files = std::mem::take(&mut self.unsynced);
        // Some disks tell that they are full only now.
        let synced = |(name, file): &(String, fs::File)| {
            file.sync_all().map_err(|error| self.cannot_write(name, &error))
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
        let failed = |error: io::Error| {
            let target = self.target.display();
            Failure::Files(format!("cannot put the report at `{target}`: {error}"))
        };
        if self.target.exists() {
            let stays = |name: &str, bytes: &[u8]| {
                let elsewhere = self.elsewhere.as_ref();
                self.written.has(name, bytes)
                    || elsewhere.is_some_and(|(known, kept)| *known == name && kept == bytes)
            };
            allowed_to_replace(&self.target, self.permission, self.mark, &stays)?;
            let earlier = self.partial.with_extension("earlier");
            fs::rename(&self.target, &earlier).map_err(failed)?;
            if let Err(error) = fs::rename(&self.partial, &self.target) {
                // Put the earlier report back before saying so.
                fs::rename(&earlier, &self.target).map_err(failed)?;
                return Err(failed(error));
            }
            self.finished = true;
            fs::remove_dir_all(&earlier).map_err(|error| {
                let earlier = earlier.display();
                Failure::Files(format!("the report is written, but `{earlier}` stays: {error}"))
            })?;
        } else {
            fs::rename(&self.partial, &self.target).map_err(failed)?;
            self.finished = true;
        }
        Ok(self.target.clone())
    }
}

impl Drop for Draft {
    fn drop(&mut self) {
        if !self.finished {
            // Some systems remove no file that is open.
            self.unsynced.clear();
            // Nothing better can be done with an error while another is being told.
            let _ = fs::remove_dir_all(&self.partial);
        }
    }
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
         {} out of the folder, name another folder with --into, or add --discard-edits to throw \
         {} away",
        if edited.len() == 1 { "a file that was" } else { "files that were" },
        few(&edited),
        if edited.len() == 1 { "it" } else { "them" },
        if edited.len() == 1 { "it" } else { "them" },
    )))
}

/// The first few names, and how many more there are.
fn few(names: &[String]) -> String {
    const SHOWN: usize = 5;
    let shown = names[..names.len().min(SHOWN)].join(", ");
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
        .find(|path| !path.exists())
        .unwrap_or_default()
}
