//! Files that are read: plain ones of a size that some real scenario, log or record has.
//!
//! A pipe or a device may never end, and a folder is none, so neither is opened: whoever names one is
//! told so at once.

use std::fs::{self, File};
use std::io::{self, Read as _};
use std::path::Path;

/// Largest file that is read, bytes: forty years of hourly weather in words have some 40 MB.
const MOST_BYTES: u64 = 64 << 20;

/// The bytes of the file at `path`.
pub(crate) fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    let mut found = Vec::new();
    // What is said of the size need not hold while it is read.
    file(path)?.take(MOST_BYTES + 1).read_to_end(&mut found)?;
    if found.len() as u64 > MOST_BYTES {
        let told = format!("it is larger than {} MB", MOST_BYTES >> 20);
        return Err(io::Error::new(io::ErrorKind::FileTooLarge, told));
    }
    Ok(found)
}

/// The file at `path`, to be read piece by piece.
pub(crate) fn file(path: &Path) -> io::Result<File> {
    let about = fs::metadata(path)?;
    if let Some(other) = other_than_file(about.file_type()) {
        let told = format!("it is {other}, not a file. Save it as a file and name that");
        return Err(io::Error::new(io::ErrorKind::InvalidInput, told));
    }
    File::open(path)
}

/// The text of the file at `path`, without the mark that some editors put before it (U+FEFF).
pub(crate) fn text(path: &Path) -> io::Result<String> {
    let text = String::from_utf8(bytes(path)?)
        .map_err(|_| io::Error::new(io::ErrorKind::InvalidData, "it is not text in UTF-8"))?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

/// What it is where it is no plain file.
fn other_than_file(kind: fs::FileType) -> Option<&'static str> {
    if kind.is_file() {
        return None;
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::FileTypeExt as _;
        if kind.is_fifo() {
            return Some("a pipe");
        }
        if kind.is_socket() {
            return Some("a socket");
        }
        if kind.is_char_device() || kind.is_block_device() {
            return Some("a device");
        }
    }
    Some(if kind.is_dir() { "a folder" } else { "something else" })
}
