//! What a search found: words, tables, JSON, CSV, scenario parts and its page.

mod answer;
mod csv;
mod json;
mod page;
mod parts;
mod summary;
mod tables;
mod terminal;

pub use self::csv::search_csv;
pub use json::search_json;
pub use page::{SearchNotes, search_html};
pub use parts::{search_alternatives, with_own_keys};
pub use summary::{search_so_far, search_summary};
pub use terminal::search_table;
