//! Evenfall's pictures and report: heatmaps, charts, the stop diagram, the page, the tables.
//!
//! Takes scenario and outcome as `evenfall_core` types and returns bytes or strings. It touches
//! no file, no clock and no network, and does not know how results were computed: what it shows
//! is what it is given. The same input gives the same bytes, whatever the number of threads.
//!
//! Rooms, each using only those before it: `texts` (the sheet's, in every language),
//! `picture`, `table`; `scenes` (results and their
//! labels, as both use them); `drawing` (values in, finished pictures out) and `reports` (words,
//! tables, pages), neither of which knows the other; `files`, `sheet_files`, `studies`, which join
//! the two. `catch` has both kinds in one room.

mod catch;
mod drawing;
mod files;
mod picture;
mod reports;
mod scenes;
mod sheet_files;
mod studies;
mod table;
mod texts;

pub use catch::{
    CatchBook, CatchCalibration, CatchEntry, CatchOverlap, catch_json, catch_page, catch_pictures,
    catch_text,
};
pub use drawing::{
    Palette, map_range_mm, pictures, pressure_picture, search_pictures, wheel_picture,
    worth_pictures,
};
pub use evenfall_canvas::DrawError;
pub use files::{
    CLIENT_PAGES, GROWER_PAGE, PNG_SCALE, Report, papers, picture_files, report_files, report_page,
};
pub use picture::Picture;
pub use reports::answers::{checked_json, clock_json, stops_json, wheels_json};
pub use reports::beside::Put;
pub use reports::cautions::CAUTIONS;
pub use reports::crate_metadata::{CRATE_FILE, RunMade, crate_json};
pub use reports::given::{GivenPage, GivenSection, given_html};
pub use reports::maintenance::{MaintenancePart, maintenance_text};
pub use reports::methods::{methods_json, methods_text};
pub use reports::plan::{plan_fault_lines, plan_text};
pub use reports::pressure::pressures_text;
pub use reports::reference::{REFERENCE_SCRIPT, chapters, reference_page, reference_text};
pub use reports::report::{ONE_SEASON, ONLY_WATER};
pub use reports::search::{
    SearchNotes, search_alternatives, search_csv, search_html, search_json, search_so_far,
    search_summary, search_table, with_own_keys,
};
pub use reports::season_words::{clock_notices, interior_words, season_headline, season_words};
pub use reports::sheet::{ClockFace, SHEET_CSV_COLUMNS, Sheet, SheetNotes, sheet_csv, sheet_ics};
pub use reports::study::{AsItWasStudy, EdgeStudy, FitStudy, Study};
pub use reports::tables::npy::{grid_npy, no_number_outside};
pub use reports::tables::passes::{passes_csv, season_json};
pub use reports::tables::stops::{drift_facts, stops_table, wheels_table};
pub use reports::worth::{worth_json, worth_rows, worth_table};
pub use scenes::{HalfSpacing, SearchScene, Standing, TiltStudy, worth_view};
pub use sheet_files::{LONGEST_ALARM_MIN, SHEET_PAGE, SheetExtras, sheet_files, sheet_html};
pub use studies::{as_it_was_study, edges_study, fit_study, tilt_study};
pub use texts::{Language, Text, sheet_texts};
