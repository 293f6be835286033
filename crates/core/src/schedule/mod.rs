//! The clock: passes of sets with real start and end times.
//!
//! A pass takes the outlets in the calendar's order (`crate::lateral::SetOrder`), the line standing where
//! whole turns bring it (`crate::lateral::rolling`); then it is brought to the first stop of the next
//! pass. Times are hours from midnight of the season's first day, local standard time.
//!
//! With *sets a day* given, each day has that many starting times, `set + gap` apart from the
//! season's starting hour on, and the next pass begins at the first of them that is free after
//! rolling back and idling. Without it, sets follow one another without pause. With *a pass every*
//! so long, passes begin at that interval. Sets wait where no water may run or nobody is there to move the
//! line (`openings.rs`).

mod calendar;
mod day_night;
pub mod moves;
mod openings;
mod passes;
mod plan;
mod problem;
pub mod replan;

pub use calendar::{Calendar, SeasonLength};
pub use day_night::DayNight;
pub use openings::{Closure, Hands, NOBODY, Openings};
pub use passes::{PassPlan, SetPlan, Stops};
pub use plan::{Plan, plan};
pub(crate) use plan::{called_spans, plan_called};
pub use problem::ScheduleError;

#[cfg(test)]
mod tests;
