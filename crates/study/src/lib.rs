//! Studies: many scenarios made of one, every alternative and season of each a row of one open table.
//!
//! ```text
//! plan text ─read→ PlanFile ─Study::new, base scenario→ Study: points, blocks, digest
//!    ─run a block→ rows ─write_part→ Parquet, its footer carrying the digest
//!    ─gather the parts→ one Parquet, one CSV
//! ```
//!
//! What makes the same bytes everywhere: points are a function of the plan alone, blocks of points and
//! seasons of the plan alone (never of the number of shards), rows of a block of its points alone, and
//! a part of its rows alone. Whoever runs a block writes the same part, so work can be spread in any
//! way and done again without harm.
//!
//! This crate knows no disk, no clock and no sockets: scenarios' files come through a closure, parts go
//! to whatever writes.

mod base;
mod blocks;
mod columns;
mod csv_list;
mod design;
mod factor;
mod forecast;
mod gather;
mod part;
mod plain_words;
mod plan;
mod point;
mod problem;
mod run;
mod study;
mod table;

pub use base::Load;
pub use blocks::{Block, Shard};
pub use columns::Rows;
pub use factor::Factor;
pub use forecast::{Forecast, Timed, to_time};
pub use gather::{GatherError, Gathered};
pub use part::{PartSeen, seen, write_part};
pub use plan::PlanFile;
pub use problem::Problems;
pub use run::Stopped;
pub use study::Study;
