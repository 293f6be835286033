//! The numbers of Evenfall: what one season of a moved sprinkler lateral puts where.
//!
//! This crate knows pattern physics, the grid, stops, the schedule, the overlay and the figures of
//! uniformity. It does no input or output, reads no clock and knows no text format: references in,
//! new values out.
//!
//! The main job as one straight line, each arrow one public function:
//!
//! ```text
//! Scenario ─stops::reachable→ shifts ─schedule::plan→ sets with start and end
//!    WeatherSource ─weather→ hours of wind ────────────┐
//!    Sprinkler ─landing maps→ ─footprint per set───────┤
//!                                                      └─overlay→ pass grid ─add→ cumulative grid
//!    ─uniformity→ CU, DUlq … ─compare→ the split of fixed and random unevenness
//! ```
//!
//! Axes, once for all: x runs along the pipe, y across it (the way the lateral travels), in metres
//! from one corner of the field; cell values stand for cell centres; directions are degrees
//! clockwise from north; wind is named by where it blows from. Ratios are fractions inside.

pub mod compare;
pub mod crop;
pub mod evapotranspiration;
pub mod grid;
pub mod lateral;
pub mod overlay;
pub mod root_zone;
pub mod rotation;
pub mod schedule;
pub mod season;
pub mod soil;
pub mod sprinkler;
pub mod statistics;
pub mod uniformity;
pub mod units;
pub mod weather;
