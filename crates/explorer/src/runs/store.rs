//! Where runs are kept, and how many.

use super::{Kind, Latest, Run, State};
use crate::app::App;
use crate::fail::Fail;
use crate::limits::{
    ABANDONED, LARGE_SEASONS_AT_ONCE, RUN_BYTES, RUNS_KEPT, RUNS_UNDER_WAY, SEARCHES_AT_ONCE,
    SEASONS_AT_ONCE, WORTHS_AT_ONCE,
};
use crate::memory;
use axum::http::StatusCode;
use evenfall_scenario::Resolved;
use std::collections::hash_map::RandomState;
use std::hash::{BuildHasher as _, Hasher as _};
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use tokio::sync::{Semaphore, watch};
use tokio::time::Instant;

/// All runs, the oldest first.
#[derive(Debug)]
pub(crate) struct Runs {
    kept: Mutex<Kept>,
    /// Places to compute in, by kind: a picture does not wait for many seasons.
    season_places: Arc<Semaphore>,
    large_season_places: Arc<Semaphore>,
    worth_places: Arc<Semaphore>,
    search_places: Arc<Semaphore>,
}

#[derive(Debug)]
struct Kept {
    runs: Vec<Arc<Run>>,
    /// Numbers of an earlier server name no run of this one.
    prefix: String,
    next: u64,
}

/// A run that is wished for.
#[derive(Debug)]
pub(crate) struct Wish {
    pub(crate) kind: Kind,
    pub(crate) coarser: usize,
    pub(crate) note: String,
    pub(crate) resolved: Resolved,
    pub(crate) text: String,
    pub(crate) seasons: usize,
    pub(crate) replaces: Option<String>,
}

/// What numbers given out by this server begin with.
pub(crate) fn fresh_prefix() -> String {
    format!("{:08x}", RandomState::new().build_hasher().finish() as u32)
}

impl Default for Runs {
    fn default() -> Self {
        let kept = Mutex::new(Kept { runs: Vec::new(), prefix: fresh_prefix(), next: 1 });
        Self {
            kept,
            season_places: Arc::new(Semaphore::new(SEASONS_AT_ONCE)),
            large_season_places: Arc::new(Semaphore::new(LARGE_SEASONS_AT_ONCE)),
            worth_places: Arc::new(Semaphore::new(WORTHS_AT_ONCE)),
            search_places: Arc::new(Semaphore::new(SEARCHES_AT_ONCE)),
        }
    }
}

impl Runs {
    fn kept(&self) -> MutexGuard<'_, Kept> {
        // A panic elsewhere leaves the list whole: nothing panics while it is held.
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A run by its number.
    pub(crate) fn get(&self, id: &str) -> Result<Arc<Run>, Fail> {
        let known = self.kept().runs.iter().find(|run| run.id == id).cloned();
        known.inspect(|run| run.note_asked()).ok_or_else(|| {
            Fail::not_found("There is no such run.").hint(
                "Only the latest runs are kept, and none when the program ends. Run it again.",
            )
        })
    }

    /// Takes a run in, if there is a place for it.
    pub(crate) fn add(&self, wish: Wish) -> Result<Arc<Run>, Fail> {
        let mut kept = self.kept();
        let replaced = wish.replaces.as_deref();
        let replaced = kept.runs.iter().position(|run| Some(run.id.as_str()) == replaced);
        let mut retires = Vec::new();
        if let Some(at) = replaced {
            let run = Arc::clone(&kept.runs[at]);
            if run.state() == State::Done {
                retires.push(run.id.clone());
            } else {
                run.cancel();
                retires.extend(run.retires.iter().cloned());
                kept.runs.remove(at);
            }
        }
        let under_way = kept.runs.iter().filter(|run| !run.state().is_over()).count();
        if under_way >= RUNS_UNDER_WAY {
            let problem = format!("{under_way} runs are under way already.");
            return Err(Fail::new(StatusCode::TOO_MANY_REQUESTS, problem).hint(
                "Wait for one to end, or cancel one on its page; runs of pages that were closed end \
                 by themselves within a minute.",
            ));
        }
        kept.make_room(&retires);
        let id = format!("{}-{}", kept.prefix, kept.next);
        kept.next += 1;
        let (state, progress, partial, problem) = (State::Waiting, None, None, None);
        let run = Arc::new(Run {
            id,
            kind: wish.kind,
            coarser: wish.coarser,
            note: wish.note,
            resolved: wish.resolved,
            text: wish.text,
            seasons: wish.seasons,
            retires,
            canceled: AtomicBool::new(false),
            asked_about: Mutex::new(Instant::now()),
            latest: watch::Sender::new(Latest { state, progress, partial, problem }),
            found: OnceLock::new(),
        });
        kept.runs.push(Arc::clone(&run));
        Ok(run)
    }

    /// Cancels a run and forgets it.
    pub(crate) fn forget(&self, id: &str) -> Result<(), Fail> {
        let run = self.get(id)?;
        run.cancel();
        self.kept().runs.retain(|kept| kept.id != id);
        Ok(())
    }

    /// Cancels whatever is under way.
    pub(crate) fn cancel_all(&self) {
        self.kept().runs.iter().for_each(|run| run.cancel());
    }

    /// What a run that has come to its end replaces goes.
    fn retire(&self, run: &Run) {
        if !run.is_canceled() {
            self.kept().runs.retain(|kept| !run.retires.contains(&kept.id));
        }
    }

    /// The oldest results go while all together are too large; `newest` stays.
    fn trim(&self, newest: &Run) {
        let mut kept = self.kept();
        let bytes = |run: &Arc<Run>| run.found().map_or(0, super::Found::bytes);
        while kept.runs.iter().map(bytes).sum::<usize>() > RUN_BYTES {
            let spared = [newest.id.clone()];
            let Some(oldest) = kept.oldest_over(&spared) else { break };
            kept.runs.remove(oldest);
        }
    }
}

impl Kept {
    /// Removes the oldest runs that are over until one more may come in; `spared` stay if others
    /// can go instead.
    fn make_room(&mut self, spared: &[String]) {
        while self.runs.len() >= RUNS_KEPT {
            let Some(oldest) = self.oldest_over(spared).or_else(|| self.oldest_over(&[])) else {
                break;
            };
            self.runs.remove(oldest);
        }
    }

    fn oldest_over(&self, spared: &[String]) -> Option<usize> {
        self.runs.iter().position(|run| run.state().is_over() && !spared.contains(&run.id))
    }
}

/// Cancels a run whose page is gone: a reload takes it up again within moments, nobody later.
pub(crate) async fn watch_over(app: Arc<App>, run: Arc<Run>) {
    while !run.state().is_over() {
        tokio::time::sleep(ABANDONED / 12).await;
        if !run.state().is_over() && run.is_abandoned(ABANDONED) {
            // Gone already where another took its place.
            let _ = app.runs.forget(&run.id);
        }
    }
}

/// Computes a run as soon as there is a place for it.
pub(crate) async fn compute(app: Arc<App>, run: Arc<Run>) {
    let places = match run.kind {
        Kind::Season if memory::is_small(run.needed_mb()) => &app.runs.season_places,
        Kind::Season => &app.runs.large_season_places,
        Kind::Worth => &app.runs.worth_places,
        Kind::Search => &app.runs.search_places,
    };
    let Ok(_place) = Arc::clone(places).acquire_owned().await else { return };
    let Ok(_share) = app.memory.take(run.needed_mb()).await else { return };
    if run.is_canceled() {
        return;
    }
    run.enter(State::Running, None);
    let (worker, its_app) = (Arc::clone(&run), Arc::clone(&app));
    let work = move || match worker.kind {
        Kind::Season => super::season::compute(&its_app, &worker),
        Kind::Worth => super::worth::compute(&its_app, &worker),
        Kind::Search => super::search::compute(&worker),
    };
    match tokio::task::spawn_blocking(work).await {
        Ok(Ok(found)) => {
            // Set once: a run is computed by one task only.
            let _ = run.found.set(found);
            // Before anybody hears that it is done.
            app.runs.retire(&run);
            run.enter(State::Done, None);
            app.runs.trim(&run);
        }
        Ok(Err(problem)) => run.enter(State::Failed, Some(problem)),
        Err(_) => {
            let problem = "A fault of this program stopped the run: please report it.";
            run.enter(State::Failed, Some(problem.to_owned()));
        }
    }
}
