//! Whether somebody still waits for an answer: who does not is not computed for.

use evenfall_core::season::Progress;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Whether somebody still waits for an answer.
#[derive(Clone, Debug, Default)]
pub(crate) struct Awaited {
    is_over: Arc<AtomicBool>,
}

impl Awaited {
    /// For computations that ask whether they are to go on.
    pub(crate) fn go_on(&self, _: Progress) -> bool {
        !self.is_over()
    }

    /// Whether nobody does any more.
    pub(crate) fn is_over(&self) -> bool {
        self.is_over.load(Ordering::SeqCst)
    }
}

/// Somebody who waits, until this is dropped.
pub(crate) struct Waiting(pub(crate) Awaited);

impl Drop for Waiting {
    fn drop(&mut self) {
        self.0.is_over.store(true, Ordering::SeqCst);
    }
}
