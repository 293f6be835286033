//! Places for connections, and who gives one up where all are taken.
//!
//! All who connect have the same address, so a client is told by two things: whether it has shown the
//! owner's key, and whether it keeps the server waiting: for the head of a request, the rest of its body,
//! or the next one. Where no place is free, the stranger who came first goes, else whichever of the owner's
//! connections has kept the server waiting longest; what is being answered for the owner stays. So
//! neither strangers nor half requests, however many, keep a whole request of the owner out.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;
use tokio::sync::{Notify, OwnedSemaphorePermit, Semaphore};

/// Pause before it is looked again for a connection that may go.
const LOOK_AGAIN: Duration = Duration::from_millis(100);

/// All places, taken or free.
#[derive(Clone, Debug)]
pub(crate) struct Places {
    free: Arc<Semaphore>,
    taken: Arc<Mutex<Taken>>,
}

/// The connections, by the number of their latest wait: the lowest has waited longest.
#[derive(Debug, Default)]
struct Taken {
    latest: u64,
    connections: BTreeMap<u64, Connection>,
    /// The number under which each stands now, by its first one.
    numbers: BTreeMap<u64, u64>,
}

#[derive(Clone, Debug)]
struct Connection {
    first: u64,
    is_owners: bool,
    is_waited_for: bool,
    goes: Arc<Notify>,
}

/// One connection's place; free again when all that hold it are dropped.
#[derive(Clone, Debug)]
pub(crate) struct Place(Arc<Held>);

#[derive(Debug)]
struct Held {
    first: u64,
    goes: Arc<Notify>,
    taken: Arc<Mutex<Taken>>,
    _free: Option<OwnedSemaphorePermit>,
}

fn lock(taken: &Mutex<Taken>) -> MutexGuard<'_, Taken> {
    // Nothing panics while it is locked.
    taken.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Places {
    pub(crate) fn new(count: usize) -> Self {
        Self { free: Arc::new(Semaphore::new(count)), taken: Arc::default() }
    }

    /// A place, made free where none is; waits only while all others are being answered.
    pub(crate) async fn take(&self) -> Place {
        let free = loop {
            if let Ok(free) = Arc::clone(&self.free).try_acquire_owned() {
                break Some(free);
            }
            lock(&self.taken).let_one_go();
            let next = Arc::clone(&self.free).acquire_owned();
            if let Ok(free) = tokio::time::timeout(LOOK_AGAIN, next).await {
                // The places are never closed, so there is one.
                break free.ok();
            }
        };
        let goes = Arc::<Notify>::default();
        let first = lock(&self.taken).enter(Arc::clone(&goes));
        Place(Arc::new(Held { first, goes, taken: Arc::clone(&self.taken), _free: free }))
    }
}

impl Taken {
    fn enter(&mut self, goes: Arc<Notify>) -> u64 {
        self.latest += 1;
        let first = self.latest;
        let connection = Connection { first, is_owners: false, is_waited_for: true, goes };
        self.connections.insert(first, connection);
        self.numbers.insert(first, first);
        first
    }

    fn change(&mut self, first: u64, change: impl FnOnce(&mut Connection)) {
        if let Some(connection) =
            self.numbers.get(&first).and_then(|number| self.connections.get_mut(number))
        {
            change(connection);
        }
    }

    /// It is waited for again, and so stands behind all that have been longer.
    fn wait(&mut self, first: u64) {
        let Some(number) = self.numbers.get_mut(&first) else { return };
        let Some(mut connection) = self.connections.remove(number) else { return };
        self.latest += 1;
        *number = self.latest;
        connection.is_waited_for = true;
        self.connections.insert(self.latest, connection);
    }

    fn leave(&mut self, first: u64) {
        if let Some(number) = self.numbers.remove(&first) {
            self.connections.remove(&number);
        }
    }

    fn let_one_go(&mut self) {
        let strangers = self.connections.values().filter(|one| !one.is_owners);
        let waited_for = self.connections.values().filter(|one| one.is_owners && one.is_waited_for);
        let Some(one) = strangers.chain(waited_for).next().cloned() else { return };
        one.goes.notify_one();
        self.leave(one.first);
    }
}

impl Place {
    /// Its client has shown the owner's key.
    pub(crate) fn is_owners(&self) {
        lock(&self.0.taken).change(self.0.first, |one| one.is_owners = true);
    }

    /// A request is there in whole: the server is at work, and nobody waits for the client.
    pub(crate) fn is_answered(&self) {
        lock(&self.0.taken).change(self.0.first, |one| one.is_waited_for = false);
    }

    /// The answer is out: the next request is waited for.
    pub(crate) fn is_waited_for(&self) {
        lock(&self.0.taken).wait(self.0.first);
    }

    /// Comes to its end when the place is needed for somebody else.
    pub(crate) async fn goes(&self) {
        self.0.goes.notified().await;
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        lock(&self.taken).leave(self.first);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use futures_util::FutureExt as _;

    fn goes(place: &Place) -> bool {
        place.goes().now_or_never().is_some()
    }

    #[tokio::test(start_paused = true)]
    async fn strangers_go_first_then_who_keeps_waiting_and_never_who_is_answered() {
        let places = Places::new(3);
        let stranger = places.take().await;
        let idle = places.take().await;
        let answered = places.take().await;
        for place in [&idle, &answered] {
            place.is_owners();
            place.is_answered();
        }
        idle.is_waited_for();
        let full = async || tokio::time::timeout(LOOK_AGAIN / 2, places.take()).await.is_err();
        // Nobody gets a place before the connection that gives it up is closed.
        assert!(full().await);
        assert!(goes(&stranger) && !goes(&idle) && !goes(&answered));
        drop(stranger);
        let next = places.take().await;
        next.is_owners();
        next.is_answered();
        assert!(full().await);
        assert!(goes(&idle) && !goes(&next) && !goes(&answered));
        drop(idle);
        let after = places.take().await;
        after.is_owners();
        // Both are waited for, and the one that has been longer goes, whoever came first.
        next.is_waited_for();
        assert!(full().await);
        assert!(goes(&after) && !goes(&next) && !goes(&answered));
    }
}
