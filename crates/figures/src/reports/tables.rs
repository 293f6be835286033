//! Results as tables for page and terminal, as CSV and as open array files.

pub(crate) mod edges;
pub(crate) mod figures;
pub(crate) mod known;
pub(crate) mod npy;
pub(crate) mod passes;
pub(crate) mod stops;
pub(crate) mod water;
