//! `cargo xtask explorer`: the page of the explorer.
//!
//! The built page lies in `crates/explorer/assets`, so that building the program needs no Node. Here
//! it is proved that those files come from the sources beside them, byte by byte, that the page's types
//! of the interface follow from `shared/explorer.openapi.json`, and that the page works in a real
//! browser against the program just built.

use crate::step::{Step, say};
use crate::wheel::AS_THE_TESTS;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::{env, fs, io};

const WEB: &str = "crates/explorer/web";
const ASSETS: &str = "crates/explorer/assets";
/// Either will do for the tests; the shell, which shows no window, is quicker.
const CHROMIUMS: [&str; 2] = ["/usr/bin/chromium-headless-shell", "/usr/bin/chromium"];

/// All of it, in order.
///
/// # Errors
/// The exit code of the step that fails, having said why.
pub(crate) fn run() -> Result<(), u8> {
    has_node()?;
    has_chromium()?;
    packages()?;
    web("types of the interface", &["run", "types", "--", "--check"]).run()?;
    web("page types", &["run", "typecheck"]).run()?;
    is_current()?;
    Step::cargo("page program", &AS_THE_TESTS).run()?;
    web("page tests", &["test"]).with("EVENFALL_BIN", &program()?.to_string_lossy()).run()
}

/// Writes the types of the interface and the built page again.
///
/// # Errors
/// The exit code of the step that fails.
pub(crate) fn build() -> Result<(), u8> {
    has_node()?;
    packages()?;
    web("types of the interface", &["run", "types"]).run()?;
    web("page", &["run", "build"]).run()
}

/// The project's folder, from wherever the chore is called.
pub(crate) fn root() -> PathBuf {
    let own = env::var_os("CARGO_MANIFEST_DIR").map(PathBuf::from).unwrap_or_default();
    own.ancestors().nth(2).unwrap_or(Path::new("")).to_owned()
}

fn web(name: &'static str, words: &[&str]) -> Step {
    Step::new(name, "npm", words).within(&root().join(WEB))
}

/// Installs the page's packages as its lock file says, unless just those lie there: beside them stands
/// a copy of the lock file that they were installed from.
fn packages() -> Result<(), u8> {
    let lock = root().join(WEB).join("package-lock.json");
    let installed = root().join(WEB).join("node_modules/.installed-from");
    let wanted = fs::read(&lock).map_err(|error| {
        say(&format!("{}: {error}", lock.display()));
        1_u8
    })?;
    if fs::read(&installed).is_ok_and(|was| was == wanted) {
        return Ok(());
    }
    web("page packages", &["ci", "--no-audit", "--no-fund"]).run()?;
    // Without the copy they are installed again the next time, and nothing worse.
    let _ = fs::write(&installed, &wanted);
    Ok(())
}

fn has_node() -> Result<(), u8> {
    let new_enough = "process.exit(parseInt(process.versions.node) >= 20 ? 0 : 1)";
    let node = Step::new("node", "node", &["-e", new_enough]);
    if node.works() && Step::new("npm", "npm", &["--version"]).works() {
        return Ok(());
    }
    say(
        "\nThe explorer's page is checked with Node and npm, which are not there or too old. Install \
         Node 20 or later (the system's packages `nodejs` and `npm`, or https://nodejs.org) and run this again. \
         Building and running Evenfall itself needs neither.",
    );
    Err(1)
}

/// Chromium for the tests; where it is missing it is installed if that can be done.
fn has_chromium() -> Result<(), u8> {
    let is_there = CHROMIUMS.iter().any(|path| Path::new(path).exists());
    if is_there || env::var_os("EVENFALL_CHROMIUM").is_some() {
        return Ok(());
    }
    let is_root = fs::metadata("/proc/self").is_ok_and(|own| is_owned_by_root(&own));
    if is_root && Step::new("apt-get", "apt-get", &["--version"]).works() {
        let quiet = ("DEBIAN_FRONTEND", "noninteractive");
        Step::new("browser list", "apt-get", &["update"]).with(quiet.0, quiet.1).run()?;
        let install = |package| {
            let words = ["install", "-y", "--no-install-recommends", package];
            Step::new("browser", "apt-get", &words).with(quiet.0, quiet.1).run()
        };
        // Older lists have the whole browser only.
        return install("chromium-headless-shell").or_else(|_| install("chromium"));
    }
    say(
        "\nThe explorer's page is tested in Chromium, which is not there. Install the system's package \
         `chromium-headless-shell` or `chromium`, or set EVENFALL_CHROMIUM to the path of a Chromium or \
         Chrome, and run this again.",
    );
    Err(1)
}

#[cfg(unix)]
fn is_owned_by_root(own: &fs::Metadata) -> bool {
    std::os::unix::fs::MetadataExt::uid(own) == 0
}

#[cfg(not(unix))]
fn is_owned_by_root(_own: &fs::Metadata) -> bool {
    false
}

/// The program that the last build has made, beside this one.
pub(crate) fn program() -> Result<PathBuf, u8> {
    let beside = env::current_exe().ok().and_then(|own| Some(own.parent()?.to_owned()));
    let name = format!("evenfall{}", env::consts::EXE_SUFFIX);
    let found = beside.map(|folder| folder.join(name)).filter(|path| path.is_file());
    found.ok_or_else(|| {
        say("the built program is not found beside xtask");
        1
    })
}

/// Builds the page into a folder of its own and compares it with the kept files.
fn is_current() -> Result<(), u8> {
    let fresh = env::temp_dir().join(format!("evenfall-page-{}", std::process::id()));
    let built = web("page build", &["run", "build"])
        .with("EVENFALL_ASSETS", &fresh.to_string_lossy())
        .run()
        .and_then(|()| compare(&fresh));
    // The folder is ours alone; what cannot be removed is left to the system's own cleaning.
    let _ = fs::remove_dir_all(&fresh);
    built
}

fn compare(fresh: &Path) -> Result<(), u8> {
    let read = |folder: &Path| {
        files(folder).map_err(|error| {
            say(&format!("{}: {error}", folder.display()));
            1_u8
        })
    };
    let (kept, fresh) = (read(&root().join(ASSETS))?, read(fresh)?);
    let names: BTreeSet<_> = kept.keys().chain(fresh.keys()).collect();
    let differing: Vec<String> = names
        .into_iter()
        .filter(|name| kept.get(*name) != fresh.get(*name))
        .map(|name| name.display().to_string())
        .collect();
    if differing.is_empty() {
        say(&format!("the {} kept files are those of a fresh build, byte by byte", kept.len()));
        return Ok(());
    }
    say(&format!(
        "{ASSETS} is not what {WEB} builds: {}. Run `cargo xtask page` and commit what it writes.",
        differing.join(", ")
    ));
    Err(1)
}

/// All files below a folder with their bytes.
fn files(folder: &Path) -> io::Result<BTreeMap<PathBuf, Vec<u8>>> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(next)? {
            let path = entry?.path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap_or(&path).to_owned();
                found.insert(name, fs::read(&path)?);
            }
        }
    }
    Ok(found)
}
