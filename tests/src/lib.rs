//! What the tests of the project itself share: its files.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The project's root folder.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The project's files, relative to its root, in order: those git knows or would take in; where
/// there is no git, all but hidden and built ones.
///
/// # Errors
/// If a folder cannot be read.
pub fn project_files() -> io::Result<Vec<String>> {
    let git = Command::new("git")
        .args(["ls-files", "--cached", "--others", "--exclude-standard"])
        .current_dir(root())
        .output();
    let mut files = match git {
        Ok(output) if output.status.success() => {
            let listed = String::from_utf8_lossy(&output.stdout).into_owned();
            // A file that is taken out but not yet so in git.
            listed.lines().filter(|name| root().join(name).is_file()).map(str::to_owned).collect()
        }
        _ => {
            let mut found = Vec::new();
            collect("", &mut found)?;
            found
        }
    };
    files.sort();
    files.dedup();
    Ok(files)
}

fn collect(below: &str, found: &mut Vec<String>) -> io::Result<()> {
    for entry in fs::read_dir(root().join(below))? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.starts_with('.') || name == "target" || name.starts_with("evenfall-report") {
            continue;
        }
        let path = if below.is_empty() { name } else { format!("{below}/{name}") };
        if entry.file_type()?.is_dir() {
            collect(&path, found)?;
        } else {
            found.push(path);
        }
    }
    Ok(())
}
