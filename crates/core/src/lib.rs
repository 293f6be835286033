//! The numbers of Evenfall: what one season of a moved sprinkler lateral puts where, and what a
//! rotation of its stops is worth.
//!
//! It does no input or output, reads no clock and knows no text format: references in, new values
//! out. Each arrow is one public function:
//!
//! ```text
//! Scenario ─season::plans→ sets with start and end
//!    WeatherSource ─season→ hours of wind ─────────────┐
//!    Sprinkler ─landing maps→ ─footprint per set───────┤
//!                                                      └─overlay→ pass grid ─add→ cumulative grid
//!    ─uniformity→ CU, DUlq … ─unevenness→ the split of systematic and random
//!    ─seasons→ many seasons through root zone and crop ─worth→ yield, water, money, verdict
//! ```
//!
//! Axes, once for all: x runs along the pipe, y across it (the direction of travel), in meters
//! from one corner of the field; cell values stand for cell centers; directions are degrees
//! clockwise from north; wind is named by where it blows from. Ratios are fractions inside.

pub mod boundary;
pub mod calibration;
pub mod catch;
pub mod clock;
pub mod compare;
pub mod convergence;
pub mod crop;
pub mod doubt;
pub mod edge_trial;
pub mod ensemble;
pub mod evapotranspiration;
pub mod fit_trial;
pub mod grid;
pub mod lateral;
pub mod machine;
pub mod model;
pub mod money;
pub mod overlay;
pub mod paired;
pub mod plan_check;
pub mod range;
pub mod root_zone;
pub mod rotation;
pub mod schedule;
pub mod search;
pub mod season;
pub mod seasons;
pub mod shown;
pub mod soil;
pub mod sprinkler;
pub mod statistics;
pub mod tilt_trial;
pub mod trial;
pub mod two_stage;
pub mod unevenness;
pub mod uniformity;
pub mod units;
pub mod verdict;
pub mod weather;
pub mod wind_evidence;
pub mod worth;
