//! Many seasons.
pub mod compact;
