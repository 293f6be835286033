//! Drawing: everything goes through the crate `evenfall-canvas`. Knows scenes and values; gives finished
//! pictures and knows no page.

pub(crate) mod axis;
mod clearance;
mod fit;
pub(crate) mod furniture;
mod line_style;
mod map;
mod palette;
pub(crate) mod pictures;
mod raster_field;
mod spread;

pub(crate) use clearance::clearance_picture;
pub use palette::{Palette, map_range_mm};
pub(crate) use pictures::{cu_in_wind_picture, season_depth_picture};
pub use pictures::{pictures, pressure_picture, search_pictures, wheel_picture, worth_pictures};
