//! Reports: words, tables and pages. Knows scenes, values and finished pictures, not how they are
//! drawn.

pub(crate) mod answers;
pub(crate) mod beside;
pub(crate) mod cautions;
pub(crate) mod clock_lock;
pub(crate) mod crate_metadata;
pub(crate) mod file_json;
pub(crate) mod given;
pub(crate) mod maintenance;
pub(crate) mod methods;
pub(crate) mod paper;
pub(crate) mod plan;
pub(crate) mod pressure;
pub(crate) mod reference;
pub(crate) mod report;
pub(crate) mod search;
pub(crate) mod season_words;
pub(crate) mod sheet;
pub(crate) mod study;
pub(crate) mod tables;
pub(crate) mod worth;
