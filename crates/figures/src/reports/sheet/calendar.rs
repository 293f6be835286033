//! The season at a glance: months with the outlets of each day, and the list of passes.

use super::input::Sheet;
use super::lines::PassLines;
use crate::texts::{Language, dates};
use evenfall_view::units::UnitSystem;
use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

/// A month as rows of seven days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Month {
    pub(super) name: String,
    pub(super) days: Vec<&'static str>,
    pub(super) weeks: Vec<Vec<Day>>,
}

/// One day of a month; an empty number stands for a day of another month.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Day {
    pub(super) number: String,
    /// Letter of the stop, where all sets of the day have the same.
    pub(super) letter: String,
    /// Outlets that start on it: "7 8", or "22B 1A" where the letter changes.
    pub(super) sets: String,
    pub(super) is_done: bool,
    /// Why no water may run on some of it.
    pub(super) closed: String,
}

/// The months that hold a set.
pub(super) fn months(sheet: &Sheet<'_>, passes: &[PassLines]) -> Vec<Month> {
    let lines = || passes.iter().flat_map(|pass| pass.lines.iter().map(|line| (line.letter, line)));
    let dates = || lines().map(|(_, line)| line.on.at.date());
    let (Some(first), Some(last)) = (dates().min(), dates().max()) else { return Vec::new() };
    let from_monday = sheet.units == UnitSystem::Si;
    let mut months = Vec::new();
    let mut month = first.first_of_month();
    while month <= last {
        let of = |date: Date| {
            let here: Vec<_> = lines().filter(|(_, line)| line.on.at.date() == date).collect();
            let letter = here.first().map(|(letter, _)| *letter);
            // The letter stands once a day where all sets have the same.
            let common = letter.filter(|first| here.iter().all(|(letter, _)| letter == first));
            let own =
                |letter: &char| if common.is_none() { letter.to_string() } else { String::new() };
            let sets: Vec<String> = here
                .iter()
                .map(|(letter, line)| format!("{}{}", line.outlet, own(letter)))
                .collect();
            Day {
                number: date.day().to_string(),
                letter: common.map_or_else(String::new, String::from),
                is_done: !here.is_empty() && here.iter().all(|(_, line)| line.is_done()),
                sets: sets.join(" "),
                closed: closed(sheet, date),
            }
        };
        months.push(Month {
            name: month_name(sheet.language, month),
            days: day_names(sheet.language, from_monday),
            weeks: weeks(month, from_monday, of),
        });
        month = month.saturating_add(1.month());
    }
    months
}

/// Why the calendar is closed for half of a day or more; empty where it is not.
fn closed(sheet: &Sheet<'_>, date: Date) -> String {
    let calendar = sheet.scenario.calendar_of(sheet.alternative);
    let (from_h, to_h) = (6.0, 18.0);
    let midnight = date.to_datetime(jiff::civil::Time::midnight());
    let midnight = sheet.scenario.calendar.clock.standard(midnight, None);
    let closures = calendar.openings.closures.iter().filter(|closure| {
        let hour = |at| evenfall_core::clock::hours_between(midnight, at);
        hour(closure.from) < to_h && hour(closure.to) > from_h
    });
    let mut reasons: Vec<&str> = closures.map(|closure| closure.why.as_str()).collect();
    reasons.dedup();
    reasons.join(", ")
}

fn month_name(language: Language, month: Date) -> String {
    let (name, year) = (dates::month(language, month), month.year());
    dates::MONTH_YEAR.with(language, &[("month", &name), ("year", &year)])
}

fn day_names(language: Language, from_monday: bool) -> Vec<&'static str> {
    let mut names: Vec<&str> = dates::WEEKDAYS.iter().map(|day| day.of(language)).collect();
    if !from_monday {
        names.rotate_right(1);
    }
    names
}

fn weeks(month: Date, from_monday: bool, of: impl Fn(Date) -> Day) -> Vec<Vec<Day>> {
    let start = if from_monday { Weekday::Monday } else { Weekday::Sunday };
    let before = month.weekday().since(start);
    let mut days: Vec<Day> = (0..before).map(|_| Day::default()).collect();
    let count = month.days_in_month();
    days.extend((0..count).map(|day| of(month.saturating_add(i64::from(day).days()))));
    while !days.len().is_multiple_of(7) {
        days.push(Day::default());
    }
    days.chunks(7).map(<[Day]>::to_vec).collect()
}
