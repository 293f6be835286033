//! Evenfall's explorer: a page on loopback that sets up, watches and compares seasons.
//!
//! ```text
//! page ─scenario→ check, layout, preview          (short: answered at once)
//!      ─scenario→ run ─events→ progress, partial results ─→ summary, grids, report
//! ```
//!
//! The server holds no scenario: the page sends its own with every question, the JSON object of
//! the scenario file. What the server keeps is landing maps and a few runs, both bounded. Numbers
//! come from the core, texts from `evenfall-figures`, so both equal the command line's. This crate
//! knows no physics and touches no disk: files that a scenario names come from the command line at
//! the start or inside a request, and farms are kept by whoever starts it (module `farms`), only
//! when the page asks to keep them. It listens on 127.0.0.1 alone and answers its own page alone
//! (module `guard`); what requests may take is bounded in module `limits`.

// The macros of the interface's document write their paths in full.
#![allow(unused_qualifications)]

// In layers, each importing only those above it.
mod api;
mod farms;
mod handlers;
mod jobs;
mod limits;
mod memory;
mod serving;

pub use api::openapi_json;
pub use farms::{
    FarmEntry, FarmFail, FarmKept, FarmList, FarmOpened, FarmToKeep, FarmVersion, Farms,
};
pub use handlers::check::{PROGRAM, Start};
pub use handlers::given::given_page;
pub use memory::{season_mb, sets_mb, worth_mb};
pub use serving::serve::{Explorer, Stopper, router};

#[cfg(test)]
mod tests;
