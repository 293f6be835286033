//! Memory: all that is computed at once shares a fixed amount. What needs more than is free waits;
//! what needs more than there is at all is refused before it begins. Small computations have an
//! amount of their own, so that they never wait for large ones.

pub(crate) mod awaited;

use crate::limits::fail::Fail;
use crate::limits::{MEMORY_MB, SMALL_MB, SMALL_MEMORY_MB};
use awaited::Awaited;
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::schedule::SeasonLength;
use evenfall_core::season::CELL_BYTES;
use std::pin::pin;
use std::sync::Arc;
use std::time::Duration;
use tokio::runtime::Handle;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// What is free, in MB.
#[derive(Clone, Debug)]
pub(crate) struct Memory {
    small: Arc<Semaphore>,
    large: Arc<Semaphore>,
}

/// A part of it, given back when dropped.
pub(crate) type Share = OwnedSemaphorePermit;

/// Times as much as a season that many seasons with soil and crop need; measured on a field with a boundary, 1 ft
/// cells and 8 alternatives (1.9 with two threads, 2.7 with twelve), with room for more.
const WORTH_SEASONS: usize = 4;

/// How often who waits for memory looks whether the answer is still wanted.
const LOOK_UP: Duration = Duration::from_millis(250);

impl Default for Memory {
    fn default() -> Self {
        let of = |many_mb| Arc::new(Semaphore::new(many_mb));
        Self { small: of(SMALL_MEMORY_MB), large: of(MEMORY_MB) }
    }
}

impl Memory {
    /// Waits until `needed_mb` are free.
    pub(crate) async fn take(&self, needed_mb: usize) -> Result<Share, Fail> {
        let from = if is_small(needed_mb) { &self.small } else { &self.large };
        let many = u32::try_from(needed_mb.min(MEMORY_MB)).unwrap_or(u32::MAX);
        Arc::clone(from).acquire_many_owned(many).await.map_err(|_| Fail::ending())
    }

    /// The same on a thread that may wait, for as long as somebody waits for what it is to make.
    pub(crate) fn take_here(&self, needed_mb: usize, awaited: &Awaited) -> Result<Share, Fail> {
        Handle::current().block_on(async {
            let mut share = pin!(self.take(needed_mb));
            loop {
                tokio::select! {
                    share = &mut share => return share,
                    () = tokio::time::sleep(LOOK_UP) => {
                        if awaited.is_over() {
                            return Err(Fail::ending());
                        }
                    }
                }
            }
        })
    }
}

/// Whether a computation never waits for large ones.
pub(crate) fn is_small(needed_mb: usize) -> bool {
    needed_mb <= SMALL_MB
}

/// What one season of `scenario` needs, MB: its grids and its sets.
pub fn season_mb(scenario: &Scenario) -> usize {
    grids_mb(scenario).saturating_add(sets_mb(scenario))
}

fn grids_mb(scenario: &Scenario) -> usize {
    let grid = scenario.field.grid;
    let cells = grid.cells_along.saturating_mul(grid.cells_across);
    cells.saturating_mul(CELL_BYTES * scenario.alternatives.len()) / 1_000_000 + 1
}

/// What a set takes from its plan to its line in a table, bytes: measured on ten million sets, 2026.
const SET_BYTES: usize = 800;

/// What the sets of all alternatives take, MB: told by the calendar alone, before they are planned.
pub fn sets_mb(scenario: &Scenario) -> usize {
    let of = |one: &Alternative| {
        let (calendar, lines) = (scenario.calendar_of(one), &one.lateral.lines);
        let sets = match calendar.length {
            SeasonLength::Passes(passes) => {
                one.outlets.count.saturating_mul(lines.sides().len()).saturating_mul(passes)
            }
            SeasonLength::Until(end) => {
                let hours = calendar.start.duration_until(end).as_secs_f64() / 3600.0;
                let of_a_line = hours / (calendar.set_time_h + calendar.move_gap_h);
                (of_a_line.max(0.0) as usize).saturating_mul(lines.count.max(1))
            }
        };
        sets.saturating_mul(SET_BYTES)
    };
    let bytes = scenario.alternatives.iter().map(of).fold(0, usize::saturating_add);
    bytes / 1_000_000
}

/// What many seasons of it need, MB.
pub fn worth_mb(scenario: &Scenario) -> usize {
    WORTH_SEASONS.saturating_mul(grids_mb(scenario)).saturating_add(sets_mb(scenario))
}

/// Refuses plans that cannot be had even alone.
pub(crate) fn check_plans(scenario: &Scenario) -> Result<(), Fail> {
    check(scenario, sets_mb(scenario))
}

/// Refuses what cannot be had even alone.
pub(crate) fn check(scenario: &Scenario, needed_mb: usize) -> Result<(), Fail> {
    if needed_mb <= MEMORY_MB {
        return Ok(());
    }
    let sets_mb = sets_mb(scenario);
    if 2 * sets_mb > MEMORY_MB {
        let problem = format!(
            "The season has too many sets for the explorer. They need about {sets_mb} MB, and the explorer \
             uses at most {MEMORY_MB} MB."
        );
        let hint = "Set `passes` in `season` to fewer (or `until` to an earlier day), or compare fewer \
                    alternatives.";
        return Err(Fail::impossible(problem).hint(hint.to_owned()));
    }
    let cell_m = scenario.field.grid.cell_m;
    // What sets take no cell makes less.
    let share = (needed_mb - sets_mb) as f64 / (MEMORY_MB - sets_mb) as f64;
    let wide_m = cell_m * share.sqrt();
    let problem = format!(
        "The grid is too fine for the explorer. Cells of {cell_m:.2} m need about {needed_mb} MB, \
         and the explorer uses at most {MEMORY_MB} MB."
    );
    Err(Fail::impossible(problem).hint(format!(
        "Set `cell` to {wide_m:.2} m ({:.2} ft) or more, compare fewer alternatives, or run the \
         saved scenario from the command line.",
        wide_m / evenfall_core::units::M_PER_FT
    )))
}

#[cfg(test)]
mod tests {
    use super::awaited::Waiting;
    use super::*;

    fn scenario(cell: &str) -> Scenario {
        let text = evenfall_scenario::demo().replace("\"2 ft\"", &format!("\"{cell}\""));
        let Ok(resolved) = evenfall_scenario::resolve(&text, &|_| Err(String::new())) else {
            panic!("the demo is sound")
        };
        resolved.scenario
    }

    #[test]
    fn closed_needs_follow_cells_and_alternatives() {
        // 660 × 660 cells, three alternatives, 28 bytes a cell each.
        assert_eq!(season_mb(&scenario("2 ft")), 660 * 660 * 28 * 3 / 1_000_000 + 1);
        assert!(check(&scenario("2 ft"), MEMORY_MB).is_ok());
        let refusal = check(&scenario("2 ft"), 4 * MEMORY_MB).unwrap_err().refusal;
        // Four times the need: cells twice as wide.
        assert!(refusal.hint.is_some_and(|hint| hint.contains("1.22 m (4.00 ft)")));
    }

    #[tokio::test]
    async fn what_needs_more_than_is_free_waits() {
        let memory = Memory::default();
        let most = memory.take(2 * MEMORY_MB).await.unwrap();
        let soon = std::time::Duration::from_millis(50);
        assert!(tokio::time::timeout(soon, memory.take(SMALL_MB + 1)).await.is_err());
        // A second large one waits as well; what is small waits for neither.
        let waits = tokio::spawn({
            let memory = memory.clone();
            async move { memory.take(MEMORY_MB / 2).await.map(drop) }
        });
        tokio::task::yield_now().await;
        assert!(tokio::time::timeout(soon, memory.take(SMALL_MB)).await.is_ok());
        drop(most);
        assert!(tokio::time::timeout(soon, waits).await.is_ok());
        assert!(tokio::time::timeout(soon, memory.take(SMALL_MB + 1)).await.is_ok());
    }

    #[tokio::test]
    async fn what_nobody_waits_for_any_more_gives_up_its_turn() {
        let memory = Memory::default();
        let most = memory.take(MEMORY_MB).await.unwrap();
        let awaited = Awaited::default();
        let asker = Waiting(awaited.clone());
        let turn = tokio::task::spawn_blocking({
            let memory = memory.clone();
            move || memory.take_here(SMALL_MB + 1, &awaited).map(drop)
        });
        tokio::time::sleep(2 * LOOK_UP).await;
        assert!(!turn.is_finished(), "it did not wait while it was wanted");
        drop(asker);
        let ended = tokio::time::timeout(Duration::from_secs(5), turn).await.unwrap().unwrap();
        assert!(ended.is_err());
        drop(most);
    }
}
