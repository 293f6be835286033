//! The plan: all sets of a season, one pass after another.

use super::calendar::{Calendar, SLACK_H};
use super::day_night::DayNight;
use super::openings::Openings;
use super::passes::{PassPlan, SetPlan, Stops};
use super::problem::ScheduleError;
use crate::clock::{FieldClock, WallTime};
use crate::lateral::edges::Place;
use crate::lateral::lines::Round;
use crate::lateral::rolling::Rolling;
use crate::lateral::{SetOrder, Sharing, Side};
use crate::rotation::Shift;
use jiff::ToSpan;
use jiff::civil::DateTime;

/// A whole season's sets for one alternative.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Midnight at the start of the first day: hour 0.
    pub midnight: DateTime,
    /// The clock that its times are shown by.
    pub clock: FieldClock,
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
        let dry_way_h = dry_way_h(calendar, stops, &passes);
        let midnight = calendar.midnight();
        let clock = calendar.clock.clone();
        Self { midnight, clock, passes, cycle, passes_into_cycle, day_night, dry_way_h }
    }

    /// Why the set after `from_h` did not start before `to_h`, where the calendar was closed between.
    pub fn waited<'a>(&self, calendar: &'a Calendar, from_h: f64, to_h: f64) -> Vec<&'a str> {
        let free_h = from_h + calendar.move_gap_h;
        if to_h <= free_h + SLACK_H {
            return Vec::new();
        }
        calendar.openings.reasons(self.midnight, (free_h, to_h))
    }

    /// The local standard date and time of hour `hour_h`, to the minute.
    pub fn date_time(&self, hour_h: f64) -> DateTime {
        let minutes = (hour_h * 60.0).round() as i64;
        self.midnight.saturating_add(minutes.minutes())
    }

    /// What the field's clock shows at hour `hour_h`, to the minute.
    pub fn shown(&self, hour_h: f64) -> WallTime {
        self.clock.shown(self.date_time(hour_h))
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
    if !stops.lines.fit(outlets) {
        return Err(ScheduleError::Lines { lines: stops.lines.count, outlets });
    }
    calendar.check_sets_a_day()?;
    check_interval(calendar, stops)
}

/// Refuses an interval shorter than a pass takes with nothing closed: sets wait for closed times alone.
fn check_interval(calendar: &Calendar, stops: &Stops<'_>) -> Result<(), ScheduleError> {
    let Some(every_h) = calendar.pass_every_h.filter(|_| !calendar.openings.is_always_open())
    else {
        return Ok(());
    };
    let open = Calendar { openings: Openings::default(), ..calendar.clone() };
    let sets = timed(&open, stops, 0, open.first_start_h());
    let start_h = sets.first().map_or(0.0, |set| set.span_h.0);
    let end_h = sets.iter().map(|set| set.span_h.1).fold(start_h, f64::max);
    let needed_h = open.back_h(0, stops, end_h) - start_h;
    if every_h < needed_h - SLACK_H {
        return Err(ScheduleError::PassesOverlap { every_h, needed_h });
    }
    Ok(())
}

/// Hours of all ways without water of `passes` and of all lines, the one after the last pass included.
fn dry_way_h(calendar: &Calendar, stops: &Stops<'_>, passes: &[PassPlan]) -> f64 {
    let (lines, outlets) = (stops.lines.count, stops.outlets.count);
    let of_line = |pass: &PassPlan, line: usize| {
        let own: Vec<&SetPlan> = pass.sets.iter().filter(|set| set.line == line).collect();
        let share =
            |pair: &[&SetPlan]| SetOrder::dry_share(pair[0].outlet, pair[1].outlet, outlets);
        own.windows(2).map(share).sum::<f64>()
    };
    let within = |pass: &PassPlan| {
        calendar.return_time_h * (0..lines).map(|line| of_line(pass, line)).sum::<f64>()
    };
    let passes = passes.iter().enumerate();
    passes
        .map(|(number, pass)| within(pass) + lines as f64 * calendar.return_h(number, stops))
        .sum()
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
    let mut lines = Rolling::several(stops.machine, stops.outlets, stops.lines.count);
    while passes.len() < wanted {
        let pass = plan_pass(calendar, stops, (passes.len(), free_h), &mut lines)?;
        let (_, end_h) = pass.span_h();
        if end_h > season_end_h + SLACK_H {
            break;
        }
        free_h = calendar.next_pass_free_h(stops, passes.len(), &pass)?;
        passes.push(pass);
    }
    if passes.is_empty() {
        let mut lines = Rolling::several(stops.machine, stops.outlets, stops.lines.count);
        let pass = plan_pass(calendar, stops, (0, first_start_h), &mut lines)?;
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
    let mut lines = Rolling::several(stops.machine, stops.outlets, stops.lines.count);
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
        let pass = plan_pass(calendar, stops, (passes.len(), start_h), &mut lines)?;
        if pass.span_h().1 > calendar.season_end_h() + SLACK_H && !passes.is_empty() {
            // It had to wait, and no longer ends in the season.
            break;
        }
        free_h = calendar.back_h(passes.len(), stops, pass.span_h().1);
        passes.push(pass);
    }
    if passes.is_empty() {
        return Err(ScheduleError::NoCall);
    }
    Ok(Plan::of(calendar, stops, passes))
}

/// Hours of pass number `pass`, called for `day`, as its sets' spans in order of time.
pub(crate) fn called_spans(
    calendar: &Calendar,
    stops: &Stops<'_>,
    pass: usize,
    day: i64,
) -> Vec<(f64, f64)> {
    timed(calendar, stops, pass, calendar.called_h(day)).iter().map(|set| set.span_h).collect()
}

/// A place that is asked for: side, shift of the rotation, mark.
#[derive(Clone, Copy)]
struct Mark {
    side: Side,
    shift: Shift,
    place: Place,
}

/// A set with its time, before it is known where the line really stands.
struct Timed {
    line: usize,
    mark: Mark,
    span_h: (f64, f64),
}

/// The marks of pass number `pass`, line by line in the order in which each waters them.
fn marks(calendar: &Calendar, stops: &Stops<'_>, pass: usize) -> Vec<Vec<Mark>> {
    let of_line = |line: usize| {
        let rounds = stops.lines.rounds(&calendar.order, pass, line, stops.outlets.count);
        let marks = rounds.into_iter().flat_map(|Round { side, first, outlets }| {
            // Runs of outlets that are watered at the same stop of the rotation.
            let turn = |outlet: &usize| pass + calendar.order.stops_ahead(*outlet - first);
            let runs = outlets.chunk_by(|one, other| turn(one) == turn(other));
            let at_stop = |run: &[usize]| {
                let (_, shift) = stops.rotation.at(run.first().map_or(pass, turn));
                let places = stops.edges.places(stops.machine, stops.outlets, shift, run);
                places.into_iter().map(move |place| Mark { side, shift, place }).collect::<Vec<_>>()
            };
            runs.flat_map(at_stop).collect::<Vec<_>>()
        });
        marks.collect()
    };
    (0..stops.lines.count).map(of_line).collect()
}

/// Which line waters next, each time, until all marks are watered: those that water at once are lists of
/// their own; those that take turns are one.
fn turns(stops: &Stops<'_>, marks: &[Vec<Mark>]) -> Vec<Vec<usize>> {
    match stops.lines.sharing {
        Sharing::AtOnce => {
            marks.iter().enumerate().map(|(line, own)| vec![line; own.len()]).collect()
        }
        Sharing::ByTurns => {
            let most = marks.iter().map(Vec::len).max().unwrap_or(0);
            let turn = |at: usize| (0..marks.len()).filter(move |line| at < marks[*line].len());
            vec![(0..most).flat_map(turn).collect()]
        }
    }
}

/// The sets of pass number `pass` in order of time, the first ones at the first starting time from
/// `free_h` on. A line that takes turns with others starts when they stop, if it has been moved by then.
fn timed(calendar: &Calendar, stops: &Stops<'_>, pass: usize, free_h: f64) -> Vec<Timed> {
    let (marks, outlets) = (marks(calendar, stops, pass), stops.outlets.count);
    let mut sets: Vec<Timed> = Vec::new();
    for turns in turns(stops, &marks) {
        let (mut water_free_h, mut moved_h) = (free_h, vec![free_h; marks.len()]);
        let mut done = vec![0; marks.len()];
        for line in turns {
            let at = done[line];
            done[line] += 1;
            let mark = marks[line][at];
            let start_h = calendar.next_start_h(moved_h[line].max(water_free_h));
            let end_h = start_h + calendar.set_time_h;
            let here = mark.place.outlet;
            let next = marks[line].get(at + 1).map_or(here, |next| next.place.outlet);
            moved_h[line] = calendar.moved_h(end_h, (here, next), outlets);
            water_free_h = end_h;
            sets.push(Timed { line, mark, span_h: (start_h, end_h) });
        }
    }
    sets.sort_by(|one, other| one.span_h.0.total_cmp(&other.span_h.0));
    sets
}

/// Pass number `pass`, its first sets at the first starting time from `free_h` on, by `lines` that stand
/// where the pass before left them.
fn plan_pass(
    calendar: &Calendar,
    stops: &Stops<'_>,
    (pass, free_h): (usize, f64),
    lines: &mut [Rolling<'_>],
) -> Result<PassPlan, ScheduleError> {
    let (_, shift) = stops.rotation.at(pass);
    let outlets = stops.outlets.count;
    let timed = timed(calendar, stops, pass, free_h);
    if timed.iter().any(|set| set.span_h.0.is_infinite()) {
        return Err(ScheduleError::NeverOpen);
    }
    let is_back = pass > 0 && stops.lines.return_share(&calendar.order, pass - 1, outlets) > 0.0;
    // Where each line was last in this pass.
    let mut last: Vec<Option<usize>> = vec![None; lines.len()];
    let mut sets = Vec::with_capacity(timed.len());
    for Timed { line, mark, span_h: (start_h, end_h) } in timed {
        let Mark { side, shift, place } = mark;
        let is_headed = last[line]
            .map_or(is_back, |from| SetOrder::dry_share(from, place.outlet, outlets) > 0.0);
        last[line] = Some(place.outlet);
        let drift_m = lines[line].roll(place.outlet, place.shift_m, is_headed)?;
        let place_across_m = stops.outlets.place_m(place.outlet) + place.shift_m + drift_m;
        let outlet = place.outlet;
        sets.push(SetPlan { line, side, outlet, shift, place_across_m, drift_m, start_h, end_h });
    }
    Ok(PassPlan { shift, letter: stops.rotation.letter(pass), sets })
}
