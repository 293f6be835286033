//! Catch tests as text, page, JSON and pictures.
//!
//! Takes what the core found in each test and lays it out; several tests share every table.

mod book;
mod calibration;
mod cans;
mod details;
mod json;
mod judged;
mod leg;
mod page;
mod pictures;
mod scatter;
mod tables;
mod text;

pub use book::{CatchBook, CatchCalibration, CatchEntry, CatchOverlap};
pub use json::catch_json;
pub use page::catch_page;
pub use pictures::catch_pictures;
pub use text::catch_text;
