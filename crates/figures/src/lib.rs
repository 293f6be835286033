//! Evenfall's pictures and report: heatmaps, charts, the stop diagram, the page, the tables.
//!
//! Takes scenario and outcome as `evenfall_core` types and returns bytes or strings. It touches
//! no file, no clock and no network, and does not know how results were computed: what it shows
//! is what it is given. The same input gives the same bytes, whatever the number of threads.

mod about;
mod axis;
mod canvas;
mod colours;
mod error;
mod files;
mod fit;
mod furniture;
mod map;
mod marks;
mod pictures;
mod raster;
mod raster_field;
mod report;
mod scene;
mod site;
mod spread;
mod tables;
mod told;
pub mod units;
mod worth;

pub use error::DrawError;
pub use files::{Put, Report, report_files, report_page};
pub use pictures::{Picture, pictures, wheel_picture, worth_pictures};
pub use raster::png;
pub use report::{
    AlternativeRules, AlternativeWheel, AreaTable, Assumption, ReportNotes, report_html,
    report_with_worth_html,
};
pub use tables::npy::grid_npy;
pub use tables::passes::{PASSES_CSV_COLUMNS, passes_csv};
pub use tables::stops::stops_table;
pub use tables::summary::summary_json;
pub use told::{FigureTexts, Palette, clock_notices, map_range_mm, season_headline, season_words};
pub use units::UnitSystem;
pub use worth::{
    SwingTold, VerdictTold, WorthPart, WorthTold, worth_json, worth_table, worth_told,
};
