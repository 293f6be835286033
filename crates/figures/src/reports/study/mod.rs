//! Pages beside the season's report: one question, its answer in words, tables and pictures.

pub(crate) mod as_it_was;
mod columns;
pub(crate) mod edges;
pub(crate) mod fit;
mod page;
mod text;
pub(crate) mod tilt;

pub(crate) use text::broken;

pub use as_it_was::AsItWasStudy;
pub use edges::EdgeStudy;
pub use fit::FitStudy;
pub use page::Study;
