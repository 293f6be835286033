//! Pressure along the pipe, in words, tables and CSV.

mod list;
mod tables;
mod words;

pub(crate) use list::pressures_csv;
pub use list::pressures_text;
pub(crate) use tables::tables;
