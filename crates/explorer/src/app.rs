//! What the server keeps between requests.

use crate::fail::Fail;
use crate::kept_sheets::Sheets;
use crate::limits::QUICK_AT_ONCE;
use crate::memory::Memory;
use crate::runs::Runs;
use evenfall_core::season::{LandingMapCache, Progress};
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use tokio::sync::Semaphore;
use tokio::task::spawn_blocking;

/// What the page starts from.
#[derive(Clone, Debug, Default)]
pub struct Start {
    /// Text of the scenario; the embedded demo where there is none.
    pub scenario: Option<String>,
    /// Files that the scenario names, by the name that it uses.
    pub files: BTreeMap<String, Vec<u8>>,
}

impl Start {
    /// Whether the page can show the scenario, sound or not: it is a JSON object.
    pub fn is_readable(&self) -> bool {
        type Object = serde_json::Map<String, serde_json::Value>;
        self.scenario.as_deref().is_none_or(|text| serde_json::from_str::<Object>(text).is_ok())
    }
}

/// The server's memory.
#[derive(Debug)]
pub(crate) struct App {
    pub(crate) start: Start,
    /// Landing maps, shared by all computations: a moved stop needs none anew.
    pub(crate) kept: LandingMapCache,
    pub(crate) runs: Runs,
    pub(crate) sheets: Sheets,
    pub(crate) memory: Memory,
    quick: Arc<Semaphore>,
}

impl App {
    pub(crate) fn new(start: Start) -> Arc<Self> {
        Arc::new(Self {
            start,
            kept: LandingMapCache::default(),
            runs: Runs::default(),
            sheets: Sheets::default(),
            memory: Memory::default(),
            quick: Arc::new(Semaphore::new(QUICK_AT_ONCE)),
        })
    }

    /// Computes something short beside the threads that answer requests. Its place stays taken
    /// until it has ended, also when nobody waits for it any more; `Awaited` tells it so.
    pub(crate) async fn quickly<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Self, &Awaited) -> Result<T, Fail> + Send + 'static,
    ) -> Result<T, Fail> {
        let place = Arc::clone(&self.quick).acquire_owned().await.map_err(|_| Fail::ending())?;
        let app = Arc::clone(self);
        let awaited = Awaited::default();
        // Dropped with this future: after the answer, after its time, or when the asker is gone.
        let _waiting = Waiting(awaited.clone());
        spawn_blocking(move || {
            let _place = place;
            work(&app, &awaited)
        })
        .await
        .map_err(|_| Fail::fault())?
    }
}

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
