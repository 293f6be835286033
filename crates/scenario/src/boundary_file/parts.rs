//! What boundaries are made of, as files give them and as they are passed on, and what can be wrong.

use evenfall_core::boundary::Corner;

/// A corner as a file gives it; `None` where it is not two numbers.
pub(super) type Given = Option<Corner>;
/// A polygon as a file gives it: its outer ring, then its holes, each closed.
pub(super) type Polygon = Vec<Vec<Given>>;

/// The rings of a boundary, in the numbers of the file.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Shape {
    /// Outer rings and holes, each without its closing corner.
    pub(crate) rings: Vec<Vec<Corner>>,
    /// Which of them are holes.
    pub(crate) is_hole: Vec<bool>,
}

/// Something wrong with a boundary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Problem {
    pub(crate) what: String,
    pub(crate) hint: String,
}

impl Problem {
    pub(super) fn new(what: impl Into<String>, hint: &str) -> Self {
        Self { what: what.into(), hint: hint.to_owned() }
    }
}
