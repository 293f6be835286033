//! The move sheet: what the irrigator carries into the field, as a page to print, a table and a
//! calendar. Every figure on it follows from the plan that is simulated: times and places are the
//! plan's, moves are worked out from it by `evenfall_core::schedule::moves`. All words are rows of
//! [`crate::texts`], in the sheet's language.

mod calendar;
mod csv;
mod ics;
mod input;
mod lines;
mod page;
mod passes;
mod plan_words;
mod sketch;
mod times;
mod words;

pub use csv::{SHEET_CSV_COLUMNS, sheet_csv};
pub use ics::sheet_ics;
pub use input::{Sheet, SheetNotes};
pub(crate) use page::page;
pub use times::ClockFace;
