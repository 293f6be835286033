//! The page to print: the season's calendar, a page for each pass, maintenance, cautions.
//!
//! Made to be read at arm's length and without color: large letters, rules and boxes, no tint that
//! carries a meaning. Everything fits the width of Letter and of A4.

use super::calendar::{Month, months};
use super::input::{Sheet, SheetNotes};
use super::passes::{PassPage, PassRow, pass_page, pass_row};
use crate::picture::Picture;
use crate::reports::cautions::cautions_in;
use crate::reports::maintenance::{self, MaintenanceGroup, MoveTimes};
use crate::texts::{Language, cautions, page as texts, upkeep};
use askama::Template;
use evenfall_canvas::DrawError;
use evenfall_core::lateral::Machine;
use evenfall_view::units::Quantity;

/// Lines to write on where nobody is named to call.
const BLANK_CONTACTS: usize = 2;

#[derive(Template)]
#[template(path = "sheet.html")]
struct Page<'a> {
    language: Language,
    code: &'static str,
    title: &'a str,
    heading: String,
    plan: String,
    notes: &'a SheetNotes,
    warnings: Vec<String>,
    machine: String,
    clock: String,
    short_clock: String,
    changes: Vec<String>,
    version: String,
    /// How a pass is called, and the seasons of such, where the crop calls for it.
    called: Option<(String, String)>,
    depth_head: String,
    read_head: String,
    is_gross: bool,
    /// How the line gets from stop to stop.
    way_head: &'static str,
    /// Whether the line stops at whole turns only.
    upright: bool,
    months: Vec<Month>,
    passes: Vec<PassRow>,
    pages: Vec<PassPage>,
    pressure: String,
    drift: Option<String>,
    gap: Option<String>,
    contact: &'a [String],
    blank_contacts: usize,
    has_log: bool,
    maintenance: Vec<MaintenanceGroup>,
    times: Option<MoveTimes>,
    clearance: Vec<String>,
    picture: String,
    cautions: Vec<(&'static str, &'static str)>,
}

/// The sheet as one HTML page, with the picture of the crop under the pipe where there is one.
///
/// # Errors
/// If the sheet's parts do not belong together, or a library refuses.
pub(crate) fn page(sheet: &Sheet<'_>, picture: Option<&Picture>) -> Result<String, DrawError> {
    let passes = sheet.passes()?;
    let language = sheet.language;
    let shown = (sheet.units, language);
    let machine = &sheet.alternative.lateral.machine;
    let machine_lines = sheet.alternative.lateral.lines;
    let calendar = sheet.scenario.calendar_of(sheet.alternative);
    let drive = sheet.maintenance.drive.as_ref();
    let last = passes.len().saturating_sub(1);
    let pages = passes.iter().enumerate().filter(|(_, pass)| !pass.is_done());
    let drift = sheet.drift_words();
    // Lines that take turns are moved while others water.
    let gap = drive
        .filter(|_| machine_lines.at_once() == machine_lines.count)
        .map(|drive| maintenance::gap_words(drive, calendar.move_gap_h, shown));
    let told = [drift.is_some(), gap.is_some(), sheet.is_called()];
    let sentences = told.into_iter().filter(|is_told| *is_told).count();
    let depth_unit = sheet.units.symbol(Quantity::Depth);
    let depth = if sheet.is_gross() { texts::DEPTH_GROSS } else { texts::DEPTH_NET };
    let name = &sheet.alternative.name;
    let page = Page {
        language,
        code: language.code(),
        title: &sheet.scenario.title,
        heading: texts::TITLE.with(language, &[("alternative", name)]),
        plan: texts::ALTERNATIVE.with(language, &[("name", name)]),
        notes: sheet.notes,
        warnings: sheet.warnings(),
        machine: sheet.machine_words(),
        clock: sheet.clock_words(),
        short_clock: sheet.short_clock_words(),
        changes: changes(sheet),
        version: version(sheet),
        called: sheet.call_rule().map(|rule| (rule, season_of_calls(sheet))),
        depth_head: depth.with(language, &[("unit", &depth_unit)]),
        read_head: texts::READ_HEAD
            .with(language, &[("unit", &sheet.units.symbol(Quantity::Pressure))]),
        is_gross: sheet.is_gross(),
        way_head: match machine {
            Machine::WheelLine(_) => texts::ROLL_HEAD.of(language),
            Machine::HandMove => texts::CARRY_HEAD.of(language),
        },
        upright: matches!(machine, Machine::WheelLine(wheel) if wheel.part_turns.is_none()),
        months: if sheet.is_called() { Vec::new() } else { months(sheet, &passes) },
        passes: passes.iter().map(|pass| pass_row(sheet, pass)).collect(),
        pages: pages
            .map(|(at, pass)| pass_page(sheet, (at, pass), (at == last, sentences)))
            .collect(),
        pressure: sheet.pressure_words(),
        drift,
        gap,
        contact: sheet.contact,
        blank_contacts: if sheet.contact.is_empty() { BLANK_CONTACTS } else { 0 },
        has_log: !sheet.worked.course.standing.is_empty(),
        maintenance: maintenance::list(machine, language),
        times: drive
            .map(|drive| maintenance::move_times(drive, calendar, &sheet.worked.air_c, shown)),
        clearance: maintenance::clearance_words(sheet.maintenance, machine, shown)
            .unwrap_or_default(),
        picture: picture.map_or_else(String::new, Picture::inline),
        cautions: cautions_in(language).to_vec(),
    };
    page.render().map_err(DrawError::library)
}

/// The changes of the clocks in the season; none where its dates are those of no real one.
fn changes(sheet: &Sheet<'_>) -> Vec<String> {
    let plan = &sheet.worked.course.plan;
    let start_h = plan.passes.first().map_or(0.0, |pass| pass.span_h().0);
    if sheet.is_called() { Vec::new() } else { sheet.clock_changes((start_h, plan.end_h())) }
}

fn version(sheet: &Sheet<'_>) -> String {
    let (version, digest) = (&sheet.notes.version, &sheet.notes.digest);
    texts::VERSION.with(sheet.language, &[("version", version), ("digest", digest)])
}

fn season_of_calls(sheet: &Sheet<'_>) -> String {
    let passes = sheet.worked.first.passes.len();
    texts::CALLED_SEASON.with(sheet.language, &[("n", &passes)])
}
