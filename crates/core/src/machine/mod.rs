//! The machine itself: which wheel clears the crop, and how long a move takes in cold or heat.

pub mod clearance;
pub mod drive;
pub mod oil;
