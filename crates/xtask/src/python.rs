//! `cargo xtask python`: the Python package, tested with the library just built.
//!
//! The package is laid out in `target/python`: its sources, and the library that the workspace's build
//! has made, under the name by which Python finds it. So no second build is needed, as for a wheel. Where
//! there is no Python of 3.11 or later, or its packages cannot be fetched, that is said and the rest of the
//! check goes on: building and running Evenfall itself needs none of it.

use crate::step::{Step, say};
use std::path::{Path, PathBuf};
use std::{env, fs, io};

const OWN: &str = "crates/python";
const NAMES: [&str; 4] = ["python3", "python3.13", "python3.12", "python3.11"];

/// Tests the package; whether it could.
///
/// # Errors
/// The exit code of the step that fails.
pub(crate) fn run(root: &Path) -> Result<bool, u8> {
    let new_enough = "import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))";
    let is_fit = |name: &&&str| Step::new("python", name, &["-c", new_enough]).works();
    let Some(python) = NAMES.iter().find(is_fit) else {
        say(
            "\n== skipped: the Python package. There is no Python of 3.11 or later with venv here.",
        );
        return Ok(false);
    };
    let folder = root.join("target/python");
    let Some(python) = packages(root, &folder, python)? else { return Ok(false) };
    Step::cargo("python library", &["build", "--locked", "--workspace", "--lib"]).run()?;
    let package = folder.join("package");
    lay_out(root, &package).map_err(|error| {
        say(&format!("{}: {error}", package.display()));
        1_u8
    })?;
    let tests = root.join(OWN).join("tests");
    let words = ["-m", "pytest", "-q", "-p", "no:cacheprovider"];
    let step = Step::new("python tests", &python.to_string_lossy(), &words).within(&tests);
    step.with("PYTHONPATH", &package.to_string_lossy()).run()?;
    Ok(true)
}

/// The interpreter of a folder of its own with what the tests use, installed again only where the list has
/// changed; nothing where it cannot be fetched.
fn packages(root: &Path, folder: &Path, python: &str) -> Result<Option<PathBuf>, u8> {
    let list = root.join(OWN).join("tests/requirements.txt");
    let (home, installed) = (folder.join("packages"), folder.join("installed.txt"));
    let own = home.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    let wanted = fs::read(&list).map_err(|error| {
        say(&format!("{}: {error}", list.display()));
        1_u8
    })?;
    if own.exists() && fs::read(&installed).is_ok_and(|was| was == wanted) {
        return Ok(Some(own));
    }
    let (home, list) = (home.to_string_lossy(), list.to_string_lossy());
    Step::new("python folder", python, &["-m", "venv", "--clear", &home]).run()?;
    let words = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r", &list];
    if Step::new("python packages", &own.to_string_lossy(), &words).run().is_err() {
        say(
            "\n== skipped: the Python package. What its tests use could not be fetched (see above).",
        );
        return Ok(None);
    }
    // Without the copy they are installed again the next time, and nothing worse.
    let _ = fs::write(&installed, &wanted);
    Ok(Some(own))
}

/// Puts the package together anew.
fn lay_out(root: &Path, package: &Path) -> io::Result<()> {
    let inside = package.join("evenfall");
    if inside.exists() {
        fs::remove_dir_all(&inside)?;
    }
    fs::create_dir_all(&inside)?;
    for entry in fs::read_dir(root.join(OWN).join("python/evenfall"))? {
        let path = entry?.path();
        if let Some(name) = path.file_name().filter(|_| path.is_file()) {
            fs::copy(&path, inside.join(name))?;
        }
    }
    let (prefix, suffix) = (env::consts::DLL_PREFIX, env::consts::DLL_SUFFIX);
    let beside = env::current_exe()?;
    let built = beside.with_file_name(format!("{prefix}_evenfall{suffix}"));
    let name = if cfg!(windows) { "_evenfall.pyd" } else { "_evenfall.abi3.so" };
    fs::copy(built, inside.join(name)).map(|_| ())
}
