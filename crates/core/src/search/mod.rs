//! The search: which rotations are worth considering for a machine and a field.
//!
//! ```text
//! SearchSpace ─Candidates::of→ distinct candidates with schedules (identical seasons merged)
//!    ─race→ few seasons for all, more for those not clearly beaten by what matters
//!    ─rank→ the rest in order of the aim, ties shown as ties, the simplest of them first
//! ```
//!
//! All candidates meet the same seasons and run the same number of passes. For aims of water the
//! depths are composed of passes (`water`); for aims of yield or money every candidate goes
//! through soil and crop in full: DUlq is no bound on yield, so screening by it could drop the best.
//! The fixed pattern is the baseline, is never dropped, and every gain is paired with it. The best
//! of each wheel and spacing and of each [`Kind`] of clock and edges is kept to the end.
//!
//! Neglected: alternatives of the scenario beyond the first, whose machine and sprinklers are
//! searched; a crew's error in keeping to a longer rotation.

mod best_of;
pub mod candidates;
pub mod clocks;
mod course;
mod engine;
pub mod equipment;
mod error;
mod found;
mod kinds;
mod layouts;
mod options;
pub mod race;
pub mod rotations;
mod run;
mod space;
mod water;
mod weather;

pub use candidates::{Candidate, Candidates};
pub use clocks::{ClockChange, TimeCost};
pub use equipment::EquipmentRule;
pub use error::SearchError;
pub use found::{ComboFound, Entry, Found};
pub use kinds::{Kind, KindFound};
pub use layouts::Combo;
pub use options::{Aim, SearchOptions, WorthwhileDifference};
pub use race::{Dropped, Stage};
pub use rotations::{HandGrid, RotationRule};
pub use run::{SearchControl, run};
pub use space::{Refused, SearchSpace};
pub use water::Water;

#[cfg(test)]
mod tests;
#[cfg(test)]
mod ties_tests;
