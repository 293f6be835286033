//! What is shown: scenario and results, paired and checked once, with the names and labels that
//! pictures and reports share.

pub(crate) mod candidate;
mod clearance;
mod pressure;
mod search;
mod season;
mod site;
mod tilt;
mod worth;

pub(crate) use clearance::{ClearedWheel, cleared_wheels, date_of};
pub(crate) use pressure::{Shared, distinct, of_scene};
pub use search::SearchScene;
pub(crate) use search::{Line, SHOWN};
pub(crate) use season::{Entry, Scene, StopMark, inside, positive};
pub(crate) use site::Site;
pub(crate) use tilt::AtRoll;
pub use tilt::{HalfSpacing, Standing, TiltStudy};
pub(crate) use worth::WorthScene;
pub use worth::worth_view;
