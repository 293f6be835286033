//! Speed of Evenfall against named baselines, measured in one run on one machine.
//!
//! `cargo bench -p evenfall-benches` sets up its own numpy (pinned in `requirements.txt`, in a
//! virtual environment under `target/`), gives both sides the same arrays, runs them by turns,
//! checks that they agree and prints tables; `-- --keep` also writes them to `RESULTS.md`.
//!
//! Timings are medians with the fastest and the slowest run behind them. Only a quiet machine
//! gives numbers worth keeping.

pub mod demo;
pub mod explorer;
pub mod figures;
pub mod floors;
pub mod growth;
pub mod inputs;
pub mod machine;
pub mod nearest_wind;
pub mod numpy;
pub mod overlay;
pub mod page;
pub mod parts;
pub mod pressure;
pub mod report;
pub mod search;
pub mod seasons;
pub mod study;
pub mod timing;

/// Why a measurement cannot be made, in words for whoever started it.
pub type Fault = Box<dyn std::error::Error>;
