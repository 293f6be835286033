//! The sprinkler: from leg, shape or nozzle to the depth it lays on the grid in a wind.
//!
//! ```text
//! leg (measured) ────────────────┐
//! shape (ideal) ─────────────────┼→ Pattern + Launch = Jet ─┬─ landing: where the wind takes each
//! nozzle (pressure, drop sizes) ─┘                          │  class of drops, from drag and flight
//!                                                           └─ maker: rings × azimuths laid on cells
//! losses: what never reaches the ground, by hour
//! ```
//!
//! `dormand_prince` integrates drops abreast, `flight` knows the forces, `classes` finds the drop that
//! lands at each distance, [`landing`] tabulates. [`maker`] lays water on cells for a sprinkler in any
//! [`attitude`]: `upright` (`tubes` in wind, whose `lumps` come onto cells by `laying`; `radial` in still air) or
//! `turns` for a tilted one, all on one `scratch`. Runs of many seasons read footprints from an `atlas` of what is laid once a speed
//! of wind (`own_wind`, on `nodes`), by `reading` it at the `places` where they are wanted, which may be fewer than the cells
//! (`widening`). Files import only what stands below them. Nothing here knows the field, the lateral or the clock.

mod altered;
pub(crate) mod atlas;
pub mod attitude;
mod azimuths;
mod canopy;
mod classes;
mod dormand_prince;
mod drag;
mod falling_zero;
mod flight;
mod flow_control;
pub mod footprint;
mod jet;
pub mod landing;
mod launch;
mod laying;
mod leg;
pub mod losses;
mod lumps;
pub mod maker;
mod nodes;
pub mod nozzle;
mod own_wind;
mod pattern;
pub(crate) mod places;
mod problem;
mod radial;
mod reading;
mod rings;
mod scratch;
pub mod shape;
mod tubes;
mod turns;
mod upright;
pub(crate) mod widening;
mod wind_aloft;

pub use flow_control::FlowControl;
pub(crate) use flow_control::jet_kpa;
pub use jet::{Jet, Sprinkler};
pub use launch::{DragCorrection, DragForm, Launch};
pub use leg::Leg;
pub use pattern::Pattern;
pub use problem::SprinklerProblem;
