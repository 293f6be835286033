//! Pages beside the season's report: one question, its answer in words, tables and pictures.

mod columns;
pub(crate) mod edges;
pub(crate) mod fit;
mod page;
mod text;
pub(crate) mod tilt;

pub use edges::EdgeStudy;
pub use fit::FitStudy;
pub use page::Study;
