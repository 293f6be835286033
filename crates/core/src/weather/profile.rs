//! Profile.
