//! What the server keeps between requests.

use crate::fail::Fail;
use crate::limits::QUICK_AT_ONCE;
use crate::runs::Runs;
use evenfall_core::season::LandingStore;
use std::collections::BTreeMap;
use std::sync::Arc;
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
    pub(crate) kept: LandingStore,
    pub(crate) runs: Runs,
    quick: Semaphore,
}

impl App {
    pub(crate) fn new(start: Start) -> Arc<Self> {
        Arc::new(Self {
            start,
            kept: LandingStore::default(),
            runs: Runs::default(),
            quick: Semaphore::new(QUICK_AT_ONCE),
        })
    }

    /// Computes something short beside the threads that answer requests.
    pub(crate) async fn quickly<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Self) -> Result<T, Fail> + Send + 'static,
    ) -> Result<T, Fail> {
        let _place = self.quick.acquire().await.map_err(|_| Fail::ending())?;
        let app = Arc::clone(self);
        spawn_blocking(move || work(&app)).await.map_err(|_| Fail::fault())?
    }
}
