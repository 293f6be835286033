//! Evenfall's pictures and report: heatmaps, charts, the stop diagram, the page, the tables.
//!
//! Takes scenario and outcome as `evenfall_core` types and returns bytes or strings. It touches
//! no file, no clock and no network, and does not know how results were computed: what it shows
//! is what it is given. The same input gives the same bytes, whatever the number of threads.

mod axis;
mod beside;
mod canvas;
mod catch;
mod cautions;
mod colors;
mod error;
mod file_json;
mod files;
mod fit;
mod furniture;
mod maintenance;
mod map;
mod marks;
mod pictures;
mod pressure;
mod raster;
mod raster_field;
mod report;
mod scene;
mod search;
mod sheet;
mod site;
mod spread;
mod study;
mod tables;
mod told;
mod worth;

pub use catch::{
    CatchBook, CatchEntry, CatchOverlap, catch_json, catch_page, catch_pictures, catch_text,
};
pub use cautions::{CAUTIONS, CAUTIONS_IN_SHORT};
pub use error::DrawError;
pub use evenfall_view::units::{self, UnitSystem};
pub use evenfall_view::{
    AlternativeFigures, AlternativeRules, AlternativeWheel, AreaTable, Assumption, ReportNotes,
};
pub use files::{PNG_SCALE, Put, Report, picture_files, report_files, report_page};
pub use maintenance::{MaintenancePart, clearance_picture, maintenance_text};
pub use pictures::{
    Picture, Standing, pictures, pressure_picture, search_pictures, wheel_picture, worth_pictures,
};
pub use pressure::{pressures_csv, pressures_text};
pub use raster::png;
pub use report::{ONE_SEASON, ONLY_WATER, report_html, report_with_worth_html};
pub use search::{
    CandidateTold, SEARCH_CSV_COLUMNS, SearchNotes, SearchTold, search_alternatives, search_csv,
    search_html, search_json, search_table, search_told, with_own_keys,
};
pub use sheet::{
    LONGEST_ALARM_MIN, SHEET_CSV_COLUMNS, SHEET_PAGE, Sheet, SheetExtras, SheetNotes, sheet_csv,
    sheet_files, sheet_html, sheet_ics,
};
pub use study::{EdgeStudy, HalfSpacing, Study, TiltStudy, edges_study, tilt_study};
pub use tables::npy::grid_npy;
pub use tables::passes::{passes_csv, season_json};
pub use tables::stops::{drift_facts, stops_table};
pub use told::{
    Palette, clock_notices, interior_words, map_range_mm, season_headline, season_words,
};
pub use worth::{
    SwingTold, VerdictTold, WorthPart, WorthTold, worth_json, worth_table, worth_told,
};
