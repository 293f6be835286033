//! The plan before the rotation: what a designer checks by hand before asking where the stops go.
//!
//! ```text
//! lateral, outlets, sprinkler, plan ─application→ gross and net depth of a set, rate
//!    crop, soil, climate ─peak→ peak use, what the root zone takes ─┐
//!    hours with water ─air→ losses, wind ───────────────────────────┴─check→ every number beside
//!                                                                      its yardstick
//! seasons ─yields→ what of the full yield the plan misses, and why
//! seasons with shorter sets ─shortest→ the shortest set that keeps the yield
//! ```
//!
//! A plan short of water, or with sets too large for the root zone, loses more than any rotation
//! brings; so this stands first. Numbers only: words are the view's. Each file holds one yardstick
//! with its source. Neglected throughout: how uneven the water is (the season computes that), rain in
//! the peak week, water held on leaves.

mod air;
mod application;
mod capacity;
mod check;
mod condition;
mod interval;
mod peak;
mod pressure;
mod repairs;
mod root_zone;
mod spacing;
mod span;
mod yardstick;
mod yields;

pub use air::AirMet;
pub use application::Application;
pub use capacity::Capacity;
pub use check::{AlternativeCheck, PlanCheck, PlanGround, check};
pub use condition::NozzleState;
pub use interval::Interval;
pub use peak::{PEAK_DAYS, PeakUse, peak_use};
pub use pressure::PressureSpread;
pub use repairs::Repairs;
pub use root_zone::{RootZoneDepth, SATISFACTORY_DU, SetBesideRootZone};
pub use spacing::{ALONG_LIMIT, Spacing, SpacingLimit};
pub use span::{DrySpell, SeasonSpan};
pub use yardstick::{Side, Yardstick};
pub use yields::PlanYield;
pub(crate) use yields::plan_yields;

#[cfg(test)]
mod tests;
