//! Maintenance of the machine: the list, move times in cold and heat, and the crop under the pipe, as text
//! for the terminal and as parts of the move sheet.

mod clearance;
mod drive;
mod words;

pub(crate) use clearance::words as clearance_words;
pub(crate) use drive::{MoveTimes, gap_words, move_times};
pub(crate) use words::{MaintenanceGroup, list};

use crate::reports::cautions::CAUTIONS;
use crate::texts::{Language, upkeep};
use evenfall_core::lateral::Machine;
use evenfall_core::machine::Maintenance;
use evenfall_core::schedule::Calendar;
use evenfall_view::units::UnitSystem;
use std::fmt::Write as _;

/// What the maintenance list is made from.
#[derive(Clone, Copy, Debug)]
pub struct MaintenancePart<'a> {
    /// What is known of the machine.
    pub maintenance: &'a Maintenance,
    /// How the lateral moves.
    pub machine: &'a Machine,
    /// When it runs.
    pub calendar: &'a Calendar,
    /// The air at each move of the season, °C.
    pub air_c: &'a [f64],
    /// Units to show.
    pub units: UnitSystem,
}

/// The maintenance list with move times, clearance and cautions, for the terminal.
pub fn maintenance_text(part: &MaintenancePart<'_>) -> String {
    // Writing to a String cannot fail, here and below.
    let mut text = format!("{}\n", upkeep::MANUAL_FIRST.english());
    for group in list(part.machine, Language::English) {
        let _ = writeln!(text, "\n{}", group.when);
        for (what, words) in group.items {
            let _ = writeln!(text, "  [ ] {what}: {words}");
        }
    }
    if let Some(drive) = &part.maintenance.drive {
        let times = move_times(drive, part.calendar, part.air_c, (part.units, Language::English));
        text.push_str("\nTime for a move\n");
        for row in &times.rows {
            let fits = if row.fits { "fits the gap" } else { "longer than the gap" };
            let beyond = if row.is_beyond { ", outside the temperatures you timed" } else { "" };
            let _ = writeln!(text, "  {:>7}  {:>8}  {fits}{beyond}", row.temperature, row.time);
        }
        for words in &times.words {
            let _ = writeln!(text, "  {words}");
        }
    }
    if let Some(words) =
        clearance_words(part.maintenance, part.machine, (part.units, Language::English))
    {
        text.push_str("\nCrop under the pipe\n");
        for line in words {
            let _ = writeln!(text, "  {line}");
        }
    }
    text.push_str("\nCautions\n");
    for (what, words) in CAUTIONS {
        let _ = writeln!(text, "  {what}: {words}");
    }
    text
}
