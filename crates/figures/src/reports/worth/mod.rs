//! What a rotation is worth, as tables of page and terminal and as JSON. All numbers and words are
//! those of [`evenfall_view::worth`]; here they are only laid out.

mod part;
mod seasons;
mod tables;
pub(crate) mod terminal;

pub(crate) use part::WorthPart;
pub use part::worth_json;
pub(crate) use seasons::{seasons_csv, seasons_json};
pub(crate) use tables::tables;
pub use terminal::{worth_rows, worth_table};
