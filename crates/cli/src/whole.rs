//! Files that appear whole or not at all: written aside in the same folder, forced to the disk, then
//! given their name. Until then what was there is untouched.

use std::fs;
use std::io::{self, Write as _};
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
        let Some(name) = target.file_name() else {
            return Err(io::Error::new(io::ErrorKind::InvalidInput, "no name of a file"));
        };
        let mut hidden = std::ffi::OsString::from(".");
        hidden.push(name);
        hidden.push(format!(".aside-{}", std::process::id()));
        let ready = target.with_file_name(hidden);
        let mut file = fs::File::create(&ready)?;
        let made = Self { ready, target: target.to_owned(), is_placed: false };
        file.write_all(bytes)?;
        // Some disks tell that they are full only now.
        file.sync_all()?;
        Ok(made)
    }

    /// What it is to be.
    pub(crate) fn target(&self) -> &Path {
        &self.target
    }

    /// Gives the file its name, in place of what had it.
    pub(crate) fn place(mut self) -> io::Result<()> {
        fs::rename(&self.ready, &self.target)?;
        self.is_placed = true;
        self.target.parent().map_or(Ok(()), sync_folder)
    }
}

impl Drop for Aside {
    fn drop(&mut self) {
        if !self.is_placed {
            // Nothing better can be done with an error while another is being told.
            let _ = fs::remove_file(&self.ready);
        }
    }
}

/// Writes a whole file.
pub(crate) fn write(target: &Path, bytes: &[u8]) -> io::Result<()> {
    Aside::write(target, bytes)?.place()
}

/// Forces the names in a folder to the disk, where the system has that.
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    // The parent of a bare name is the folder where one stands.
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    if cfg!(unix) { fs::File::open(folder)?.sync_all() } else { Ok(()) }
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
