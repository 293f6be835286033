//! A log that was read, and what is said beside its text.

use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::{Record, Replanned};
use jiff::civil::DateTime;

/// A log that passed every check, with what follows from it.
#[derive(Clone, Debug)]
pub struct Log {
    /// Which of the scenario's alternatives is run.
    pub alternative: usize,
    /// The plan that the season began with.
    pub first: Plan,
    /// What happened.
    pub record: Record,
    /// The season as it was and as it goes on.
    pub replanned: Replanned,
    /// What the reader should know, in plain words.
    pub warnings: Vec<String>,
    /// The log as JSON: as it was given, or what a table says.
    pub json: String,
}

/// What is said of a log beside its text.
#[derive(Clone, Copy, Debug, Default)]
pub struct LogAsked<'a> {
    /// Name of the alternative, for a table that does not tell it.
    pub alternative: Option<&'a str>,
    /// Up to when a table goes; its latest time where nothing is said.
    pub now: Option<DateTime>,
    /// The text is a table, whatever its head looks like.
    pub is_table: bool,
}
