//! Jobs: short work that is answered at once, and runs that take longer than an answer may.
//!
//! ```text
//! start ─waiting→ a free place ─running→ done | failed | canceled
//! ```
//!
//! Runs compute on threads of their own, few at a time; the page follows them by events. A run that
//! replaces another cancels it at once if it is under way; whatever it replaces is known until it is
//! done itself, so that the page is never without a picture, and never told of a run that is none.

pub(crate) mod follow;
pub(crate) mod numbers;
pub(crate) mod run;
pub(crate) mod short;
pub(crate) mod store;
