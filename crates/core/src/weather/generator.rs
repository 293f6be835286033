//! Generator.
