//! Something optional that was given and makes no sense, as against something that was not given.

/// A part was refused, and why has been noted.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Refused;
