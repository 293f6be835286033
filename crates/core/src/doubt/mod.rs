//! What is doubtful about a season's physics, and what of the answer's spread each doubt explains.
//!
//! ```text
//! table: every doubt with its range ─draws→ one value of each for every season
//!        (those of the sprinkler from what catch tests leave, if there are any: tested)
//!        ─apply→ sprinklers, losses and soil of that season ─(the seasons run)→ net returns
//!        ─`crate::verdict`→ how the long-run net return hangs on each doubt
//! ```
//!
//! All alternatives of a season meet the same draw, as they meet the same weather, so the difference
//! between them holds only what the doubt does to the difference.

pub mod apply;
pub(crate) mod draws;
pub mod table;
pub mod tested;
