//! Which files of a study's folder are as gathering left them, so that none that somebody edited or put
//! there is replaced unasked.
//!
//! The list of them gains what is about to be placed before anything is: wherever gathering is ended,
//! what it left is known as its own, and gathering again goes well.

use super::aside::Aside;
use crate::disk;
use crate::failure::Failure;
use crate::reading;
use crate::written::fingerprint_of;
use std::collections::BTreeSet;
use std::path::Path;

/// The list: a line a file, its fingerprint and its name.
const LIST: &str = ".evenfall-gathered";

/// Gives files their names in the study's folder `into`; in place of others than gathering wrote only
/// where `replace`.
pub(super) fn place(into: &Path, files: Vec<Aside<'_>>, replace: bool) -> Result<(), Failure> {
    let known = reading::text(&into.join(LIST)).unwrap_or_default();
    let known: BTreeSet<&str> = known.lines().collect();
    let (mut list, mut others) = (BTreeSet::new(), Vec::new());
    for file in &files {
        file.sync()?;
        let line = |fingerprint: String| format!("{fingerprint} {}", file.name());
        let comes = line(file.fingerprint()?);
        let target = file.target();
        if let Ok(about) = target.symlink_metadata() {
            // A link or a pipe was not written here, and is not read.
            let there = if about.is_file() {
                let read = reading::file(&target).and_then(fingerprint_of);
                Some(line(read.map_err(|error| file.cannot_write(&error))?))
            } else {
                None
            };
            match there {
                Some(there) if there == comes || known.contains(there.as_str()) => {
                    list.insert(there);
                }
                _ => others.push(file.name()),
            }
        }
        list.insert(comes);
    }
    if !others.is_empty() && !replace {
        return Err(Failure::Files(format!(
            "`{}` holds what was edited since it was gathered, or what gathering did not write: {}. \
             Nothing was changed. Move it out of the folder, or add --replace to throw it away",
            into.display(),
            others.join(", ")
        )));
    }
    let text = list.iter().fold(String::new(), |text, line| text + line + "\n");
    let mut kept = Aside::begin(into, LIST)?;
    disk::write(&mut kept.file, text.as_bytes()).map_err(|error| kept.cannot_write(&error))?;
    kept.sync()?;
    kept.place()?;
    files.into_iter().try_for_each(Aside::place)
}
