//! Where runs are kept, and how many.

use super::numbers::Numbers;
use super::run::{Kept, Kind, Order, Run, State};
use crate::limits::fail::Fail;
use crate::limits::{
    ABANDONED, LARGE_SEASONS_AT_ONCE, RUN_BYTES, RUNS_KEPT, RUNS_UNDER_WAY, SEARCHES_AT_ONCE,
    SEASONS_AT_ONCE, WORTHS_AT_ONCE,
};
use crate::memory::{self, Memory};
use axum::http::StatusCode;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use tokio::sync::Semaphore;

/// All runs, the oldest first.
#[derive(Debug)]
pub(crate) struct Runs<F> {
    list: Mutex<List<F>>,
    memory: Memory,
    /// Places to compute in, by kind: a picture does not wait for many seasons.
    season_places: Arc<Semaphore>,
    large_season_places: Arc<Semaphore>,
    worth_places: Arc<Semaphore>,
    search_places: Arc<Semaphore>,
}

#[derive(Debug)]
struct List<F> {
    runs: Vec<Arc<Run<F>>>,
    numbers: Numbers,
}

impl<F: Kept> Runs<F> {
    pub(crate) fn new(memory: Memory) -> Self {
        let places = |at_once| Arc::new(Semaphore::new(at_once));
        Self {
            list: Mutex::new(List { runs: Vec::new(), numbers: Numbers::default() }),
            memory,
            season_places: places(SEASONS_AT_ONCE),
            large_season_places: places(LARGE_SEASONS_AT_ONCE),
            worth_places: places(WORTHS_AT_ONCE),
            search_places: places(SEARCHES_AT_ONCE),
        }
    }

    fn list(&self) -> MutexGuard<'_, List<F>> {
        // A panic elsewhere leaves the list whole: nothing panics while it is held.
        self.list.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A run by its number.
    pub(crate) fn get(&self, id: &str) -> Result<Arc<Run<F>>, Fail> {
        let known = self.list().runs.iter().find(|run| run.id == id).cloned();
        known.inspect(|run| run.note_asked()).ok_or_else(|| {
            Fail::not_found("There is no such run.").hint(
                "The program keeps only the latest runs, and none after it stops. Run it again.",
            )
        })
    }

    /// Takes a run in, if there is a place for it.
    pub(crate) fn add(&self, order: Order) -> Result<Arc<Run<F>>, Fail> {
        let mut list = self.list();
        let replaced = order.replaces.as_deref();
        let replaced = list.runs.iter().position(|run| Some(run.id.as_str()) == replaced);
        let mut retires = Vec::new();
        if let Some(at) = replaced {
            let run = Arc::clone(&list.runs[at]);
            if run.state() != State::Done {
                run.cancel();
                retires.extend(run.retires.iter().cloned());
            }
            // A canceled one stays for now: its page may have asked for its events a moment ago, and is
            // told that it is canceled.
            retires.push(run.id.clone());
            retires.retain(|id| list.runs.iter().any(|run| run.id == *id));
        }
        let under_way = list.runs.iter().filter(|run| !run.state().is_over()).count();
        if under_way >= RUNS_UNDER_WAY {
            let problem = format!("{under_way} runs are already under way.");
            return Err(Fail::new(StatusCode::TOO_MANY_REQUESTS, problem).hint(
                "Wait for one to finish, or cancel one on its page. Runs of closed pages end by \
                 themselves within a minute.",
            ));
        }
        list.make_room(&retires);
        let run = Arc::new(Run::new(list.numbers.next(), order, retires));
        list.runs.push(Arc::clone(&run));
        Ok(run)
    }

    /// Cancels a run and forgets it, and those that were canceled for it.
    pub(crate) fn forget(&self, id: &str) -> Result<(), Fail> {
        let run = self.get(id)?;
        run.cancel();
        let goes =
            |kept: &Run<F>| kept.state() == State::Canceled && run.retires.contains(&kept.id);
        self.list().runs.retain(|kept| kept.id != id && !goes(kept));
        Ok(())
    }

    /// Cancels whatever is under way.
    pub(crate) fn cancel_all(&self) {
        self.list().runs.iter().for_each(|run| run.cancel());
    }

    /// What a run that has come to its end replaces goes.
    fn retire(&self, run: &Run<F>) {
        if !run.is_canceled() {
            self.list().runs.retain(|kept| !run.retires.contains(&kept.id));
        }
    }

    /// The oldest results go while all together are too large; `newest` stays.
    fn trim(&self, newest: &Run<F>) {
        let mut list = self.list();
        let bytes = |run: &Arc<Run<F>>| run.found().map_or(0, Kept::bytes);
        while list.runs.iter().map(bytes).sum::<usize>() > RUN_BYTES {
            let goes = |run: &Arc<Run<F>>| bytes(run) > 0 && run.id != newest.id;
            let Some(oldest) = list.runs.iter().position(goes) else { break };
            list.runs.remove(oldest);
        }
    }
}

impl<F> List<F> {
    /// Removes the oldest runs that are over until one more may come in; `spared` stay if others
    /// can go instead. Canceled ones hold no results and are counted by themselves.
    fn make_room(&mut self, spared: &[String]) {
        let is_canceled = |run: &Arc<Run<F>>| run.state() == State::Canceled;
        while self.runs.iter().filter(|run| is_canceled(run)).count() > RUNS_KEPT {
            let Some(oldest) = self.runs.iter().position(is_canceled) else { break };
            self.runs.remove(oldest);
        }
        while self.runs.iter().filter(|run| !is_canceled(run)).count() >= RUNS_KEPT {
            let goes = |run: &Arc<Run<F>>| run.state().is_over() && !is_canceled(run);
            let others = |run: &Arc<Run<F>>| goes(run) && !spared.contains(&run.id);
            let oldest = self.runs.iter().position(others);
            let Some(oldest) = oldest.or_else(|| self.runs.iter().position(goes)) else { break };
            self.runs.remove(oldest);
        }
    }
}

/// Computes a run with `work` as soon as there is a place for it, and cancels it when its page is
/// gone.
pub(crate) fn begin<F: Kept>(
    runs: &Arc<Runs<F>>,
    run: Arc<Run<F>>,
    work: impl FnOnce(&Run<F>) -> Result<F, String> + Send + 'static,
) {
    tokio::spawn(watch_over(Arc::clone(runs), Arc::clone(&run)));
    tokio::spawn(compute(Arc::clone(runs), run, work));
}

/// Cancels a run whose page is gone: a reload takes it up again within moments, nobody later.
async fn watch_over<F: Kept>(runs: Arc<Runs<F>>, run: Arc<Run<F>>) {
    while !run.state().is_over() {
        tokio::time::sleep(ABANDONED / 12).await;
        if !run.state().is_over() && run.is_abandoned(ABANDONED) {
            // Gone already where another took its place.
            let _ = runs.forget(&run.id);
        }
    }
}

async fn compute<F: Kept>(
    runs: Arc<Runs<F>>,
    run: Arc<Run<F>>,
    work: impl FnOnce(&Run<F>) -> Result<F, String> + Send + 'static,
) {
    let places = match run.order.kind {
        Kind::Season if memory::is_small(run.needed_mb()) => &runs.season_places,
        Kind::Season => &runs.large_season_places,
        Kind::Worth => &runs.worth_places,
        Kind::Search => &runs.search_places,
    };
    let Ok(_place) = Arc::clone(places).acquire_owned().await else { return };
    let Ok(_share) = runs.memory.take(run.needed_mb()).await else { return };
    if run.is_canceled() {
        return;
    }
    run.enter(State::Running, None);
    let worker = Arc::clone(&run);
    match tokio::task::spawn_blocking(move || work(&worker)).await {
        Ok(Ok(found)) => {
            // Before anybody hears that it is done.
            runs.retire(&run);
            run.finish(found);
            runs.trim(&run);
        }
        Ok(Err(problem)) => run.enter(State::Failed, Some(problem)),
        Err(_) => {
            let problem = "A fault in the program stopped the run. Please report it.";
            run.enter(State::Failed, Some(problem.to_owned()));
        }
    }
}
