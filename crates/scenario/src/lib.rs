//! Evenfall's scenario file: JSON text in, the core's checked scenario out.
//!
//! ```text
//! text ─document→ tree with places ─rows of file→ file types ─resolve→ core Scenario
//!                                      │                         starting values, warnings, digest
//!                                      ├─schema→ shared/scenario.schema.json, scenario-keys.md
//!                                      └─options→ options of commands
//! ```
//!
//! Every arrow notes what is wrong and goes on, so that all problems of a file are said at once.
//! Each key is one row (module `row`) in a section of `file`, its limits one row of `limits`; reader,
//! schema, notes of starting values, options, the page's entries and the reference follow from them.
//! This crate knows no physics, draws nothing and touches no disk: files named in a scenario come
//! through a closure.

mod boundary_file;
mod carried;
pub mod catch;
mod declare;
mod document;
mod entered;
mod file;
mod issue;
mod limits;
mod log;
mod notes;
pub mod options;
mod part;
mod place;
mod quantity;
mod questions;
mod read;
mod read_plain;
mod read_quantity;
mod read_time;
mod readings;
mod reference;
mod renamed;
mod resolve;
mod row;
mod schema;
mod section;
mod seeded;
mod suggest;
mod survey_table;
mod weather;
mod whose;

pub use boundary_file::{BoundaryText, boundary_text};
pub use carried::{CARRIED_ID, Carried};
pub use entered::{EnteredSection, entered};
pub use file::{ClockFace, SheetLanguage, UnitSystem};
pub use issue::{Issue, MOST_KEPT, MOST_SHOWN, Problems, is_hidden, showable};
pub use log::{Log, LogAsked, blank_log, log_schema, read_log, read_log_as};
pub use notes::{Assumption, Load};
pub use reference::{KEYS_ABOUT, KeyRow, KeySection, reference};
pub use resolve::{Resolved, SheetWishes, resolve, sprinkler_fingerprint};
pub use schema::schema;
pub use seeded::with_seed;
pub use whose::{Input, Whose, known_words};

/// The demo: an invented field with a wheel line, embedded.
pub fn demo() -> &'static str {
    include_str!("../../../data/demo/scenario.json")
}

#[cfg(test)]
mod tests;
