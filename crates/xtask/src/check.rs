//! `cargo xtask check`: format, lints, docs, tests, the Python package, the explorer's page.

use crate::step::{Step, say};
use crate::{explorer, python};
use std::process::ExitCode;

/// Parts of the toolchain that a bare machine may lack: what runs them, and their name for rustup.
const COMPONENTS: [(&str, &str); 2] = [("fmt", "rustfmt"), ("clippy", "clippy")];

pub(crate) fn run() -> ExitCode {
    let mut passed = Vec::new();
    match all(&mut passed) {
        Ok(()) => {
            say(&format!("\n== check passed: {}", passed.join(", ")));
            ExitCode::SUCCESS
        }
        Err((at, code)) => {
            let before = if passed.is_empty() { "nothing".to_owned() } else { passed.join(", ") };
            say(&format!("\n== check FAILED at {at} (exit code {code}); passed before: {before}"));
            ExitCode::from(code)
        }
    }
}

/// All parts in order; what was looked at in whole is named in `passed`.
///
/// # Errors
/// The part that fails, and the exit code.
fn all(passed: &mut Vec<&'static str>) -> Result<(), (&'static str, u8)> {
    for step in steps() {
        let name = step.name;
        step.run().map_err(|code| (name, code))?;
        passed.push(name);
    }
    if dependencies().map_err(|code| ("the dependencies", code))? {
        passed.push("dependencies");
    }
    if python::run(&explorer::root()).map_err(|code| ("the Python package", code))? {
        passed.push("python");
    }
    explorer::run().map_err(|code| ("the explorer's page", code))?;
    passed.push("explorer");
    Ok(())
}

/// Licenses, sources, duplicates and advisories of dependencies, where `cargo deny` is installed; whether
/// all of that was looked at. Licenses are held by a test in any case.
///
/// # Errors
/// The exit code of the step that fails.
fn dependencies() -> Result<bool, u8> {
    let deny = |name: &'static str, words: &[&str]| {
        let config = ["deny", "--workspace", "--config", "crates/xtask/deny.toml"];
        Step::cargo(name, &[&config, words].concat()).within(&explorer::root())
    };
    if !Step::cargo("deny", &["deny", "--version"]).works() {
        say(
            "\n== dependencies: not looked at, for `cargo deny` is not there (`cargo install cargo-deny` \
             gets it); their licenses are held by tests/dependencies/licenses.rs",
        );
        return Ok(false);
    }
    deny("dependencies", &["check", "licenses", "bans", "sources"]).run()?;
    if !deny("advisories", &["fetch", "db"]).works() {
        say("\n== advisories: not looked at, for their list is out of reach (no network?)");
        return Ok(false);
    }
    deny("advisories", &["check", "advisories"]).run().map(|()| true)
}

fn steps() -> impl Iterator<Item = Step> {
    let missing = COMPONENTS.into_iter().filter_map(|(tool, component)| install(tool, component));
    let format = Step::cargo("format", &["fmt", "--all", "--check"]);
    let lints = ["clippy", "--workspace", "--all-targets", "--locked", "--", "-D", "warnings"];
    let docs = ["doc", "--workspace", "--no-deps", "--document-private-items", "--locked"];
    // Tests last: their closing lines are what one wants to see at the end. All test programs run
    // even if one fails, so that one run tells all.
    let tests = ["test", "--workspace", "--locked", "--no-fail-fast"];
    let tests = match folder_in_memory() {
        Some(folder) => Step::cargo("tests", &tests).with("TMPDIR", folder),
        None => Step::cargo("tests", &tests),
    };
    missing.chain([
        format,
        Step::cargo("lints", &lints),
        Step::cargo("docs", &docs).with("RUSTDOCFLAGS", "-D warnings"),
        tests,
    ])
}

/// A folder in memory with ample room, where the system has one that programs may be started from. Everything
/// that is written is synced, and tests that fail every step of it wait for the disk most of their time, the
/// longer the busier it is.
fn folder_in_memory() -> Option<&'static str> {
    const FOLDER: &str = "/dev/shm";
    const AMPLE_KB: u64 = 2 << 20;
    if std::env::var_os("TMPDIR").is_some() {
        return None;
    }
    let mounts = std::fs::read_to_string("/proc/self/mounts").ok()?;
    let mounts = mounts.lines().map(|line| line.split(' ').collect::<Vec<_>>());
    // What is mounted, where, as what system, with which options; of several the last counts.
    let mount = mounts.rev().find(|words| words.get(1) == Some(&FOLDER))?;
    // Examples in documentation are compiled there and run.
    let serves = |option: &str| option != "noexec" && option != "ro";
    if !mount.get(3)?.split(',').all(serves) || !is_writable(FOLDER) {
        return None;
    }
    let told = std::process::Command::new("df").args(["-Pk", FOLDER]).output().ok()?;
    let told = String::from_utf8(told.stdout).ok()?;
    // The second line: system, size, taken, free.
    let free_kb: u64 = told.lines().nth(1)?.split_whitespace().nth(3)?.parse().ok()?;
    (free_kb > AMPLE_KB).then_some(FOLDER)
}

fn is_writable(folder: &str) -> bool {
    let trial = std::path::Path::new(folder).join(format!("evenfall-check-{}", std::process::id()));
    std::fs::create_dir(&trial).and_then(|()| std::fs::remove_dir(&trial)).is_ok()
}

/// The step that installs a component, if it is missing; it says what to do where it cannot.
fn install(tool: &'static str, component: &'static str) -> Option<Step> {
    if Step::cargo(tool, &[tool, "--version"]).works() {
        return None;
    }
    say(&format!(
        "{component} is missing and is now fetched by rustup; where that fails (no rustup, no \
         network), install it by hand: `rustup component add {component}`, or the package of that \
         name where Rust comes from the system"
    ));
    Some(Step::new(component, "rustup", &["component", "add", component]))
}
