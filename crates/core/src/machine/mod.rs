//! The machine itself: which wheel clears the crop, and how long a move takes in cold or heat.

pub mod clearance;
pub mod drive;
pub mod oil;

use crate::crop::Crop;
use drive::Drive;
use jiff::civil::Date;

/// What is known of the machine beyond its wheels.
#[derive(Clone, Debug, PartialEq)]
pub struct Maintenance {
    /// Outside diameter of the pipe, m.
    pub pipe_diameter_m: f64,
    /// Height of the axle as measured, m; without it the wheel's rolling radius.
    pub axle_height_m: Option<f64>,
    /// The crop that the line rolls over.
    pub stand: Option<Stand>,
    /// The drive, where its moves have been timed.
    pub drive: Option<Drive>,
}

/// The crop with its height.
#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    /// Its name.
    pub name: String,
    /// Its stages.
    pub crop: Crop,
    /// Day of planting, or of the start of growth.
    pub planted: Date,
    /// Its greatest height, m.
    pub greatest_m: f64,
}
