//! The clock: passes of sets with real start and end times.
//!
//! A pass takes the sets in order of place; then the line is rolled (or carried) back to the
//! start. Times are hours from midnight of the season's first day, local standard time.
//!
//! With *sets a day* given, each day has that many starting times, `set + gap` apart from the
//! season's starting hour on, and the next pass begins at the first of them that is free after
//! rolling back and idling. Without it, sets follow one another without pause. With *a pass every*
//! so long, passes begin at that interval.

mod day_night;
pub mod moves;
pub mod replan;

pub use day_night::{DAY_HOURS, DayNight};

use crate::lateral::{EdgeTreatment, Machine, Outlets};
use crate::rotation::{Rotation, Shift};
use jiff::ToSpan;
use jiff::civil::DateTime;

/// When water is to run.
#[derive(Clone, Debug, PartialEq)]
pub struct Calendar {
    /// Start of the first set.
    pub start: DateTime,
    /// How many passes, or until when.
    pub length: SeasonLength,
    /// Water runs so long at each stop, h.
    pub set_time_h: f64,
    /// Time to drain, move and reconnect between two sets, h.
    pub move_gap_h: f64,
    /// Starting times a day; `None`: sets follow one another.
    pub sets_a_day: Option<u32>,
    /// Time to bring the lateral back to the first outlet after a pass, h (after the move gap).
    pub return_time_h: f64,
    /// Time without water between passes, h, beyond the way back.
    pub idle_h: f64,
    /// Passes begin at this interval, h; overrides `idle_h`.
    pub pass_every_h: Option<f64>,
}

/// Where a lateral stands, pass by pass.
#[derive(Clone, Copy, Debug)]
pub struct Stops<'a> {
    /// How it moves.
    pub machine: &'a Machine,
    /// Its outlets.
    pub outlets: &'a Outlets,
    /// Its rotation.
    pub rotation: &'a Rotation,
    /// What shifted passes do at the edges.
    pub edges: EdgeTreatment,
}

/// How long a season lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SeasonLength {
    /// So many passes.
    Passes(usize),
    /// As many whole passes as end by then.
    Until(DateTime),
}

/// One watering at one stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetPlan {
    /// Outlet (from 0).
    pub outlet: usize,
    /// y of the lateral, m.
    pub place_across_m: f64,
    /// Start, h from midnight of the first day.
    pub start_h: f64,
    /// End, h from midnight of the first day.
    pub end_h: f64,
}

/// All sets across the field once.
#[derive(Clone, Debug, PartialEq)]
pub struct PassPlan {
    /// The shift taken in this pass.
    pub shift: Shift,
    /// Letter of that shift.
    pub letter: char,
    /// The sets in order.
    pub sets: Vec<SetPlan>,
}

/// A whole season's sets for one alternative.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Midnight at the start of the first day: hour 0.
    pub midnight: DateTime,
    /// Passes in order.
    pub passes: Vec<PassPlan>,
    /// Passes in one cycle of the rotation.
    pub cycle: usize,
    /// Passes left over after the last whole cycle.
    pub passes_into_cycle: usize,
    /// Day and night as they fell.
    pub day_night: DayNight,
}

/// Hours, and from two days on days as well.
fn days(hours_h: f64) -> String {
    if hours_h < 48.0 {
        return format!("{hours_h} h");
    }
    let days = (hours_h / 24.0 * 10.0).round() / 10.0;
    format!("{hours_h} h ({days} days)")
}

/// Why no schedule can be made.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ScheduleError {
    /// More sets a day than fit.
    #[error("{sets} sets a day of {set_time_h} h with {move_gap_h} h between them overlap: they need {} h of the 24", f64::from(*sets) * (set_time_h + move_gap_h))]
    SetsOverlap {
        /// Sets a day asked for.
        sets: u32,
        /// Set time, h.
        set_time_h: f64,
        /// Gap for the move, h.
        move_gap_h: f64,
    },
    /// The next pass would start before the last one is over.
    #[error("a pass every {} overlaps: one pass takes {} with the way back", days(*every_h), days(*needed_h))]
    PassesOverlap {
        /// Interval asked for, h.
        every_h: f64,
        /// Time one pass takes, h.
        needed_h: f64,
    },
    /// Water is called by depletion, and never is.
    #[error("the root zone never calls for water in one of the seasons, so no pass runs")]
    NoCall,
    /// Not one whole pass fits.
    #[error("the season holds no whole pass: one takes {} and the season lasts {}", days(*needed_h), days(*season_h))]
    NoPass {
        /// Time one pass takes, h.
        needed_h: f64,
        /// Length of the season, h.
        season_h: f64,
    },
}

/// Slack on comparisons of times, h: far under a second, far over rounding.
const SLACK_H: f64 = 1e-6;

/// The whole season's sets for a lateral that takes `stops`.
///
/// # Errors
/// If sets or passes would overlap, or no whole pass fits.
pub fn plan(calendar: &Calendar, stops: &Stops<'_>) -> Result<Plan, ScheduleError> {
    check_sets_a_day(calendar)?;
    let midnight = calendar.start.date().to_datetime(jiff::civil::Time::midnight());
    let season_end_h = match calendar.length {
        SeasonLength::Passes(_) => f64::INFINITY,
        SeasonLength::Until(end) => hours_between(midnight, end),
    };
    let wanted = match calendar.length {
        SeasonLength::Passes(passes) => passes,
        SeasonLength::Until(_) => usize::MAX,
    };
    let first_start_h = hours_between(midnight, calendar.start);
    let mut passes: Vec<PassPlan> = Vec::new();
    let mut free_h = first_start_h;
    while passes.len() < wanted {
        let pass = plan_pass(calendar, stops, passes.len(), free_h, first_start_h);
        let (start_h, end_h) = pass.span_h();
        if end_h > season_end_h + SLACK_H {
            break;
        }
        free_h = next_pass_free_h(calendar, start_h, end_h)?;
        passes.push(pass);
    }
    if passes.is_empty() {
        let pass = plan_pass(calendar, stops, 0, first_start_h, first_start_h);
        let (start_h, end_h) = pass.span_h();
        let season_h = if wanted == 0 { 0.0 } else { season_end_h - first_start_h };
        return Err(ScheduleError::NoPass { needed_h: end_h - start_h, season_h });
    }
    let day_night = DayNight::of(&passes);
    let cycle = stops.rotation.cycle();
    Ok(Plan { midnight, passes_into_cycle: passes.len() % cycle, passes, cycle, day_night })
}

/// A season whose passes begin on these `days` (0 is the season's first), at the starting hour.
///
/// # Errors
/// If sets or passes would overlap, or no day is given.
pub fn plan_called(
    calendar: &Calendar,
    stops: &Stops<'_>,
    days: &[i64],
) -> Result<Plan, ScheduleError> {
    check_sets_a_day(calendar)?;
    let midnight = calendar.start.date().to_datetime(jiff::civil::Time::midnight());
    let mut passes: Vec<PassPlan> = Vec::with_capacity(days.len());
    let mut free_h = f64::NEG_INFINITY;
    for day in days {
        let start_h = called_h(calendar, *day);
        if start_h < free_h - SLACK_H {
            let (before_h, _) = passes.last().map_or((0.0, 0.0), PassPlan::span_h);
            let (every_h, needed_h) = (start_h - before_h, free_h - before_h);
            return Err(ScheduleError::PassesOverlap { every_h, needed_h });
        }
        let pass = called_pass(calendar, stops, passes.len(), *day);
        free_h = back_h(calendar, pass.span_h().1);
        passes.push(pass);
    }
    if passes.is_empty() {
        return Err(ScheduleError::NoCall);
    }
    let day_night = DayNight::of(&passes);
    let cycle = stops.rotation.cycle();
    Ok(Plan { midnight, passes_into_cycle: passes.len() % cycle, passes, cycle, day_night })
}

/// Pass number `pass`, called for `day`.
pub(crate) fn called_pass(
    calendar: &Calendar,
    stops: &Stops<'_>,
    pass: usize,
    day: i64,
) -> PassPlan {
    let start_h = called_h(calendar, day);
    plan_pass(calendar, stops, pass, start_h, called_h(calendar, 0))
}

/// Hour at which a pass called for `day` begins.
fn called_h(calendar: &Calendar, day: i64) -> f64 {
    let midnight = calendar.start.date().to_datetime(jiff::civil::Time::midnight());
    24.0 * day as f64 + hours_between(midnight, calendar.start)
}

/// When the lateral is back at the first outlet after a pass that ended at `end_h`.
pub(crate) fn back_h(calendar: &Calendar, end_h: f64) -> f64 {
    end_h + calendar.move_gap_h + calendar.return_time_h
}

fn check_sets_a_day(calendar: &Calendar) -> Result<(), ScheduleError> {
    let (set_time_h, move_gap_h) = (calendar.set_time_h, calendar.move_gap_h);
    match calendar.sets_a_day {
        Some(sets) if f64::from(sets) * (set_time_h + move_gap_h) > 24.0 + SLACK_H => {
            Err(ScheduleError::SetsOverlap { sets, set_time_h, move_gap_h })
        }
        _ => Ok(()),
    }
}

fn plan_pass(
    calendar: &Calendar,
    stops: &Stops<'_>,
    pass: usize,
    free_h: f64,
    first_start_h: f64,
) -> PassPlan {
    let (_, shift) = stops.rotation.at(pass);
    let mut free_h = free_h;
    let places = stops.edges.places(stops.machine, stops.outlets, shift);
    let sets = places.iter().map(|place| {
        let start_h = next_start_h(calendar, free_h, first_start_h);
        let end_h = start_h + calendar.set_time_h;
        free_h = end_h + calendar.move_gap_h;
        SetPlan { outlet: place.outlet, place_across_m: place.across_m, start_h, end_h }
    });
    PassPlan { shift, letter: stops.rotation.letter(pass), sets: sets.collect() }
}

/// When the lateral is back at the first outlet and may start again.
fn next_pass_free_h(calendar: &Calendar, start_h: f64, end_h: f64) -> Result<f64, ScheduleError> {
    let back_h = back_h(calendar, end_h);
    match calendar.pass_every_h {
        None => Ok(back_h + calendar.idle_h),
        Some(every_h) if start_h + every_h < back_h - SLACK_H => {
            Err(ScheduleError::PassesOverlap { every_h, needed_h: back_h - start_h })
        }
        Some(every_h) => Ok(start_h + every_h),
    }
}

/// The first starting time of the day's list at or after `free_h`.
fn next_start_h(calendar: &Calendar, free_h: f64, first_start_h: f64) -> f64 {
    let Some(sets) = calendar.sets_a_day else { return free_h };
    let since_h = free_h - first_start_h;
    let day_h = 24.0 * ((since_h + SLACK_H) / 24.0).floor();
    let step_h = calendar.set_time_h + calendar.move_gap_h;
    let slot = (((since_h - day_h - SLACK_H) / step_h).ceil()).max(0.0);
    let in_day_h = if slot < f64::from(sets) { slot * step_h } else { 24.0 };
    first_start_h + day_h + in_day_h
}

/// Hours from `from` to `to`.
pub fn hours_between(from: DateTime, to: DateTime) -> f64 {
    to.duration_since(from).as_secs_f64() / 3600.0
}

impl PassPlan {
    /// Start of the first and end of the last set, h.
    pub fn span_h(&self) -> (f64, f64) {
        let start_h = self.sets.first().map_or(0.0, |set| set.start_h);
        (start_h, self.sets.last().map_or(start_h, |set| set.end_h))
    }
}

impl Plan {
    /// The civil date and time of hour `hour_h`, to the minute.
    pub fn date_time(&self, hour_h: f64) -> DateTime {
        let minutes = (hour_h * 60.0).round() as i64;
        self.midnight.saturating_add(minutes.minutes())
    }

    /// End of the set that ends last, h. It may belong to an earlier pass than the last one: a
    /// missed set may have been made up after everything else.
    pub fn end_h(&self) -> f64 {
        let sets = self.passes.iter().flat_map(|pass| &pass.sets);
        sets.map(|set| set.end_h).fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests;
