//! Evenfall's pictures and report: heatmaps, charts, the stop diagram, the page, the tables.
//!
//! Takes scenario and outcome as `evenfall_core` types and returns bytes or strings. It touches
//! no file, no clock and no network, and does not know how results were computed: what it shows
//! is what it is given. The same input gives the same bytes, whatever the number of threads.

mod axis;
mod canvas;
mod colours;
mod error;
mod furniture;
mod map;
mod pictures;
mod raster;
mod raster_field;
mod scene;
mod spread;
pub mod units;

pub use error::DrawError;
pub use pictures::{Picture, pictures, wheel_picture};
pub use raster::png;
pub use units::UnitSystem;
