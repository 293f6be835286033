//! Re-planning: what really happened, kept as it was, and the rest of the season timed anew.
//!
//! A record names sets that were done (when, and where if elsewhere), sets that were missed, and
//! breakdowns. The rules, in this order:
//!
//! 1. What is recorded stays as recorded.
//! 2. A set that is not in the record and was to start before now counts as done as planned, and
//!    one that was to start during a breakdown as missed. After each breakdown the rest is timed
//!    anew, so "as planned" means the plan as it then stood. Sets that were to start while the last
//!    one recorded still ran are still to come, if that has only just ended: moves took longer.
//! 3. Missed sets are caught up next, in order of place, before the pass goes on; or they are left
//!    until the next pass. Those of a pass that is over are left under either rule, because their
//!    shift is over too: the rotation keeps its order by pass.
//! 4. What remains starts at the first time of the calendar that is free. A catch-up that leads
//!    back by more than one outlet is given the time of the way back.
//! 5. A season of so many passes keeps them all and may end later; one that ends on a date loses
//!    the passes that no longer fit.
//!
//! Common practice, no source. Neglected: that a longer way back may take longer than the move gap
//! where the calendar gives the way back no time.

mod against_plan;
mod check;
mod course;
mod lesson;
mod record;
mod stage;

pub use against_plan::{AgainstPlan, Beside, PassDates, SetCounts, Starts, against_plan};
pub use check::{ReplanProblem, check};
pub use course::{Replanned, Standing};
pub use lesson::{Lesson, lesson};
pub use record::{Happened, MissedRule, Record, SetName};

use super::calendar::Calendar;
use super::day_night::DayNight;
use super::passes::{PassPlan, Stops};
use super::plan::Plan;
use stage::{Slot, Stage, State};

/// The season with `record` kept and the rest timed anew.
///
/// # Errors
/// Everything that is wrong with the record.
pub fn replan(
    plan: &Plan,
    calendar: &Calendar,
    stops: &Stops<'_>,
    record: &Record,
) -> Result<Replanned, Vec<ReplanProblem>> {
    let mut problems = check(plan, stops, record);
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut stage = Stage::new(plan, calendar, stops, record);
    for now_h in stages(record) {
        stage.advance(now_h, &mut problems);
    }
    stage.leftovers(&mut problems);
    stage.overlaps(&mut problems);
    if problems.is_empty() { Ok(gather(plan, stage)) } else { Err(problems) }
}

/// The ends of the breakdowns in order, then now.
fn stages(record: &Record) -> Vec<f64> {
    let ends = record.events.iter().filter_map(|event| match event {
        Happened::Breakdown { to_h, .. } => Some(*to_h),
        _ => None,
    });
    let mut stages: Vec<f64> = ends.filter(|end| *end < record.now_h).collect();
    stages.sort_by(f64::total_cmp);
    stages.push(record.now_h);
    stages
}

/// Lays the slots together as a plan.
fn gather(plan: &Plan, stage: Stage<'_>) -> Replanned {
    let dropped = stage.dropped();
    let slots = stage.slots;
    let of = |state: State| match state {
        State::Recorded => Some(Standing::Recorded),
        State::TakenAsDone => Some(Standing::TakenAsDone),
        State::Pending => Some(Standing::ToCome),
        State::CatchUp => Some(Standing::CatchUp),
        State::Missed | State::Left => None,
    };
    let mut replanned = Replanned {
        plan: Plan { passes: Vec::new(), ..plan.clone() },
        numbers: Vec::new(),
        standing: Vec::new(),
        left: Vec::new(),
        dropped_passes: dropped.len(),
    };
    for (number, pass) in plan.passes.iter().enumerate() {
        if dropped.contains(&number) {
            continue;
        }
        let here = slots.iter().filter(|slot| slot.pass == number);
        let mut kept: Vec<(&Slot, Standing)> =
            here.clone().filter_map(|slot| Some((slot, of(slot.state)?))).collect();
        kept.sort_by(|one, other| one.0.set.start_h.total_cmp(&other.0.set.start_h));
        let lost = here.filter(|slot| of(slot.state).is_none());
        replanned.left.extend(lost.map(|slot| (number, pass.sets[slot.index])));
        if kept.is_empty() {
            continue;
        }
        let sets = kept.iter().map(|(slot, _)| slot.set).collect();
        replanned.plan.passes.push(PassPlan { sets, ..pass.clone() });
        replanned.numbers.push(number);
        replanned.standing.push(kept.into_iter().map(|(_, standing)| standing).collect());
    }
    let passes = &replanned.plan.passes;
    replanned.plan.day_night = DayNight::of(passes);
    replanned.plan.passes_into_cycle = passes.len() % plan.cycle.max(1);
    replanned
}

#[cfg(test)]
#[path = "replan/against_plan_tests.rs"]
mod against_plan_tests;
#[cfg(test)]
#[path = "replan/tests.rs"]
mod tests;
