//! A run: what was ordered, how far it is, what it found.

use crate::memory;
use evenfall_core::model::Scenario;
use evenfall_scenario::Resolved;
use serde::{Deserialize, Serialize};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};
use std::time::Duration;
use tokio::sync::watch;
use tokio::time::Instant;
use utoipa::ToSchema;

/// What is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Kind {
    /// One season, pass by pass.
    Season,
    /// Many seasons, crop, soil and money.
    Worth,
    /// Rotations worth considering.
    Search,
}

/// Memory that a run of this kind needs while it computes, MB.
pub(crate) fn needed_mb(kind: Kind, scenario: &Scenario) -> usize {
    match kind {
        Kind::Season => memory::season_mb(scenario),
        // Candidates run few at a time, each like a season of its own.
        Kind::Worth | Kind::Search => memory::worth_mb(scenario),
    }
}

/// How far a run is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum State {
    /// For a free place.
    Waiting,
    Running,
    Done,
    Failed,
    Canceled,
}

impl State {
    pub(crate) fn is_over(self) -> bool {
        matches!(self, Self::Done | Self::Failed | Self::Canceled)
    }
}

/// Steps done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
pub(crate) struct Steps {
    pub(crate) done: usize,
    pub(crate) total: usize,
    /// What the steps are: `passes`, `seasons` or `candidate-seasons`.
    pub(crate) what: &'static str,
}

/// The latest of a run, for whoever follows it.
#[derive(Clone, Debug)]
pub(crate) struct Latest {
    pub(crate) state: State,
    pub(crate) progress: Option<Steps>,
    /// What the seasons so far say, as JSON.
    pub(crate) partial: Option<Arc<str>>,
    /// Why it failed.
    pub(crate) problem: Option<String>,
}

/// What is kept of a run that is done.
pub(crate) trait Kept: Send + Sync + 'static {
    /// Bytes of its grids.
    fn bytes(&self) -> usize;
}

/// A run that is ordered.
#[derive(Debug)]
pub(crate) struct Order {
    pub(crate) kind: Kind,
    /// Factor by which its cells are wider than the scenario's.
    pub(crate) coarser: usize,
    /// What the reader should know of its cells; empty for the scenario's own.
    pub(crate) note: String,
    /// The scenario on the run's cells.
    pub(crate) resolved: Resolved,
    /// The scenario's text as it was sent.
    pub(crate) text: String,
    /// Seasons to run, for a worth or a search.
    pub(crate) seasons: usize,
    /// A run that this one takes the place of.
    pub(crate) replaces: Option<String>,
}

/// A run; `F` is what it finds.
#[derive(Debug)]
pub(crate) struct Run<F> {
    pub(crate) id: String,
    pub(crate) order: Order,
    /// Runs that go when this one is done.
    pub(super) retires: Vec<String>,
    canceled: AtomicBool,
    /// When somebody last asked about it.
    asked_about: Mutex<Instant>,
    latest: watch::Sender<Latest>,
    found: OnceLock<F>,
}

impl<F> Run<F> {
    pub(super) fn new(id: String, order: Order, retires: Vec<String>) -> Self {
        let latest = Latest { state: State::Waiting, progress: None, partial: None, problem: None };
        Self {
            id,
            order,
            retires,
            canceled: AtomicBool::new(false),
            asked_about: Mutex::new(Instant::now()),
            latest: watch::Sender::new(latest),
            found: OnceLock::new(),
        }
    }

    pub(crate) fn state(&self) -> State {
        self.latest.borrow().state
    }

    pub(crate) fn latest(&self) -> Latest {
        self.latest.borrow().clone()
    }

    pub(crate) fn follow(&self) -> watch::Receiver<Latest> {
        self.latest.subscribe()
    }

    /// Memory that it needs while it computes, MB.
    pub(crate) fn needed_mb(&self) -> usize {
        needed_mb(self.order.kind, &self.order.resolved.scenario)
    }

    /// What it found, once it is done.
    pub(crate) fn found(&self) -> Option<&F> {
        self.found.get().filter(|_| self.state() == State::Done)
    }

    pub(crate) fn is_canceled(&self) -> bool {
        self.canceled.load(Ordering::SeqCst)
    }

    /// Keeps what it found, and is done; of a run that was canceled meanwhile nothing is kept.
    pub(super) fn finish(&self, found: F) {
        self.latest.send_if_modified(|latest| {
            // Set once: a run is computed by one task only.
            let is_done = !latest.state.is_over() && self.found.set(found).is_ok();
            if is_done {
                latest.state = State::Done;
            }
            is_done
        });
    }

    pub(super) fn note_asked(&self) {
        *self.asked_about.lock().unwrap_or_else(PoisonError::into_inner) = Instant::now();
    }

    /// Whether nobody follows it, nor asked about it for so long.
    pub(super) fn is_abandoned(&self, after: Duration) -> bool {
        if self.latest.receiver_count() > 0 {
            self.note_asked();
            return false;
        }
        self.asked_about.lock().unwrap_or_else(PoisonError::into_inner).elapsed() >= after
    }

    /// Stops it; what is over stays over.
    pub(crate) fn cancel(&self) {
        self.canceled.store(true, Ordering::SeqCst);
        self.enter(State::Canceled, None);
    }

    /// Notes a new state, unless the run is over.
    pub(super) fn enter(&self, state: State, problem: Option<String>) {
        self.latest.send_if_modified(|latest| {
            let changes = !latest.state.is_over() && latest.state != state;
            if changes {
                latest.state = state;
                latest.problem = problem;
            }
            changes
        });
    }

    pub(crate) fn progress(&self, done: usize, total: usize, what: &'static str) {
        self.latest.send_modify(|latest| latest.progress = Some(Steps { done, total, what }));
    }

    pub(crate) fn partial(&self, json: String) {
        self.latest.send_modify(|latest| latest.partial = Some(json.into()));
    }
}
