//! What the scenario says of the move sheet, and the clock that its times are written in.

use crate::file::{ClockFace, ScenarioFile, SheetFile, SheetLanguage};
use crate::read::optional;
use evenfall_core::clock::FieldClock;

/// What the scenario says of the move sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetWishes {
    /// Whom to call, a line each.
    pub contact: Vec<String>,
    /// How the clock is written; by the units where nothing is said.
    pub clock: Option<ClockFace>,
    /// Its language.
    pub language: SheetLanguage,
}

pub(super) fn wishes(file: &ScenarioFile) -> SheetWishes {
    let given = optional(&file.sheet);
    let contact = given.and_then(|sheet| sheet.contact.as_ref());
    let contact = contact.map_or(&[][..], |list| &list.items);
    SheetWishes {
        contact: contact.iter().map(|line| line.value.clone()).collect(),
        clock: given.and_then(|sheet| sheet.clock),
        language: SheetFile::language.or(given.map(|sheet| &sheet.language)),
    }
}

/// The clock of the field's time zone in the year of the season; standard time without one.
pub(super) fn clock(file: &ScenarioFile) -> FieldClock {
    let zone = file.field.0.as_ref().and_then(|field| optional(&field.time_zone));
    let season = file.season.0.as_ref();
    zone.zip(season)
        .and_then(|(zone, season)| FieldClock::in_zone(&zone.value, season.start.value.date()))
        .unwrap_or_default()
}
