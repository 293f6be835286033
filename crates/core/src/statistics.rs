//! Sums and quantiles.
