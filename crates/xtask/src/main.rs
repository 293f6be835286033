//! The project's own chores, run as `cargo xtask <chore>`.
//!
//! `check` is the one gate: what it passes is fit to be merged. Steps run in order and the first
//! that fails ends the run with its exit code.

mod check;
mod explorer;
mod python;
mod step;
mod wheel;

use std::process::ExitCode;
use step::{Step, say};

const HELP: &str = "\
Usage: cargo xtask <chore>

Chores:
  check    format, lints, docs, all tests and the explorer's page; installs what it needs
  explorer the explorer's page alone: built from its sources, tested in a browser
  python   the Python package alone: its wheel, tests, notebooks and types
  page     write crates/explorer/assets anew from crates/explorer/web, and its API types
  schema   write shared/scenario.schema.json and scenario-keys.md anew from the table of keys
  notices  write shared/notices.txt anew from the licenses of what the program is built with
  openapi  write shared/explorer.openapi.json anew from the types";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    if let Some(code) = wheel::stand_in(&words) {
        return code;
    }
    match words.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["check"] => check::run(),
        ["schema"] => keep(
            "the_kept_schema_is_current_and_so_is_the_reference_of_keys",
            "EVENFALL_KEEP_SCHEMA",
        ),
        ["openapi"] => {
            let test = "the_kept_openapi_document_is_current";
            keep(test, "EVENFALL_KEEP_OPENAPI")
        }
        ["notices"] => {
            let words = ["test", "--locked", "--workspace", "--test", "dependencies"];
            code(Step::cargo("keep", &words).with("EVENFALL_KEEP_NOTICES", "1").run())
        }
        ["explorer"] => code(explorer::run()),
        ["python"] => code(python::run(&explorer::root()).map(|_| ())),
        ["page"] => code(explorer::build()),
        ["help" | "--help" | "-h"] => {
            say(HELP);
            ExitCode::SUCCESS
        }
        _ => {
            say(HELP);
            ExitCode::from(2)
        }
    }
}

/// A kept file's own test writes it when it is asked to; with the features of the whole workspace, as
/// the check builds it.
fn keep(test: &str, switch: &str) -> ExitCode {
    let words = ["test", "--locked", "--workspace", "--lib", test];
    let step = Step::cargo("keep", &words).with(switch, "1");
    code(step.run())
}

/// The exit code of a chore.
fn code(done: Result<(), u8>) -> ExitCode {
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(code) => ExitCode::from(code),
    }
}
