//! The list of what was written into a folder, so that a file that somebody added or edited since
//! is known and never thrown away unasked.
//!
//! A line for each file: its FNV-1a hash (64 bits, Fowler, Noll and Vo), its length in bytes, its
//! name. The hash finds edits; it is no guard against forgery.

use evenfall_core::shown::{EMPTY_HASH, hashed};
use std::collections::BTreeMap;
use std::ffi::{OsStr, OsString};
use std::fs;
use std::io;
use std::path::Path;

/// The name of the list in the folder.
pub(crate) const LIST: &str = ".evenfall-files";
/// The file by which a draft is known to have an owner.
pub(crate) const OWNER: &str = ".evenfall-draft";

/// What the computer, not a person, puts into folders that it shows.
const OF_THE_SYSTEM: [&str; 3] = [".DS_Store", "Thumbs.db", "desktop.ini"];

/// Names and fingerprints of what was written.
#[derive(Debug, Default)]
pub(crate) struct Written(BTreeMap<String, String>);

impl Written {
    pub(crate) fn add(&mut self, name: &str, bytes: &[u8]) {
        self.0.insert(name.to_owned(), fingerprint(bytes));
    }

    /// Whether a file of this name and content was written.
    pub(crate) fn has(&self, name: &str, bytes: &[u8]) -> bool {
        self.0.get(name).is_some_and(|known| *known == fingerprint(bytes))
    }

    /// Whether a file of this name was written, whatever became of it.
    pub(crate) fn knows(&self, name: &str) -> bool {
        self.0.contains_key(name)
    }

    pub(crate) fn to_text(&self) -> String {
        self.0.iter().fold(String::new(), |text, (name, mark)| text + mark + " " + name + "\n")
    }

    /// The list that [`Written::to_text`] made; of a damaged one, what can be read.
    pub(crate) fn of_text(text: &str) -> Self {
        let line = |line: &str| {
            let (hash, rest) = line.split_once(' ')?;
            let (length, name) = rest.split_once(' ')?;
            Some((name.to_owned(), format!("{hash} {length}")))
        };
        Self(text.lines().filter_map(line).collect())
    }

    /// Files in `folder` that are not as written, but for those that `stays` says come back.
    pub(crate) fn edited(
        &self,
        folder: &Path,
        stays: &dyn Fn(&str, &[u8]) -> bool,
    ) -> io::Result<Vec<OsString>> {
        let mut found = Vec::new();
        self.collect(folder, OsStr::new(""), stays, &mut found)?;
        found.sort();
        Ok(found)
    }

    fn collect(
        &self,
        folder: &Path,
        below: &OsStr,
        stays: &dyn Fn(&str, &[u8]) -> bool,
        found: &mut Vec<OsString>,
    ) -> io::Result<()> {
        let mut is_empty = true;
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            is_empty = false;
            let (own, kind) = (entry.file_name(), entry.file_type()?);
            let is = |name: &str| own == *name;
            let is_of_the_system =
                OF_THE_SYSTEM.into_iter().any(is) || (below.is_empty() && (is(LIST) || is(OWNER)));
            // A folder of such a name is somebody's.
            if is_of_the_system && kind.is_file() {
                continue;
            }
            let mut name = below.to_owned();
            name.push(&own);
            if kind.is_dir() {
                name.push("/");
                self.collect(&entry.path(), &name, stays, found)?;
                continue;
            }
            // A link or a pipe was not written here, and is not read.
            if !kind.is_file() {
                found.push(name);
                continue;
            }
            let bytes = fs::read(entry.path())?;
            // What is written here has names that are text.
            let is_known = |name: &str| self.has(name, &bytes) || stays(name, &bytes);
            if !name.to_str().is_some_and(is_known) {
                found.push(name);
            }
        }
        if is_empty && !below.is_empty() {
            // None is ever written empty.
            found.push(below.to_owned());
        }
        Ok(())
    }
}

fn fingerprint(bytes: &[u8]) -> String {
    format!("{:016x} {}", hashed(EMPTY_HASH, bytes), bytes.len())
}

/// The same of a file that may be larger than memory.
pub(crate) fn fingerprint_of(mut file: impl io::Read) -> io::Result<String> {
    let (mut hash, mut length) = (EMPTY_HASH, 0);
    let mut piece = vec![0; 1 << 16];
    loop {
        match file.read(&mut piece) {
            Ok(0) => return Ok(format!("{hash:016x} {length}")),
            Ok(read) => {
                hash = hashed(hash, &piece[..read]);
                length += read;
            }
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_fingerprints_are_fnv_1a() {
        // Test vectors of the authors: "" and "foobar".
        assert_eq!(fingerprint(b""), "cbf29ce484222325 0");
        assert_eq!(fingerprint(b"foobar"), "85944171f73967e8 6");
        assert_eq!(fingerprint_of(&b"foobar"[..]).unwrap(), fingerprint(b"foobar"));
    }

    #[test]
    fn only_what_was_added_or_edited_is_found() {
        let home = tempfile::tempdir().unwrap();
        let mut written = Written::default();
        fs::create_dir(home.path().join("a")).unwrap();
        for (name, text) in [("a/same it is", "one"), ("edited", "two"), ("back", "three")] {
            written.add(name, text.as_bytes());
            fs::write(home.path().join(name), text).unwrap();
        }
        let read = Written::of_text(&written.to_text());
        assert!(read.edited(home.path(), &|_, _| false).unwrap().is_empty());
        fs::create_dir(home.path().join("Thumbs.db")).unwrap();
        let new = [("edited", "twice"), ("back", "mine"), ("a/new", ""), (LIST, "x")];
        for (name, text) in new.into_iter().chain([("a/.DS_Store", "x"), ("Thumbs.db/own", "x")]) {
            fs::write(home.path().join(name), text).unwrap();
        }
        let stays = |name: &str, bytes: &[u8]| name == "back" && bytes == b"mine";
        assert_eq!(read.edited(home.path(), &stays).unwrap(), ["Thumbs.db/own", "a/new", "edited"]);
    }
}
