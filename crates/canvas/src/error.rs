//! What can go wrong while drawing.

use std::fmt;

/// Why something could not be drawn or laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DrawError {
    /// What is to be drawn does not belong together, or is nothing.
    Mismatch(String),
    /// The embedded font could not be read.
    Font,
    /// A drawing, raster or text library refused; its own words.
    Library(String),
}

impl DrawError {
    /// Wraps what does not belong together.
    pub fn mismatch(error: impl fmt::Display) -> Self {
        Self::Mismatch(error.to_string())
    }

    /// Wraps what a library says.
    pub fn library(error: impl fmt::Display) -> Self {
        Self::Library(error.to_string())
    }
}

impl fmt::Display for DrawError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mismatch(what) => write!(f, "the results cannot be drawn: {what}"),
            Self::Font => f.write_str("the embedded font cannot be read"),
            Self::Library(what) => write!(f, "drawing failed: {what}"),
        }
    }
}

impl std::error::Error for DrawError {}
