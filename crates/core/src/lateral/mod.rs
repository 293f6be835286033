//! The lateral: the pipe, its sprinklers, its wheels and its outlets.

mod condition;
pub mod discharges;
pub mod edges;
pub mod hydraulics;
pub mod lines;
mod order;
pub mod part_turns;
mod parts;
pub(crate) mod rolling;
pub mod stops;
pub mod survey;
pub mod wheel;

pub use condition::Condition;
pub use discharges::Discharges;
pub use edges::EdgeTreatment;
pub use lines::{Lines, Sharing, Side};
pub use order::{OrderProblem, SetOrder};
pub(crate) use parts::REACH_SLACK_M;
pub use parts::{Lateral, Machine, OutOfReach, Outlets};
pub use wheel::{PartTurns, TurnRule, Wheel, WheelSize};
