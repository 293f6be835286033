//! The plan: all sets of a season, one pass after another.

use super::calendar::{Calendar, SLACK_H};
use super::day_night::DayNight;
use super::passes::{PassPlan, SetPlan, Stops};
use super::problem::ScheduleError;
use jiff::ToSpan;
use jiff::civil::DateTime;

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

impl Plan {
    fn of(calendar: &Calendar, stops: &Stops<'_>, passes: Vec<PassPlan>) -> Self {
        let (cycle, day_night) = (stops.rotation.cycle(), DayNight::of(&passes));
        let passes_into_cycle = passes.len() % cycle;
        Self { midnight: calendar.midnight(), passes_into_cycle, passes, cycle, day_night }
    }

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

/// The whole season's sets for a lateral that takes `stops`.
///
/// # Errors
/// If sets or passes would overlap, or no whole pass fits.
pub fn plan(calendar: &Calendar, stops: &Stops<'_>) -> Result<Plan, ScheduleError> {
    calendar.check_sets_a_day()?;
    let (wanted, season_end_h) = (calendar.most_passes(), calendar.season_end_h());
    let first_start_h = calendar.first_start_h();
    let mut passes: Vec<PassPlan> = Vec::new();
    let mut free_h = first_start_h;
    while passes.len() < wanted {
        let pass = plan_pass(calendar, stops, passes.len(), free_h);
        let (start_h, end_h) = pass.span_h();
        if end_h > season_end_h + SLACK_H {
            break;
        }
        free_h = calendar.next_pass_free_h(start_h, end_h)?;
        passes.push(pass);
    }
    if passes.is_empty() {
        let pass = plan_pass(calendar, stops, 0, first_start_h);
        let (start_h, end_h) = pass.span_h();
        let season_h = if wanted == 0 { 0.0 } else { season_end_h - first_start_h };
        return Err(ScheduleError::NoPass { needed_h: end_h - start_h, season_h });
    }
    Ok(Plan::of(calendar, stops, passes))
}

/// A season whose passes begin on these `days` (0 is the season's first), at the starting hour.
///
/// # Errors
/// If sets or passes would overlap, or no day is given.
pub(crate) fn plan_called(
    calendar: &Calendar,
    stops: &Stops<'_>,
    days: &[i64],
) -> Result<Plan, ScheduleError> {
    calendar.check_sets_a_day()?;
    let mut passes: Vec<PassPlan> = Vec::with_capacity(days.len());
    let mut free_h = f64::NEG_INFINITY;
    for day in days {
        let start_h = calendar.called_h(*day);
        if start_h < free_h - SLACK_H {
            let (before_h, _) = passes.last().map_or((0.0, 0.0), PassPlan::span_h);
            let (every_h, needed_h) = (start_h - before_h, free_h - before_h);
            return Err(ScheduleError::PassesOverlap { every_h, needed_h });
        }
        let pass = called_pass(calendar, stops, passes.len(), *day);
        free_h = calendar.back_h(pass.span_h().1);
        passes.push(pass);
    }
    if passes.is_empty() {
        return Err(ScheduleError::NoCall);
    }
    Ok(Plan::of(calendar, stops, passes))
}

/// Pass number `pass`, called for `day`.
pub(crate) fn called_pass(
    calendar: &Calendar,
    stops: &Stops<'_>,
    pass: usize,
    day: i64,
) -> PassPlan {
    plan_pass(calendar, stops, pass, calendar.called_h(day))
}

/// Pass number `pass`, its first set at the first starting time from `free_h` on.
fn plan_pass(calendar: &Calendar, stops: &Stops<'_>, pass: usize, mut free_h: f64) -> PassPlan {
    let (_, shift) = stops.rotation.at(pass);
    let places = stops.edges.places(stops.machine, stops.outlets, shift);
    let sets = places.iter().map(|place| {
        let start_h = calendar.next_start_h(free_h);
        let end_h = start_h + calendar.set_time_h;
        free_h = end_h + calendar.move_gap_h;
        SetPlan { outlet: place.outlet, place_across_m: place.across_m, start_h, end_h }
    });
    PassPlan { shift, letter: stops.rotation.letter(pass), sets: sets.collect() }
}
