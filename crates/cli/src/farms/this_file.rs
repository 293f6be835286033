//! The scenario file that the explorer was started with: kept where it lies, with its versions in the
//! farms' folder, so that nothing litters the place beside it.

use super::home::Home;
use super::names;
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

/// The folder for versions of files that lie elsewhere.
pub(super) const ELSEWHERE: &str = "files-elsewhere";

/// A scenario file somewhere.
#[derive(Debug)]
pub(super) struct ThisFile {
    path: PathBuf,
    versions: PathBuf,
    /// The word by which addresses call it: another file's is another, so that what a browser
    /// remembers of one is never kept as the other.
    pub(super) word: String,
}

impl ThisFile {
    /// The file at `path`, links followed once and for all; nothing where it cannot be found.
    pub(super) fn new(path: &Path, farms: &Path) -> Option<Self> {
        let path = path.canonicalize().ok()?;
        let digest = Sha256::digest(path.as_os_str().as_encoded_bytes());
        let mut mark = String::new();
        for byte in digest.iter().take(6) {
            // Writing to a text does not fail.
            let _ = write!(mark, "{byte:02x}");
        }
        let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
        let stem = names::folder(&stem.unwrap_or_default(), &|_| false);
        let versions = farms.join(ELSEWHERE).join(format!("{stem}-{mark}"));
        Some(Self { path, versions, word: format!("this-file-{mark}") })
    }

    pub(super) fn name(&self) -> String {
        self.path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
    }

    pub(super) fn home(&self) -> Home {
        Home::of_file(&self.path, self.versions.clone())
    }
}
