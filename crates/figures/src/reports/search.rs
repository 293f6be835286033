//! What a search found: words, tables, JSON, CSV, scenario parts and its page.

mod answer;
mod csv;
mod json;
mod page;
mod parts;
mod tables;
mod terminal;
mod told;

pub use self::csv::{SEARCH_CSV_COLUMNS, search_csv};
pub use json::search_json;
pub use page::{SearchNotes, search_html};
pub use parts::{search_alternatives, with_own_keys};
pub use terminal::search_table;
pub use told::{CandidateTold, SearchTold, search_told};
