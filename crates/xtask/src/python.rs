//! `cargo xtask python`: the Python package, tested as it is installed from its wheel.
//!
//! What the tests use is kept in `target/python/packages`; the wheel is put together anew
//! (`crate::wheel`) and installed into `target/python/fresh`, an environment made anew each time that sees
//! those packages and nothing of the sources. Where there is no Python of 3.11 or later, or its packages
//! cannot be fetched, that is said and the rest of the check goes on: building and running Evenfall itself
//! needs none of it. What single tests skip (Slurm, where its packages are not to be had) pytest tells.

use crate::explorer::program;
use crate::step::{Step, say};
use crate::wheel::{self, AS_THE_TESTS};
use std::path::{Path, PathBuf};
use std::{fs, io};

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
    let Some(packages) = packages(root, &folder, python)? else { return Ok(false) };
    Step::cargo("python library", &AS_THE_TESTS).run()?;
    let wheel = wheel::build(&root.join(OWN), &packages, &folder.join("wheel"))?;
    let fresh = fresh(&folder, &packages, &wheel)?;
    let tests = root.join(OWN).join("tests");
    // -rs: a line for what is skipped, and why.
    let words = ["-m", "pytest", "-q", "-rs", "-p", "no:cacheprovider"];
    Step::new("python tests", &fresh.to_string_lossy(), &words)
        .within(&tests)
        .with("EVENFALL_BIN", &program()?.to_string_lossy())
        .with("EVENFALL_SLURM", &folder.join("slurm").to_string_lossy())
        .run()?;
    Ok(true)
}

/// The interpreter of an environment.
fn python_of(home: &Path) -> PathBuf {
    home.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" })
}

fn cannot(path: &Path) -> impl Fn(io::Error) -> u8 {
    move |error| {
        say(&format!("{}: {error}", path.display()));
        1
    }
}

/// The interpreter of a folder of its own with what the tests use, installed again only where the list has
/// changed; nothing where it cannot be fetched.
fn packages(root: &Path, folder: &Path, python: &str) -> Result<Option<PathBuf>, u8> {
    let list = root.join(OWN).join("tests/requirements.txt");
    let (home, installed) = (folder.join("packages"), folder.join("installed.txt"));
    let own = python_of(&home);
    let wanted = fs::read(&list).map_err(cannot(&list))?;
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

/// The interpreter of an environment made anew with the wheel installed; it sees `packages` beside it.
fn fresh(folder: &Path, packages: &Path, wheel: &Path) -> Result<PathBuf, u8> {
    let home = folder.join("fresh");
    let python = packages.to_string_lossy();
    let shown = home.to_string_lossy();
    let words = ["-m", "venv", "--clear", "--without-pip", &shown];
    Step::new("python fresh", &python, &words).run()?;
    let own = python_of(&home);
    let see = "import pathlib, sys, sysconfig; at = sysconfig.get_path; home = sys.argv[1]; \
               kept = at('purelib', vars={'base': home, 'platbase': home}); \
               pathlib.Path(at('purelib'), 'packages.pth').write_text(kept)";
    let kept = folder.join("packages");
    let words = ["-c", see, &kept.to_string_lossy()];
    Step::new("python packages", &own.to_string_lossy(), &words).run()?;
    let pip = ["-m", "pip", "--quiet", "--disable-pip-version-check", "--python", &shown];
    let words = ["install", "--no-deps", "--no-index", &wheel.to_string_lossy()];
    Step::new("python install", &python, &[&pip[..], &words].concat()).run()?;
    Ok(own)
}
