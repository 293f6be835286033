//! Answers to what the page asks, one module for each kind of question. Each takes what it needs:
//! places for short work, the runs, the sheets, what the page starts from, who keeps farms.

pub(crate) mod archive;
pub(crate) mod bodies;
pub(crate) mod boundary;
pub(crate) mod check;
pub(crate) mod clock;
pub(crate) mod closer;
pub(crate) mod display;
pub(crate) mod farm_changes;
pub(crate) mod farms;
pub(crate) mod figures;
pub(crate) mod found;
pub(crate) mod given;
pub(crate) mod grids;
pub(crate) mod last_seasons;
pub(crate) mod layout;
pub(crate) mod place;
pub(crate) mod preview;
pub(crate) mod reference;
pub(crate) mod report;
pub(crate) mod request;
pub(crate) mod runs;
pub(crate) mod search;
pub(crate) mod season;
pub(crate) mod sheet;
pub(crate) mod sheets;
pub(crate) mod start;
pub(crate) mod worth;
