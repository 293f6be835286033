//! What a move sheet is made from.

use super::times::{ClockFace, Times};
use crate::texts::Language;
use evenfall_core::machine::Maintenance;
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::schedule::replan::Record;
use evenfall_core::season::Worked;
use evenfall_view::units::UnitSystem;

/// Said where nobody has named the field's time zone.
const NO_ZONE: &str = "times are standard time, in the calendar file too: while daylight saving lasts \
    it reminds an hour early by your clock. Name the field’s `time_zone` (such as \"Mountain\") to have \
    both by the clock on the wall";
/// Said of a sheet in Spanish.
const UNREVIEWED: &str = "the Spanish of the sheet is from memory and not reviewed by a native \
    speaker. Have somebody who speaks it read it before it goes out";
/// Said where the crop calls for the passes.
const NO_CALENDAR: &str = "the crop calls for each pass, so the sheet has hours after the start in \
    place of dates, and no calendar file comes with it";

/// What a move sheet is made from.
#[derive(Clone, Copy, Debug)]
pub struct Sheet<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The alternative that is run.
    pub alternative: &'a Alternative,
    /// Its season as it is worked: the plan that is simulated, or that plan after re-planning.
    pub worked: &'a Worked,
    /// What the log says, where there is one.
    pub record: Option<&'a Record>,
    /// What is known of the machine.
    pub maintenance: &'a Maintenance,
    /// Units to show.
    pub units: UnitSystem,
    /// Language of page and calendar.
    pub language: Language,
    /// How the clock is written; as is usual with the units where nothing is said.
    pub face: Option<ClockFace>,
    /// Whom to call, a line each.
    pub contact: &'a [String],
    /// What stands beside the plan.
    pub notes: &'a SheetNotes,
}

impl Sheet<'_> {
    /// All notes for the reader, in order.
    pub fn warnings(&self) -> Vec<String> {
        let notes = self.notes;
        let all = notes.warnings.iter().cloned().chain(self.worked.notice());
        all.chain(notes.log_warnings.iter().cloned()).collect()
    }

    /// What whoever hands it out should know first, beside the warnings: said by the command and by
    /// the page, not on the sheet. Sentences without their last point.
    pub fn before_it_goes_out(&self) -> Vec<&'static str> {
        let is_unzoned = self.scenario.calendar_of(self.alternative).clock.zone_name().is_none();
        let is_spanish = self.language == Language::Spanish;
        [(is_unzoned, NO_ZONE), (is_spanish, UNREVIEWED), (self.is_called(), NO_CALENDAR)]
            .into_iter()
            .filter_map(|(holds, words)| holds.then_some(words))
            .collect()
    }

    /// Whether the crop calls its passes, so that their dates are those of no real season.
    pub fn is_called(&self) -> bool {
        self.scenario.called.is_some()
    }

    /// How dates and times are written.
    pub(super) fn times(&self) -> Times {
        Times {
            language: self.language,
            face: self.face.unwrap_or_else(|| ClockFace::usual(self.units)),
            month_first: self.units == UnitSystem::Us,
        }
    }
}

/// What a sheet says beside its plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetNotes {
    /// The field is made up.
    pub invented: bool,
    /// What the scenario's reader must be told.
    pub warnings: Vec<String>,
    /// What follows from the log, such as sets that are left without water.
    pub log_warnings: Vec<String>,
    /// Version of the program.
    pub version: String,
    /// Digest of the scenario.
    pub digest: String,
}
