//! The move sheet: what the irrigator carries into the field, as a page to print, a table and a
//! calendar. Every figure on it follows from the plan that is simulated: times and places are the
//! plan's, moves are worked out from it by `evenfall_core::schedule::moves`.

mod calendar;
mod csv;
mod files;
mod ics;
mod lines;
mod page;
mod words;

pub use csv::{SHEET_CSV_COLUMNS, sheet_csv};
pub use files::{SHEET_PAGE, SheetExtras, sheet_files};
pub use ics::sheet_ics;
pub use page::sheet_html;

use crate::units::UnitSystem;
use evenfall_core::machine::Care;
use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::Standing;
use evenfall_core::season::{Alternative, Scenario, SetWater};

/// What a move sheet is made from.
#[derive(Clone, Copy, Debug)]
pub struct Sheet<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The alternative that is run.
    pub alternative: &'a Alternative,
    /// Its sets: the plan that is simulated, or that plan after re-planning.
    pub plan: &'a Plan,
    /// Per pass, its number in the season (from 0).
    pub numbers: &'a [usize],
    /// Per pass, per set, how it stands; empty where nothing is recorded.
    pub standing: &'a [Vec<Standing>],
    /// What each set meets: its strip's depth, the air at its move.
    pub water: &'a SetWater,
    /// What is known of the machine.
    pub care: &'a Care,
    /// Units to show.
    pub units: UnitSystem,
    /// What stands beside the plan.
    pub notes: &'a SheetNotes,
}

/// What a sheet says beside its plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetNotes {
    /// The field is made up.
    pub invented: bool,
    /// What the reader must be told, such as sets that are left without water.
    pub warnings: Vec<String>,
    /// Version of the program.
    pub version: String,
    /// Digest of the scenario.
    pub digest: String,
}
