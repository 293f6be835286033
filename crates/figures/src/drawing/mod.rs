//! Drawing: everything goes through `canvas`, the only module that knows plotters. Knows scenes and
//! values; gives finished pictures and knows no page.

pub(crate) mod axis;
pub(crate) mod canvas;
mod clearance;
pub(crate) mod colors;
mod fit;
pub(crate) mod furniture;
mod letters;
mod line_style;
mod map;
mod marks;
mod palette;
pub(crate) mod pictures;
pub(crate) mod raster;
mod raster_field;
pub(crate) mod sheet;
mod spread;

pub(crate) use clearance::clearance_picture;
pub use palette::{Palette, map_range_mm};
pub(crate) use pictures::{cu_in_wind_picture, season_depth_picture};
pub use pictures::{pictures, pressure_picture, search_pictures, wheel_picture, worth_pictures};
