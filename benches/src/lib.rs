//! Benches.
