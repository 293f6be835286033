//! The overlay.
