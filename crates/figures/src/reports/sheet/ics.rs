//! The sheet as a calendar (iCalendar, RFC 5545): one event for each set that is still to come, in
//! local time without a zone, so that it shows at the same clock time wherever it is read. The
//! clock is the scenario's local standard time.

use super::input::Sheet;
use super::lines::{Line, PassLines};
use crate::error::DrawError;
use icalendar::{Calendar, Component as _, Event, Property};
use jiff::civil::DateTime;
use std::fmt;

/// The sheet as iCalendar text. `alarm_min` asks for a reminder so many minutes before each set.
///
/// Each event's identity is made of title, alternative, pass, outlet and kind, so that a later
/// calendar takes the place of an earlier one, whatever the times have become.
///
/// # Errors
/// If the sheet's parts do not belong together, or a library refuses.
pub fn sheet_ics(sheet: &Sheet<'_>, alarm_min: Option<u32>) -> Result<String, DrawError> {
    let mut calendar = Calendar::empty();
    calendar
        .append_property(Property::new("VERSION", "2.0"))
        .append_property(Property::new("PRODID", "-//Evenfall//move sheet//EN"))
        .append_property(Property::new("CALSCALE", "GREGORIAN"))
        .name(&format!("{}: {}", sheet.alternative.name, sheet.scenario.title));
    for pass in sheet.passes()? {
        for line in pass.lines.iter().filter(|line| !line.is_done()) {
            calendar.push(event(sheet, &pass, line));
        }
    }
    let text: String =
        (&calendar).try_into().map_err(|error: fmt::Error| DrawError::library(error))?;
    Ok(match alarm_min {
        Some(minutes) => with_alarms(&text, minutes),
        None => text,
    })
}

/// Gives every event a reminder. The library stamps reminders with the machine's clock, which RFC
/// 5545 does not allow in them and which would make every file another one, so they are put in here.
fn with_alarms(text: &str, minutes: u32) -> String {
    let alarm = format!(
        "\r\nBEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:Next set\r\nTRIGGER:-PT{minutes}M\r\n\
         END:VALARM\r\nEND:VEVENT\r\n"
    );
    text.replace("\r\nEND:VEVENT\r\n", &alarm)
}

fn event(sheet: &Sheet<'_>, pass: &PassLines, line: &Line) -> Event {
    let plain = |text: &str| text.replace('\u{a0}', " ");
    let summary = format!("Outlet {}: stop {}, pass {}", line.outlet, line.letter, pass.number);
    let mark = if line.mark().is_empty() { String::new() } else { format!("{}\n", line.mark()) };
    let words = format!(
        "{mark}Line: {}.\nMove: {}.\nConnect: {}.\nExpected {} depth: {} {}.",
        line.place,
        line.travel,
        line.connect,
        sheet.depth_word(),
        sheet.depth(line.depth_mm),
        sheet.units.symbol(evenfall_view::units::Quantity::Depth)
    );
    let mut event = Event::new();
    event
        .uid(&uid(sheet, pass, line))
        // RFC 5545 wants a stamp in UTC; the season's start is one that does not change by itself.
        .append_property(Property::new(
            "DTSTAMP",
            format!("{}Z", stamp(sheet.worked.course.plan.midnight)),
        ))
        .append_property(Property::new("DTSTART", stamp(line.on)))
        .append_property(Property::new("DTEND", stamp(line.off)))
        .summary(&plain(&summary))
        .description(&plain(&words));
    event.done()
}

fn stamp(at: DateTime) -> String {
    at.strftime("%Y%m%dT%H%M%S").to_string()
}

fn uid(sheet: &Sheet<'_>, pass: &PassLines, line: &Line) -> String {
    // On one side of a mainline only the set more at an edge shares its outlet with another.
    let side = if line.side == "left" { "-left" } else { "" };
    let kind =
        if line.kind == evenfall_core::schedule::moves::SetKind::Extra { "-extra" } else { "" };
    let slug = |text: &str| -> String {
        let plain = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
        text.trim().chars().map(plain).collect()
    };
    format!(
        "{}.{}.p{}.o{}{side}{kind}@evenfall.invalid",
        slug(&sheet.scenario.title),
        slug(&sheet.alternative.name),
        pass.number,
        line.outlet
    )
}
