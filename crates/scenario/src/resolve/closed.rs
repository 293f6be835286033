//! Times without water and hours without hands, with their cross-checks.

use crate::file::{ClosedFile, SeasonFile};
use crate::issue::Issue;
use crate::notes::Notes;
use evenfall_core::clock::FieldClock;
use evenfall_core::schedule::{Closure, Hands, Openings};
use jiff::ToSpan;
use jiff::civil::{DateTime, Weekday};

/// A closure without an end of its own comes again for so many days after the season's start.
const REPEATED_DAYS: i64 = 400;

/// When sets of the season may run.
pub(crate) fn openings(given: &SeasonFile, notes: &mut Notes<'_>) -> Openings {
    let items = given.closed.as_ref().map_or(&[][..], |list| &list.items);
    let closures = items.iter().flat_map(|item| closures(item, given.start.value, notes));
    Openings { closures: closures.collect(), hands: hands(given, notes) }
}

/// One time without water, with all its repeats.
fn closures(item: &ClosedFile, start: DateTime, notes: &mut Notes<'_>) -> Vec<Closure> {
    let lasts_h = item.lasts.value;
    let every_h = item.every.as_ref().map(|every| every.value);
    if let (Some(every), Some(every_h)) = (&item.every, every_h)
        && every_h <= lasts_h
    {
        let problem = format!("\"{}\" comes again before it is over", item.reason.value);
        notes.issues.push(
            Issue::new(&every.at, problem)
                .allowed(format!("more than {lasts_h} h"))
                .hint("Count `every` from the start of one to the start of the next."),
        );
        return Vec::new();
    }
    if let (Some(times), None) = (&item.times, every_h)
        && times.value > 1
    {
        let problem = format!("\"{}\" is to come {} times", item.reason.value, times.value);
        let hint = "Say after how long with `every`, such as \"30 days\".";
        notes.issues.push(Issue::new(&times.at, problem).hint(hint));
    }
    let start_shown = start;
    let start = notes.clock.standard(start, None);
    let last = start.saturating_add(REPEATED_DAYS.days());
    let times = match (&item.times, every_h) {
        (_, None) => 1,
        (Some(times), _) => times.value as usize,
        (None, Some(_)) => usize::MAX,
    };
    let (clock, first) = (&notes.clock, item.from.value);
    let at =
        |number: usize| clock.standard(later(first, number as f64 * every_h.unwrap_or(0.0)), None);
    let closures: Vec<Closure> = (0..times)
        .map(|number| (number, at(number)))
        .take_while(|(number, from)| *number == 0 || *from <= last)
        .map(|(_, from)| Closure { from, to: later(from, lasts_h), why: item.reason.value.clone() })
        .collect();
    if closures.last().is_some_and(|last| last.to <= start) {
        let problem = format!("\"{}\" is over before the season starts", item.reason.value);
        notes.issues.push(
            Issue::new(&item.from.at, problem)
                .allowed(format!("an end after {start_shown}"))
                .hint("Check the year and the day, or leave it out."),
        );
    }
    closures
}

/// So many hours later, to the minute.
fn later(from: DateTime, hours_h: f64) -> DateTime {
    from.saturating_add(((hours_h * 60.0).round() as i64).minutes())
}

fn hands(given: &SeasonFile, notes: &mut Notes<'_>) -> Hands {
    let from_h = SeasonFile::labor_from.or(Some(&given.labor_from));
    let to_h = SeasonFile::labor_until.or(Some(&given.labor_until));
    if let Some(until) = &given.labor_until
        && to_h <= from_h
    {
        let problem = format!("nobody is ever there: from {from_h} h until {to_h} h");
        notes.issues.push(Issue::new(&until.at, problem).allowed(format!("later than {from_h} h")));
    }
    let days = given.days_off.as_ref().map_or(&[][..], |list| &list.items);
    let (from_h, to_h) = standard_hours(&notes.clock, given.start.value, (from_h, to_h));
    Hands { from_h, to_h, days_off: days.iter().map(|name| Weekday::from(*name)).collect() }
}

/// Hours of the day by the clock on the wall, in standard time as the season begins: after a change of
/// clocks they are an hour off. The ends of the day stay.
fn standard_hours(clock: &FieldClock, start: DateTime, (from_h, to_h): (f64, f64)) -> (f64, f64) {
    let ahead_h = clock.ahead_h(clock.standard(start, None));
    let to_h = if to_h >= 24.0 { to_h } else { to_h - ahead_h };
    let from_h = if from_h <= 0.0 { from_h } else { (from_h - ahead_h).max(0.0) };
    (from_h, to_h)
}
