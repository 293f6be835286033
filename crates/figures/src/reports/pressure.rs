//! Pressure along the pipe, in words, tables and CSV.

mod list;
mod tables;
mod words;

pub use list::{pressures_csv, pressures_text};
pub(crate) use tables::tables;
