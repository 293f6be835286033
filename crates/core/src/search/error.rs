//! Why a search cannot be made.

use super::space::MOST_CANDIDATES;
use crate::ensemble::StatisticsError;
use crate::money::MoneyProblems;
use crate::schedule::ScheduleError;
use crate::season::SeasonError;
use crate::worth::WorthError;

/// A number of candidates in words that a person reads.
fn count(candidates: usize) -> String {
    const MOST_TOLD: usize = 1_000_000_000;
    if candidates > MOST_TOLD { "over a billion".to_owned() } else { candidates.to_string() }
}

/// Why a search cannot be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SearchError {
    /// There is no machine to search for.
    #[error("the scenario has no alternatives, so no machine to search for")]
    NoMachine,
    /// Nothing to search.
    #[error("nothing to search: no stop, schedule or edge treatment is left")]
    NoCandidates,
    /// More than can be told apart, or run.
    #[error(
        "{} candidates are more than the {MOST_CANDIDATES} a search can take. Shorten the \
         rotations, or ask for fewer orders, schedules or edge treatments", count(*candidates)
    )]
    TooMany {
        /// How many.
        candidates: usize,
    },
    /// An aim of yield or money without crop, soil and climate.
    #[error("{0} needs crop, soil and climate in the scenario")]
    NoCrop(&'static str),
    /// The records do not hold enough seasons to tell candidates apart.
    #[error(
        "the weather records hold {seasons} season(s); a search compares candidates over two or \
         more. Set \"typical_year\": true in the record, so that seasons are drawn from its days, or \
         give more years of record, or a wind climate"
    )]
    TooFewSeasons {
        /// How many.
        seasons: usize,
    },
    /// The run was stopped before anything could be told.
    #[error("stopped before two seasons were done")]
    Stopped,
    /// The fixed pattern has no schedule.
    #[error(transparent)]
    Schedule(#[from] ScheduleError),
    /// A season cannot be simulated.
    #[error(transparent)]
    Season(#[from] SeasonError),
    /// Crop, soil, climate or prices make no sense.
    #[error(transparent)]
    Worth(#[from] WorthError),
    /// Equipment or prices make no sense.
    #[error(transparent)]
    Money(#[from] MoneyProblems),
    /// No statistics can be drawn.
    #[error(transparent)]
    Statistics(#[from] StatisticsError),
}
