//! Numbers by which the page asks for what is kept. Those of an earlier server name nothing of this
//! one.

use std::collections::hash_map::RandomState;
use std::hash::{BuildHasher as _, Hasher as _};

/// Gives a new number each time.
#[derive(Debug)]
pub(crate) struct Numbers {
    prefix: String,
    next: u64,
}

impl Default for Numbers {
    fn default() -> Self {
        let prefix = format!("{:08x}", RandomState::new().build_hasher().finish() as u32);
        Self { prefix, next: 1 }
    }
}

impl Numbers {
    pub(crate) fn next(&mut self) -> String {
        let number = format!("{}-{}", self.prefix, self.next);
        self.next += 1;
        number
    }
}
