//! Where a value of a scenario stands.

use std::ops::Range;

/// Where a value stands: bytes of the text, and JSON pointer (RFC 6901).
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct At {
    pub(crate) span: Range<usize>,
    pub(crate) pointer: String,
}

impl At {
    /// The start of a section: where a missing key would have been.
    pub(crate) fn opening(&self) -> Self {
        Self { span: self.span.start..self.span.start + 1, pointer: self.pointer.clone() }
    }
}
