//! What the server keeps between requests; each handler is given its own part.

use crate::handlers::check::Start;
use crate::handlers::farms::Keeper;
use crate::handlers::found::Runs;
use crate::handlers::last_seasons::LastSeasons;
use crate::handlers::sheets::Sheets;
use crate::jobs::short::Short;
use crate::limits::FOOTPRINT_BYTES;
use crate::memory::Memory;
use axum::extract::FromRef;
use evenfall_core::season::LandingMapCache;
use std::sync::Arc;

/// All that is kept; its parts are shared among copies.
#[derive(Clone, Debug)]
pub(crate) struct App {
    start: Arc<Start>,
    short: Short,
    pub(crate) runs: Arc<Runs>,
    last_seasons: Arc<LastSeasons>,
    sheets: Arc<Sheets>,
}

impl App {
    pub(crate) fn new(start: Start) -> Self {
        let memory = Memory::default();
        let kept = Arc::new(LandingMapCache::with_footprints(FOOTPRINT_BYTES));
        Self {
            start: Arc::new(start),
            short: Short::new(memory.clone(), kept),
            runs: Arc::new(Runs::new(memory)),
            last_seasons: Arc::default(),
            sheets: Arc::default(),
        }
    }
}

impl FromRef<App> for Arc<Start> {
    fn from_ref(app: &App) -> Self {
        Self::clone(&app.start)
    }
}

impl FromRef<App> for Keeper {
    fn from_ref(app: &App) -> Self {
        Self(app.start.farms.clone())
    }
}

impl FromRef<App> for Short {
    fn from_ref(app: &App) -> Self {
        app.short.clone()
    }
}

impl FromRef<App> for Arc<Runs> {
    fn from_ref(app: &App) -> Self {
        Self::clone(&app.runs)
    }
}

impl FromRef<App> for Arc<LastSeasons> {
    fn from_ref(app: &App) -> Self {
        Self::clone(&app.last_seasons)
    }
}

impl FromRef<App> for Arc<Sheets> {
    fn from_ref(app: &App) -> Self {
        Self::clone(&app.sheets)
    }
}
