//! The plan: all sets of a season, one pass after another.

use super::calendar::{Calendar, SLACK_H};
use super::day_night::DayNight;
use super::passes::{PassPlan, SetPlan, Stops};
use super::problem::ScheduleError;
use crate::lateral::SetOrder;
use crate::lateral::edges::Place;
use crate::lateral::rolling::Rolling;
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
    /// Time in which the lateral is moved without watering, beyond the usual moves, h.
    pub dry_way_h: f64,
}

impl Plan {
    fn of(calendar: &Calendar, stops: &Stops<'_>, passes: Vec<PassPlan>) -> Self {
        let (cycle, day_night) = (stops.rotation.cycle(), DayNight::of(&passes));
        let passes_into_cycle = passes.len() % cycle;
        let dry_way_h = dry_way_h(calendar, stops.outlets.count, &passes);
        let midnight = calendar.midnight();
        Self { midnight, passes, cycle, passes_into_cycle, day_night, dry_way_h }
    }

    /// Why the set after `from_h` did not start before `to_h`, where the calendar was closed between.
    pub fn waited<'a>(&self, calendar: &'a Calendar, from_h: f64, to_h: f64) -> Vec<&'a str> {
        let free_h = from_h + calendar.move_gap_h;
        if to_h <= free_h + SLACK_H {
            return Vec::new();
        }
        calendar.openings.reasons(self.midnight, (free_h, to_h))
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

/// Refuses what no schedule can be made of.
fn check(calendar: &Calendar, stops: &Stops<'_>) -> Result<(), ScheduleError> {
    let outlets = stops.outlets.count;
    if !calendar.order.problems(outlets).is_empty() {
        return Err(ScheduleError::Order { outlets });
    }
    calendar.check_sets_a_day()
}

/// Hours of all ways without water of `passes`, the one after the last pass included.
fn dry_way_h(calendar: &Calendar, outlets: usize, passes: &[PassPlan]) -> f64 {
    let within = |pass: &PassPlan| {
        let pairs = pass.sets.windows(2);
        let share = |pair: &[SetPlan]| SetOrder::dry_share(pair[0].outlet, pair[1].outlet, outlets);
        calendar.return_time_h * pairs.map(share).sum::<f64>()
    };
    let passes = passes.iter().enumerate();
    passes.map(|(number, pass)| within(pass) + calendar.return_h(number, outlets)).sum()
}

/// The whole season's sets for a lateral that takes `stops`.
///
/// # Errors
/// If sets or passes would overlap, or no whole pass fits.
pub fn plan(calendar: &Calendar, stops: &Stops<'_>) -> Result<Plan, ScheduleError> {
    check(calendar, stops)?;
    let (wanted, season_end_h) = (calendar.most_passes(), calendar.season_end_h());
    let first_start_h = calendar.first_start_h();
    let mut passes: Vec<PassPlan> = Vec::new();
    let mut free_h = first_start_h;
    let mut line = Rolling::new(stops.machine, stops.outlets);
    while passes.len() < wanted {
        let pass = plan_pass(calendar, stops, (passes.len(), free_h), &mut line)?;
        let (_, end_h) = pass.span_h();
        if end_h > season_end_h + SLACK_H {
            break;
        }
        free_h = calendar.next_pass_free_h(stops, passes.len(), &pass)?;
        passes.push(pass);
    }
    if passes.is_empty() {
        line = Rolling::new(stops.machine, stops.outlets);
        let pass = plan_pass(calendar, stops, (0, first_start_h), &mut line)?;
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
    check(calendar, stops)?;
    let mut passes: Vec<PassPlan> = Vec::with_capacity(days.len());
    let mut free_h = f64::NEG_INFINITY;
    let mut line = Rolling::new(stops.machine, stops.outlets);
    for day in days {
        let mut start_h = calendar.called_h(*day);
        if !calendar.openings.is_always_open() {
            // A pass that had to wait is still under way when the next is called: that one waits too.
            start_h = start_h.max(free_h);
        }
        if start_h < free_h - SLACK_H {
            let (before_h, _) = passes.last().map_or((0.0, 0.0), PassPlan::span_h);
            let (every_h, needed_h) = (start_h - before_h, free_h - before_h);
            return Err(ScheduleError::PassesOverlap { every_h, needed_h });
        }
        let pass = plan_pass(calendar, stops, (passes.len(), start_h), &mut line)?;
        free_h = calendar.back_h(passes.len(), stops.outlets.count, pass.span_h().1);
        passes.push(pass);
    }
    if passes.is_empty() {
        return Err(ScheduleError::NoCall);
    }
    Ok(Plan::of(calendar, stops, passes))
}

/// Hours of pass number `pass`, called for `day`, as its sets' spans in order.
pub(crate) fn called_spans(
    calendar: &Calendar,
    stops: &Stops<'_>,
    pass: usize,
    day: i64,
) -> Vec<(f64, f64)> {
    let places = places(calendar, stops, pass);
    spans(calendar, stops.outlets.count, &places, calendar.called_h(day))
}

/// The marks of pass number `pass` in the order in which they are watered.
fn places(calendar: &Calendar, stops: &Stops<'_>, pass: usize) -> Vec<Place> {
    let order = calendar.order.outlets(pass, stops.outlets.count);
    let (_, shift) = stops.rotation.at(pass);
    stops.edges.places(stops.machine, stops.outlets, shift, &order)
}

/// Start and end of the sets at `places`, the first at the first starting time from `free_h` on.
fn spans(
    calendar: &Calendar,
    outlets: usize,
    places: &[Place],
    mut free_h: f64,
) -> Vec<(f64, f64)> {
    let span = |at: usize| {
        let start_h = calendar.next_start_h(free_h);
        let end_h = start_h + calendar.set_time_h;
        let next = places.get(at + 1).map_or(places[at].outlet, |place| place.outlet);
        free_h = calendar.moved_h(end_h, (places[at].outlet, next), outlets);
        (start_h, end_h)
    };
    (0..places.len()).map(span).collect()
}

/// Pass number `pass`, its first set at the first starting time from `free_h` on, by a `line` that
/// stands where the pass before left it.
fn plan_pass(
    calendar: &Calendar,
    stops: &Stops<'_>,
    (pass, free_h): (usize, f64),
    line: &mut Rolling<'_>,
) -> Result<PassPlan, ScheduleError> {
    let (_, shift) = stops.rotation.at(pass);
    let (places, outlets) = (places(calendar, stops, pass), stops.outlets.count);
    let spans = spans(calendar, outlets, &places, free_h);
    if spans.iter().any(|span_h| span_h.0.is_infinite()) {
        return Err(ScheduleError::NeverOpen);
    }
    let mut is_headed = pass > 0 && calendar.order.return_share(pass - 1, outlets) > 0.0;
    let mut sets = Vec::with_capacity(places.len());
    for (at, (place, (start_h, end_h))) in places.iter().zip(spans).enumerate() {
        let drift_m = line.roll(place.outlet, place.shift_m, is_headed)?;
        let place_across_m = stops.outlets.place_m(place.outlet) + place.shift_m + drift_m;
        sets.push(SetPlan { outlet: place.outlet, place_across_m, drift_m, start_h, end_h });
        let next = places.get(at + 1).map_or(place.outlet, |next| next.outlet);
        is_headed = SetOrder::dry_share(place.outlet, next, outlets) > 0.0;
    }
    Ok(PassPlan { shift, letter: stops.rotation.letter(pass), sets })
}
