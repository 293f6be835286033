//! Following a run: server-sent events, of which the latest of each kind is sent again to whoever
//! comes late.
//!
//! A slow reader misses steps in between, never the last one: the run notes only its latest state.

use super::run::{Latest, State, Steps};
use axum::response::sse::Event;
use futures_util::stream::{self, Stream};
use serde_json::json;
use std::collections::VecDeque;
use std::convert::Infallible;
use std::sync::Arc;
use tokio::sync::watch;

/// The events of a run, to its end.
pub(crate) fn follow(
    mut latest: watch::Receiver<Latest>,
) -> impl Stream<Item = Result<Event, Infallible>> {
    // What there is already counts as news.
    latest.mark_changed();
    stream::unfold(Follower::of(latest), Follower::next)
}

/// What one reader has been told.
struct Follower {
    latest: watch::Receiver<Latest>,
    progress: Option<Steps>,
    partial: Option<Arc<str>>,
    waiting: VecDeque<Event>,
    is_over: bool,
}

impl Follower {
    fn of(latest: watch::Receiver<Latest>) -> Self {
        Self { latest, progress: None, partial: None, waiting: VecDeque::new(), is_over: false }
    }

    /// The next event; `None` after the last.
    async fn next(mut self) -> Option<(Result<Event, Infallible>, Self)> {
        loop {
            if let Some(event) = self.waiting.pop_front() {
                return Some((Ok(event), self));
            }
            if self.is_over || self.latest.changed().await.is_err() {
                return None;
            }
            self.take_news();
        }
    }

    fn take_news(&mut self) {
        let latest = self.latest.borrow_and_update().clone();
        let mut tell = |name: &str, data: String| {
            self.waiting.push_back(Event::default().event(name).data(data));
        };
        if latest.progress != self.progress
            && let Some(Steps { done, total, what }) = latest.progress
        {
            tell("progress", json!({ "done": done, "total": total, "what": what }).to_string());
        }
        if let Some(partial) = &latest.partial
            && self.partial.as_ref().is_none_or(|known| !Arc::ptr_eq(known, partial))
        {
            tell("partial", partial.to_string());
        }
        match latest.state {
            State::Waiting | State::Running => {}
            State::Done => tell("done", "{}".to_owned()),
            State::Canceled => tell("canceled", "{}".to_owned()),
            State::Failed => tell("failed", json!({ "problem": latest.problem }).to_string()),
        }
        self.is_over = latest.state.is_over();
        self.progress = latest.progress;
        self.partial = latest.partial;
    }
}
