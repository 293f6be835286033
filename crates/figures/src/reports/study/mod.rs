//! Pages beside the season's report: one question, its answer in words, tables and pictures.

pub(crate) mod edges;
mod page;
mod text;
pub(crate) mod tilt;

pub use edges::EdgeStudy;
pub use page::Study;
