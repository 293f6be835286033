//! What requests may take of the machine; how they are refused (`fail`), and who is answered at all
//! (`guard`, `owner`), and who gives up a connection for whom (`places`).

pub(crate) mod fail;
pub(crate) mod guard;
pub(crate) mod owner;
pub(crate) mod places;

use std::time::Duration;

/// Largest body of a request, bytes; scenarios are some 10 kB, a year of hourly weather up to 2 MB.
pub(crate) const BODY_BYTES: usize = 8 << 20;
/// Connections at once; a browser opens six to one address, whatever its tabs. For one more, another that
/// keeps the server waiting goes (`places`).
pub(crate) const CONNECTIONS: usize = 128;
/// Longest time for the head of a request, also of the next one on a connection that is kept open.
pub(crate) const HEAD_TIME: Duration = Duration::from_secs(10);
/// Longest time for the body of a request; on loopback the largest takes a fraction of a second.
pub(crate) const BODY_TIME: Duration = Duration::from_secs(10);
/// How long a server waits for those two. Tests of what comes after that wait shorten it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Patience {
    pub(crate) head: Duration,
    pub(crate) body: Duration,
}

impl Default for Patience {
    fn default() -> Self {
        Self { head: HEAD_TIME, body: BODY_TIME }
    }
}

/// Most bytes read ahead of a request, its head among them.
pub(crate) const HEAD_BYTES: usize = 64 << 10;
/// Longest time for an answer; runs are followed by events, which have no such limit.
pub(crate) const ANSWER_TIME: Duration = Duration::from_mins(1);
/// Short computations side by side; more wait.
pub(crate) const QUICK_AT_ONCE: usize = 4;
/// Small seasons that compute side by side; more wait.
pub(crate) const SEASONS_AT_ONCE: usize = 2;
/// Large seasons that compute side by side; more wait, and keep no small one waiting.
pub(crate) const LARGE_SEASONS_AT_ONCE: usize = 1;
/// Worths that compute side by side; more wait.
pub(crate) const WORTHS_AT_ONCE: usize = 1;
/// Searches that compute side by side; more wait.
pub(crate) const SEARCHES_AT_ONCE: usize = 1;
/// Runs under way, computing or waiting: what two tabs need. More are refused.
pub(crate) const RUNS_UNDER_WAY: usize = 4;
/// Runs that are kept, finished or not; the oldest finished go first. As many canceled ones beside them are
/// still known.
pub(crate) const RUNS_KEPT: usize = 8;
/// Sheets that are kept to be opened; the oldest go first.
pub(crate) const SHEETS_KEPT: usize = 8;
/// What they may hold together, bytes; the newest is kept in any case.
pub(crate) const SHEET_BYTES: usize = 32 << 20;
/// What large computations may take together, MB; more wait, and what is more by itself is refused.
pub(crate) const MEMORY_MB: usize = 4096;
/// What needs at most this much is small, MB: the demo's season on its own cells needs 63.
pub(crate) const SMALL_MB: usize = 128;
/// What small computations may take together, MB, beside the large ones: no picture waits for a
/// long run.
pub(crate) const SMALL_MEMORY_MB: usize = 512;
/// A run that nobody follows or asks about for so long is canceled: its page is gone.
pub(crate) const ABANDONED: Duration = Duration::from_mins(1);
/// What all kept runs may hold together, bytes; the newest is kept in any case.
pub(crate) const RUN_BYTES: usize = 96 << 20;
/// What footprints of sets, kept from one season to the next, may hold, bytes: the demo's on its own
/// cells hold 20 MB.
pub(crate) const FOOTPRINT_BYTES: usize = 48 << 20;
/// Sizes of cells of which the last season is kept for the next: a page's coarse ones and its own.
pub(crate) const LAST_SEASONS: usize = 2;
/// What the last season may hold to be kept for the next one, bytes: the demo's on its own cells holds 26 MB.
pub(crate) const LAST_SEASON_BYTES: usize = 48 << 20;
/// Most cells a side of a grid that goes to the page.
pub(crate) const DISPLAY_SIDE: usize = 400;
/// What the pass grids of one run may take, bytes; many passes are kept on larger cells.
pub(crate) const DISPLAY_BYTES: usize = 64 << 20;
/// Most seasons of one run, as on the command line.
pub(crate) const SEASONS: std::ops::RangeInclusive<usize> = 2..=10_000;
/// Most alternatives that are laid out one by one where a scenario has problems; the page builds six.
pub(crate) const ALTERNATIVES_DRAFTED: usize = 12;
