//! What the steps of a study print.

use crate::failure::Failure;
use crate::terminal;

/// Prints what was asked for.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    terminal::print(text).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}
