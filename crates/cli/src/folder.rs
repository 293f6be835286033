//! A folder that appears whole or not at all.
//!
//! Files are written into a hidden sibling folder, which takes the wanted name only when all of
//! them are safely on the disk. Until then nothing that was there is touched; a draft that is
//! dropped removes itself. An earlier report is replaced only when asked, and only if it is one.

use crate::failure::Failure;
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

/// The file by which a folder is known as a report of this program.
pub(crate) const MARK: &str = "summary.json";

/// A report folder in the making.
#[derive(Debug)]
pub(crate) struct Draft {
    target: PathBuf,
    partial: PathBuf,
    replace: bool,
    mark: &'static str,
    finished: bool,
}

impl Draft {
    /// Begins a draft that is to become `target`; of what is there, only a folder that holds `mark`
    /// may be replaced.
    pub(crate) fn begin(target: &Path, replace: bool, mark: &'static str) -> Result<Self, Failure> {
        let Some(name) = target.file_name().and_then(|name| name.to_str()) else {
            return Err(Failure::Files(format!("`{}` cannot name a folder", target.display())));
        };
        if target.exists() {
            allowed_to_replace(target, replace, mark)?;
        }
        let parent = match target.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        let partial = parent.join(format!(".{name}.partial-{}", std::process::id()));
        fs::create_dir(&partial).map_err(|error| {
            Failure::Files(format!(
                "cannot write into `{}`: {error}; name a folder that exists and that you may write \
                 to, with --into",
                parent.display()
            ))
        })?;
        Ok(Self { target: target.to_owned(), partial, replace, mark, finished: false })
    }

    /// Writes one file, `name` being relative to the folder.
    pub(crate) fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let path = self.partial.join(name);
        let write = || -> io::Result<()> {
            if let Some(parent) = path.parent() {
                fs::create_dir_all(parent)?;
            }
            let mut file = fs::File::create(&path)?;
            file.write_all(bytes)?;
            // Some disks tell that they are full only now.
            file.sync_all()
        };
        write().map_err(|error| {
            Failure::Files(format!(
                "cannot write `{name}` for `{}`: {error}; nothing is left behind",
                self.target.display()
            ))
        })
    }

    /// Gives the folder its name.
    pub(crate) fn finish(mut self) -> Result<PathBuf, Failure> {
        let failed = |error: io::Error| {
            let target = self.target.display();
            Failure::Files(format!("cannot put the report at `{target}`: {error}"))
        };
        if self.target.exists() {
            allowed_to_replace(&self.target, self.replace, self.mark)?;
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
            // Nothing better can be done with an error while another is being told.
            let _ = fs::remove_dir_all(&self.partial);
        }
    }
}

fn allowed_to_replace(target: &Path, replace: bool, mark: &str) -> Result<(), Failure> {
    let shown = target.display();
    if !replace {
        Err(Failure::Files(format!(
            "`{shown}` exists already; name another folder with --into, or add --replace to \
             replace an earlier report"
        )))
    } else if !target.join(mark).is_file() {
        Err(Failure::Files(format!(
            "`{shown}` is no report of this program (it holds no {mark}), so it is left alone; \
             name another folder with --into"
        )))
    } else {
        Ok(())
    }
}

/// The first free name of `stem`, `stem-2`, … in the current folder.
pub(crate) fn free_name(stem: &str) -> PathBuf {
    let numbered = (2..).map(|number| PathBuf::from(format!("{stem}-{number}")));
    std::iter::once(PathBuf::from(stem))
        .chain(numbered)
        .find(|path| !path.exists())
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_finished_draft_is_there_whole_and_a_dropped_one_leaves_nothing() {
        let home = tempfile::tempdir().unwrap();
        let draft = Draft::begin(&home.path().join("report"), false, MARK).unwrap();
        draft.write("a/b.txt", b"x").unwrap();
        drop(draft);
        assert!(names(home.path()).is_empty());
        let draft = Draft::begin(&home.path().join("report"), false, MARK).unwrap();
        draft.write("a/b.txt", b"x").unwrap();
        draft.finish().unwrap();
        assert_eq!(names(home.path()), ["report"]);
        assert_eq!(fs::read(home.path().join("report/a/b.txt")).unwrap(), b"x");
    }

    #[test]
    fn what_is_no_report_is_never_replaced() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("thesis");
        fs::create_dir(&target).unwrap();
        fs::write(target.join("chapter.txt"), "years of work").unwrap();
        assert!(Draft::begin(&target, false, MARK).is_err());
        assert!(Draft::begin(&target, true, MARK).is_err());
        assert_eq!(names(home.path()), ["thesis"]);
    }

    #[test]
    fn a_report_is_replaced_only_when_asked_and_only_at_the_end() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("report");
        fs::create_dir(&target).unwrap();
        fs::write(target.join(MARK), "old").unwrap();
        assert!(Draft::begin(&target, false, MARK).is_err());
        let draft = Draft::begin(&target, true, MARK).unwrap();
        draft.write(MARK, b"new").unwrap();
        assert_eq!(fs::read(target.join(MARK)).unwrap(), b"old");
        draft.finish().unwrap();
        assert_eq!(fs::read(target.join(MARK)).unwrap(), b"new");
        assert_eq!(names(home.path()), ["report"]);
    }

    #[test]
    fn a_folder_that_cannot_be_written_is_told_before_anything_is_computed() {
        let home = tempfile::tempdir().unwrap();
        let refused = Draft::begin(&home.path().join("no/such/report"), false, MARK).unwrap_err();
        assert_eq!(refused.exit_code(), 4);
        assert!(refused.to_string().contains("--into"), "{refused}");
    }
}
