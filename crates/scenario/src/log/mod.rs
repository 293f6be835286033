//! The log of a season: what really happened, read with all its problems at once, and the rest of
//! the season timed anew (`evenfall_core::schedule::replan`).
//!
//! A log is JSON, or the table of a move sheet with its last columns filled in:
//!
//! ```text
//! JSON ─document→ tree ─rows of file→ LogFile ─event→ events ─┐
//! CSV ─cells→ rows ─columns, filled→ events ──────────────────┴─ending→ record ─replan→ Log
//! ```

mod cells;
mod columns;
mod ending;
mod event;
mod file;
mod filled;
mod hours;
mod kept;
mod table;
mod text;
mod times;
mod whose;

#[cfg(test)]
mod table_tests;
#[cfg(test)]
mod tests;

pub use kept::{Log, LogAsked};
pub use text::blank_log;

use crate::document::{self, At};
use crate::issue::{Issue, Issues, Problems};
use crate::read::{Read, optional};
use ending::{Ending, Event, ending};
use evenfall_core::model::Scenario;
use event::happened;
use file::LogFile;
use hours::Hours;
use schemars::generate::SchemaSettings;
use whose::{alternative, check_clock, check_title, plan};

/// Reads the log `text`, JSON or a table by its head, of a season of `scenario` and plans the rest anew.
///
/// # Errors
/// Every problem of the log at once, one that belongs to another scenario among them.
pub fn read_log(text: &str, scenario: &Scenario) -> Result<Log, Problems> {
    read_log_as(text, scenario, &LogAsked::default())
}

/// The same with what is said beside it.
///
/// # Errors
/// As [`read_log`].
pub fn read_log_as(text: &str, scenario: &Scenario, asked: &LogAsked<'_>) -> Result<Log, Problems> {
    let mut issues = Issues::default();
    let log = if asked.is_table || table::is_table(text) {
        table::whole(text, scenario, asked, &mut issues)
    } else {
        let file = document::parse(text, &mut issues).and_then(|root| {
            let file = LogFile::read(&root, &mut issues)?;
            Some((root.at, file))
        });
        file.and_then(|(root, file)| {
            no_other_now(&root, asked, &mut issues);
            whole((&root, &file), text, scenario, &mut issues)
        })
    };
    match log {
        Some(log) if issues.is_empty() => Ok(log),
        _ => Err(issues.into_problems(text)),
    }
}

/// JSON says `now` itself.
fn no_other_now(root: &At, asked: &LogAsked<'_>, issues: &mut Issues) {
    if asked.now.is_some() {
        let problem = "`--now` goes with a table that is filled in, and this log says `now` itself";
        issues.push(Issue::new(&root.opening(), problem).hint("Leave `--now` out."));
    }
}

fn whole(
    (root, file): (&At, &LogFile),
    text: &str,
    scenario: &Scenario,
    issues: &mut Issues,
) -> Option<Log> {
    if let Some(title) = &file.scenario.0 {
        check_title(&title.value, &title.at, scenario, issues);
    }
    if let Some(clock) = optional(&file.clock) {
        check_clock(&clock.value, &clock.at, scenario, issues);
    }
    let name = file.alternative.0.as_ref();
    let index = name.and_then(|name| alternative(&name.value, &name.at, scenario, issues));
    let alternative = index.map(|index| &scenario.alternatives[index]);
    let plan = plan(root, index, scenario, issues);
    let hours = Hours::of(scenario, plan.as_ref());
    let given = file.events.0.iter().flat_map(|events| &events.items);
    let read = given.enumerate().map(|(number, (at, event))| Event {
        at: at.clone(),
        number,
        happened: event.as_ref().and_then(|event| happened(event, alternative, &hours, issues)),
    });
    let read: Vec<Event> = read.collect();
    let (index, plan) = (index?, plan?);
    let now = file.now.0.as_ref()?;
    let ending = Ending {
        scenario,
        alternative: index,
        now: (hours.hour(now.value, now.offset), &now.at),
        missed: file.missed.0.flatten().map(Into::into).unwrap_or_default(),
        plan,
        word: "event",
    };
    self::ending(ending, &read, issues).map(|log| Log { json: text.to_owned(), ..log })
}

/// The JSON Schema (draft 2020-12) of logs, as pretty JSON text with a final newline.
pub fn log_schema() -> String {
    let generator = SchemaSettings::draft2020_12().into_generator();
    let schema = generator.into_root_schema_for::<LogFile>();
    serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n"
}
