//! Short work: what is answered at once. A few side by side, each stopped when nobody waits for it.

use crate::limits::QUICK_AT_ONCE;
use crate::limits::fail::Fail;
use crate::memory::awaited::{Awaited, Waiting};
use crate::memory::{self, Memory, Share};
use evenfall_core::model::Scenario;
use evenfall_core::season::{LandingMapCache, Progress};
use std::sync::Arc;
use tokio::sync::Semaphore;
use tokio::task::spawn_blocking;

/// Places for short work.
#[derive(Clone, Debug)]
pub(crate) struct Short {
    places: Arc<Semaphore>,
    memory: Memory,
    cache: Arc<LandingMapCache>,
}

/// What a piece of short work has at hand.
#[derive(Debug)]
pub(crate) struct Work {
    pub(crate) cache: Arc<LandingMapCache>,
    memory: Memory,
    awaited: Awaited,
}

impl Short {
    pub(crate) fn new(memory: Memory, cache: Arc<LandingMapCache>) -> Self {
        Self { places: Arc::new(Semaphore::new(QUICK_AT_ONCE)), memory, cache }
    }

    /// Landing maps, shared by all computations: a moved stop needs none anew.
    pub(crate) fn cache(&self) -> Arc<LandingMapCache> {
        Arc::clone(&self.cache)
    }

    /// Computes something short beside the threads that answer requests. Its place stays taken
    /// until it has ended, also when nobody waits for it any more.
    pub(crate) async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Work) -> Result<T, Fail> + Send + 'static,
    ) -> Result<T, Fail> {
        let place = Arc::clone(&self.places).acquire_owned().await.map_err(|_| Fail::ending())?;
        let awaited = Awaited::default();
        // Dropped with this future: after the answer, after its time, or when the asker is gone.
        let _waiting = Waiting(awaited.clone());
        let cache = Arc::clone(&self.cache);
        let hand = Work { cache, memory: self.memory.clone(), awaited };
        spawn_blocking(move || {
            let _place = place;
            work(&hand)
        })
        .await
        .map_err(|_| Fail::fault())?
    }
}

impl Work {
    /// For computations that ask whether they are to go on.
    pub(crate) fn go_on(&self, at: Progress) -> bool {
        self.awaited.go_on(at)
    }

    /// Waits until there is memory for one season of `scenario`, for as long as the answer is
    /// awaited.
    pub(crate) fn memory_for(&self, scenario: &Scenario) -> Result<Share, Fail> {
        self.memory.take_here(memory::season_mb(scenario), &self.awaited)
    }
}
