//! Runs: seasons, worths and searches that take longer than an answer may, and what they found.
//!
//! ```text
//! start ─waiting→ a free place ─running→ done | failed | canceled
//! ```
//!
//! Runs compute on threads of their own, few at a time; the page follows them by events. A run that
//! replaces another cancels it at once if it is under way; a finished one is kept until its
//! replacement is done, so that the page is never without a picture.

mod closer;
mod events;
mod grids;
mod place;
mod search;
mod season;
mod start;
mod store;
mod summary;
mod worth;

pub(crate) use closer::{__path_closer, closer};
pub(crate) use events::{__path_events, events};
pub(crate) use grids::{__path_grid, __path_sets, grid, sets};
pub(crate) use place::{__path_place, place};
pub(crate) use start::{__path_start_run, start_run};
pub(crate) use store::{Runs, fresh_prefix};
pub(crate) use summary::{__path_forget, __path_run, forget, run};

use crate::ask::display_units;
use crate::memory;
use evenfall_core::model::Scenario;
use evenfall_core::season::Outcome;
use evenfall_core::worth::{Economics, Worth};
use evenfall_figures::UnitSystem;
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
pub(crate) struct ProgressTold {
    pub(crate) done: usize,
    pub(crate) total: usize,
    /// What the steps are: `passes`, `seasons` or `candidate-seasons`.
    pub(crate) what: &'static str,
}

/// The latest of a run, for whoever follows it.
#[derive(Clone, Debug)]
pub(crate) struct Latest {
    pub(crate) state: State,
    pub(crate) progress: Option<ProgressTold>,
    /// What the seasons so far say, as JSON.
    pub(crate) partial: Option<Arc<str>>,
    /// Why it failed.
    pub(crate) problem: Option<String>,
}

/// What a run found.
#[derive(Debug)]
pub(crate) enum Found {
    Season(Box<season::SeasonFound>),
    Worth(Box<worth::WorthFound>),
    Search(Box<search::SearchFound>),
}

impl Found {
    /// Bytes of its grids.
    fn bytes(&self) -> usize {
        match self {
            Self::Season(found) => found.bytes(),
            Self::Worth(found) => found.bytes(),
            Self::Search(_) => 0,
        }
    }

    /// The season, where one was run.
    pub(crate) fn outcome(&self) -> Option<&Outcome> {
        match self {
            Self::Season(found) => Some(&found.outcome),
            Self::Worth(_) | Self::Search(_) => None,
        }
    }

    /// The worth, where it was asked for.
    pub(crate) fn worth(&self) -> Option<(&Worth, &Economics)> {
        match self {
            Self::Season(_) | Self::Search(_) => None,
            Self::Worth(found) => Some((&found.worth, &found.economics)),
        }
    }
}

/// A run.
#[derive(Debug)]
pub(crate) struct Run {
    pub(crate) id: String,
    pub(crate) kind: Kind,
    /// Factor by which its cells are wider than the scenario's.
    pub(crate) coarser: usize,
    /// What the reader should know of its cells.
    pub(crate) note: String,
    /// The scenario on the run's cells.
    pub(crate) resolved: Resolved,
    /// The scenario's text as it was sent.
    pub(crate) text: String,
    /// Seasons to run, for a worth.
    pub(crate) seasons: usize,
    /// Runs that go when this one is done.
    retires: Vec<String>,
    canceled: AtomicBool,
    /// When somebody last asked about it.
    asked_about: Mutex<Instant>,
    latest: watch::Sender<Latest>,
    found: OnceLock<Found>,
}

impl Run {
    pub(crate) fn units(&self) -> UnitSystem {
        display_units(&self.resolved)
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
        needed_mb(self.kind, &self.resolved.scenario)
    }

    /// What it found, once it is done.
    pub(crate) fn found(&self) -> Option<&Found> {
        self.found.get().filter(|_| self.state() == State::Done)
    }

    pub(crate) fn is_canceled(&self) -> bool {
        self.canceled.load(Ordering::SeqCst)
    }

    fn note_asked(&self) {
        *self.asked_about.lock().unwrap_or_else(PoisonError::into_inner) = Instant::now();
    }

    /// Whether nobody follows it, nor asked about it for so long.
    fn is_abandoned(&self, after: Duration) -> bool {
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
    fn enter(&self, state: State, problem: Option<String>) {
        self.latest.send_if_modified(|latest| {
            let changes = !latest.state.is_over() && latest.state != state;
            if changes {
                latest.state = state;
                latest.problem = problem;
            }
            changes
        });
    }

    fn progress(&self, done: usize, total: usize, what: &'static str) {
        self.latest
            .send_modify(|latest| latest.progress = Some(ProgressTold { done, total, what }));
    }

    fn partial(&self, json: String) {
        self.latest.send_modify(|latest| latest.partial = Some(json.into()));
    }
}
