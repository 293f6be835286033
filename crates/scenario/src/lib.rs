//! Evenfall's scenario file: JSON text in, the core's checked scenario out.
//!
//! ```text
//! text ─document→ tree with places ─read→ file types ─resolve→ core Scenario
//!                                                    │            assumptions, warnings, digest
//!                                                    └─schema→ shared/scenario.schema.json
//! ```
//!
//! Every arrow notes what is wrong and goes on, so that all problems of a file are told at once.
//! The types of the file are declared once (module `declare`); reader, known keys and schema follow from
//! them. This crate knows no physics, draws nothing and touches no disk: files named in a scenario
//! come through a closure.

mod boundary_file;
pub mod catch;
mod declare;
mod document;
mod file;
mod issue;
mod limits;
mod log;
mod part;
pub mod quantity;
mod read;
mod read_plain;
mod read_quantity;
mod renamed;
mod resolve;
mod schema;
mod section;
mod suggest;
pub mod weather;

pub use file::UnitSystem;
pub use issue::{Issue, Problems};
pub use log::{Log, blank_log, log_schema, read_log};
pub use resolve::{Assumption, Load, Resolved, resolve};
pub use schema::schema;

/// The demo: an invented field with a wheel line, embedded.
pub fn demo() -> &'static str {
    include_str!("../../../data/demo/scenario.json")
}

#[cfg(test)]
mod tests;
