//! The Python package as a wheel, put together by maturin from the library that the workspace's tests have
//! been built with.
//!
//! Left alone, maturin calls cargo for the one package. Cargo then picks other features of its
//! dependencies than for the whole workspace, so everything is compiled a second time. So maturin is told
//! that cargo is this program (`CARGO`), which hands every call on and widens the one that compiles to the
//! whole workspace. What maturin does then is what it always does: it reads cargo's messages, and packs
//! library, sources, types and metadata. A wheel for use is built by `pip wheel crates/python`.

use crate::step::{Step, say};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};
use std::{env, fs, io};

/// Names the cargo for which this program stands in.
const STANDS_IN_FOR: &str = "EVENFALL_XTASK_STANDS_IN_FOR";

/// What builds the library with the features that the tests are built with: cargo counts those of
/// dependencies of tests only where a test is among what it builds.
pub(crate) const AS_THE_TESTS: [&str; 8] =
    ["build", "--locked", "--workspace", "--lib", "--bin", "evenfall", "--test", "command"];

/// Variables by which maturin tells `PyO3` of an interpreter. The library is for all of them; and what is
/// built with these would be built again without.
const OF_PYO3: [&str; 3] = ["PYO3_PYTHON", "PYO3_ENVIRONMENT_SIGNATURE", "PYO3_CONFIG_FILE"];

/// Builds the wheel into `folder` with the maturin beside `python`; where it lies.
///
/// # Errors
/// The exit code of the step that fails.
pub(crate) fn build(package: &Path, python: &Path, folder: &Path) -> Result<PathBuf, u8> {
    let told = |error: io::Error| {
        say(&format!("{}: {error}", folder.display()));
        1_u8
    };
    if folder.exists() {
        fs::remove_dir_all(folder).map_err(told)?;
    }
    let (out, manifest) = (folder.to_string_lossy(), package.join("Cargo.toml"));
    let manifest = manifest.to_string_lossy();
    let words = ["-m", "maturin", "build", "--locked", "--profile", "dev"];
    // Whether it would be taken by an index of packages is a question for a wheel for use.
    let more = ["--compatibility", "linux", "--manifest-path", &manifest, "--out", &out];
    let own = env::current_exe().map_err(told)?;
    let cargo = env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    Step::new("python wheel", &python.to_string_lossy(), &[&words[..], &more].concat())
        .with("CARGO", &own.to_string_lossy())
        .with(STANDS_IN_FOR, &cargo)
        .run()?;
    let mut all = fs::read_dir(folder).map_err(told)?.filter_map(Result::ok);
    let wheel = all.find(|entry| entry.path().extension().is_some_and(|is| is == "whl"));
    wheel.map(|entry| entry.path()).ok_or_else(|| {
        say(&format!("{}: maturin has left no wheel", folder.display()));
        1
    })
}

/// Hands a call of cargo on, where this program was started in its place.
pub(crate) fn stand_in(words: &[String]) -> Option<ExitCode> {
    let cargo = env::var_os(STANDS_IN_FOR)?;
    let mut command = Command::new(&cargo);
    command.env("CARGO", &cargo).env_remove(STANDS_IN_FOR);
    if words.first().is_some_and(|word| word == "rustc") {
        for name in OF_PYO3 {
            command.env_remove(name);
        }
        let format = words.iter().find(|word| word.starts_with("--message-format"));
        command.args(AS_THE_TESTS).args(format);
        if format.is_some_and(|word| !word.contains('=')) {
            command.arg(words.iter().skip_while(|word| Some(*word) != format).nth(1)?);
        }
    } else {
        command.args(words);
    }
    let code = match command.status() {
        Ok(status) => status.code().and_then(|code| u8::try_from(code).ok()).unwrap_or(1),
        Err(error) => {
            say(&format!("{}: {error}", cargo.display()));
            1
        }
    };
    Some(ExitCode::from(code))
}
