//! The lateral: the pipe, its sprinklers, its wheels and its outlets.

pub mod discharges;
pub mod edges;
pub mod hydraulics;
mod parts;
pub mod stops;
pub mod wheel;

pub use discharges::Discharges;
pub use edges::EdgeTreatment;
pub use parts::{Lateral, Machine, Outlets};
pub use wheel::Wheel;
