//! The sheet as a calendar (iCalendar, RFC 5545): one event for each set that is still to come. Where the
//! field has a time zone, its times are in UTC, which every calendar turns into its own clock: they
//! agree with the sheet and are never doubtful when the clocks change. Without one they are local
//! standard times that float, and each event says so.

use super::input::Sheet;
use super::lines::{Line, PassLines};
use crate::texts::page;
use evenfall_canvas::DrawError;
use evenfall_core::clock::WallTime;
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
    let name = format!("{}: {}", sheet.alternative.name, sheet.scenario.title);
    let mut calendar = Calendar::empty();
    calendar
        .append_property(Property::new("VERSION", "2.0"))
        .append_property(Property::new(
            "PRODID",
            format!("-//Evenfall//move sheet//{}", sheet.language.code().to_uppercase()),
        ))
        .append_property(Property::new("CALSCALE", "GREGORIAN"))
        // The library escapes the second, which it knows for a text, and not the first.
        .append_property(Property::new("NAME", escaped(&name)))
        .append_property(Property::new("X-WR-CALNAME", name));
    for pass in sheet.passes()? {
        for line in pass.lines.iter().filter(|line| !line.is_done()) {
            calendar.push(event(sheet, &pass, line));
        }
    }
    let text: String =
        (&calendar).try_into().map_err(|error: fmt::Error| DrawError::library(error))?;
    Ok(match alarm_min {
        Some(minutes) => with_alarms(&text, minutes, page::NEXT_SET.of(sheet.language)),
        None => text,
    })
}

/// A text as RFC 5545 (section 3.3.11) writes it.
fn escaped(text: &str) -> String {
    let text = text.replace('\\', "\\\\").replace(';', "\\;").replace(',', "\\,");
    text.replace('\n', "\\n")
}

/// Gives every event a reminder. The library stamps reminders with the machine's clock, which RFC
/// 5545 does not allow in them and which would make every file another one, so they are put in here.
fn with_alarms(text: &str, minutes: u32, words: &str) -> String {
    let alarm = format!(
        "\r\nBEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:{words}\r\nTRIGGER:-PT{minutes}M\r\n\
         END:VALARM\r\nEND:VEVENT\r\n"
    );
    text.replace("\r\nEND:VEVENT\r\n", &alarm)
}

fn event(sheet: &Sheet<'_>, pass: &PassLines, line: &Line) -> Event {
    let plain = |text: &str| text.replace('\u{a0}', " ");
    let language = sheet.language;
    let summary = page::EVENT_TITLE.with(
        language,
        &[("outlet", &line.outlet), ("letter", &line.letter), ("pass", &pass.number)],
    );
    let mark = sheet.mark(line);
    let mark = if mark.is_empty() { mark } else { mark + "\n" };
    let words = page::EVENT_WORDS.with(
        language,
        &[
            ("place", &line.place),
            ("move", &line.travel),
            ("connect", &line.connect),
            ("depth", &sheet.depth_with_unit(line.depth)),
            ("clock", &sheet.short_clock_words()),
        ],
    );
    let words = mark + &words;
    let mut event = Event::new();
    event
        .uid(&uid(sheet, pass, line))
        // RFC 5545 wants a stamp in UTC; the season's start is one that does not change by itself.
        .append_property(Property::new(
            "DTSTAMP",
            format!("{}Z", plain_stamp(sheet.worked.course.plan.midnight)),
        ))
        .append_property(Property::new("DTSTART", stamp(sheet, &line.on)))
        .append_property(Property::new("DTEND", stamp(sheet, &line.off)))
        .summary(&plain(&summary))
        .description(&plain(&words));
    event.done()
}

/// UTC where the field has a time zone; else the time as it is, which floats.
fn stamp(sheet: &Sheet<'_>, time: &WallTime) -> String {
    let clock = &sheet.scenario.calendar.clock;
    match clock.moment(clock.standard(time.at, time.offset)) {
        Some(moment) => moment.strftime("%Y%m%dT%H%M%SZ").to_string(),
        None => plain_stamp(time.at),
    }
}

fn plain_stamp(at: DateTime) -> String {
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
