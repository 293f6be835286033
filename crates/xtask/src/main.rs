//! The project's own chores, run as `cargo xtask <chore>`.
//!
//! `check` is the one gate: what it passes is fit to be merged. Steps run in order and the first
//! that fails ends the run with its exit code.

mod check;
mod explorer;
mod step;

use std::process::ExitCode;
use step::{Step, say};

const HELP: &str = "\
Usage: cargo xtask <chore>

Chores:
  check    format, lints, docs, all tests and the explorer's page; installs what it needs
  explorer the explorer's page alone: built from its sources, tested in a browser
  page     write crates/explorer/assets anew from crates/explorer/web
  schema   write shared/scenario.schema.json anew from the types";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match words.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["check"] => check::run(),
        ["schema"] => schema(),
        ["explorer"] => code(explorer::run()),
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

/// The schema's own test writes the kept file when it is asked to.
fn schema() -> ExitCode {
    let words =
        ["test", "--locked", "--package", "evenfall-scenario", "the_kept_schema_is_current"];
    let step = Step::cargo("schema", &words).with("EVENFALL_KEEP_SCHEMA", "1");
    code(step.run())
}

fn code(done: Result<(), u8>) -> ExitCode {
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(code) => ExitCode::from(code),
    }
}
