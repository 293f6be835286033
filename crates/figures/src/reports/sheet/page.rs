//! The page to print: the season's calendar, a page for each pass, maintenance, cautions.
//!
//! Made to be read at arm's length and without color: large letters, rules and boxes, no tint that
//! carries a meaning.

use super::calendar::{Month, months};
use super::input::{Sheet, SheetNotes};
use super::lines::{Line, PassLines};
use super::words;
use crate::error::DrawError;
use crate::picture::Picture;
use crate::reports::cautions::{CAUTIONS, CAUTIONS_IN_SHORT};
use crate::reports::maintenance::{self, MaintenanceGroup, MoveTimes};
use askama::Template;
use evenfall_core::lateral::part_turns::attitude;
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::lateral::{Machine, Sharing};
use evenfall_view::units::{Quantity, number};

#[derive(Template)]
#[template(path = "sheet.html")]
struct Page<'a> {
    title: &'a str,
    alternative: &'a str,
    notes: &'a SheetNotes,
    warnings: Vec<String>,
    machine: String,
    depth_head: String,
    is_gross: bool,
    /// How the line gets from stop to stop.
    way_head: &'static str,
    /// Whether the line stops at whole turns only.
    upright: bool,
    months: Vec<Month>,
    passes: Vec<PassRow>,
    pages: Vec<PassPage>,
    drift: Option<String>,
    gap: Option<String>,
    /// How a pass is started where the crop calls for it.
    called: Option<String>,
    short: &'static str,
    has_log: bool,
    maintenance_first: &'static str,
    maintenance: Vec<MaintenanceGroup>,
    times: Option<MoveTimes>,
    clearance: Vec<String>,
    picture: String,
    cautions: [(&'static str, &'static str); 7],
}

/// One line of the list of passes.
struct PassRow {
    number: usize,
    letter: char,
    place: String,
    from: String,
    to: String,
    sets: String,
}

/// The printed page of one pass.
struct PassPage {
    number: usize,
    letter: char,
    place: String,
    connect: String,
    dates: String,
    rows: Vec<SetRow>,
    way_back: String,
}

/// One row of it.
struct SetRow {
    day: String,
    on: String,
    off: String,
    outlet: usize,
    place: String,
    travel: String,
    depth: String,
    /// What to connect, where that is not what the pass connects.
    connect: String,
    /// Why no water ran before it, where the calendar was closed; empty where it was not.
    waited: String,
    /// Why the set is unlike the others; empty where it is not.
    mark: String,
    is_done: bool,
    taken: bool,
}

/// The sheet as one HTML page, with the picture of the crop under the pipe where there is one.
///
/// # Errors
/// If the sheet's parts do not belong together, or a library refuses.
pub(crate) fn page(sheet: &Sheet<'_>, picture: Option<&Picture>) -> Result<String, DrawError> {
    let passes = sheet.passes()?;
    let machine = &sheet.alternative.lateral.machine;
    let machine_lines = sheet.alternative.lateral.lines;
    let calendar = sheet.scenario.calendar_of(sheet.alternative);
    let drive = sheet.maintenance.drive.as_ref();
    let last = passes.len().saturating_sub(1);
    let pages = passes.iter().enumerate().filter(|(_, pass)| !pass.is_done());
    let page = Page {
        title: &sheet.scenario.title,
        alternative: &sheet.alternative.name,
        notes: sheet.notes,
        warnings: sheet.warnings(),
        machine: machine_words(sheet),
        depth_head: format!(
            "{} depth ({})",
            if sheet.is_gross() { "Gross" } else { "Net strip" },
            sheet.units.symbol(Quantity::Depth)
        ),
        is_gross: sheet.is_gross(),
        way_head: match machine {
            Machine::WheelLine(_) => "Roll from the last stop",
            Machine::HandMove => "Carry from the last stop",
        },
        upright: matches!(machine, Machine::WheelLine(wheel) if wheel.part_turns.is_none()),
        months: months(sheet, &passes),
        passes: passes.iter().map(pass_row).collect(),
        pages: pages.map(|(index, pass)| pass_page(sheet, pass, index == last)).collect(),
        drift: drift(sheet),
        // Lines that take turns are moved while others water.
        gap: drive
            .filter(|_| machine_lines.at_once() == machine_lines.count)
            .map(|drive| maintenance::gap_words(drive, calendar.move_gap_h, sheet.units)),
        called: called(sheet),
        short: CAUTIONS_IN_SHORT,
        has_log: !sheet.worked.course.standing.is_empty(),
        maintenance_first: maintenance::FIRST,
        maintenance: maintenance::list(machine),
        times: drive.map(|drive| {
            maintenance::move_times(drive, calendar, &sheet.worked.air_c, sheet.units)
        }),
        clearance: maintenance::clearance_words(sheet.maintenance, machine, sheet.units)
            .unwrap_or_default(),
        picture: picture.map_or_else(String::new, Picture::inline),
        cautions: CAUTIONS,
    };
    page.render().map_err(DrawError::library)
}

fn pass_row(pass: &PassLines) -> PassRow {
    let when = |line: Option<&Line>, end: bool| {
        line.map_or_else(String::new, |line| {
            let at = if end { line.off } else { line.on };
            at.strftime("%a %-d %b, %H:%M").to_string()
        })
    };
    let done = pass.lines.iter().filter(|line| line.is_done()).count();
    let sets = pass.lines.len();
    PassRow {
        number: pass.number,
        letter: pass.letter,
        place: pass.place.clone(),
        from: when(pass.lines.first(), false),
        to: when(pass.lines.last(), true),
        sets: if done > 0 { format!("{sets}, {done} done") } else { sets.to_string() },
    }
}

fn pass_page(sheet: &Sheet<'_>, pass: &PassLines, is_last: bool) -> PassPage {
    let date = |at: Option<jiff::civil::DateTime>| {
        at.map_or_else(String::new, |at| at.strftime("%a %-d %B").to_string())
    };
    let (first, last) = (pass.lines.first(), pass.lines.last());
    PassPage {
        number: pass.number,
        letter: pass.letter,
        place: pass.place.clone(),
        connect: pass.connect.clone(),
        dates: format!(
            "{} to {}",
            date(first.map(|line| line.on)),
            date(last.map(|line| line.off))
        ),
        rows: pass.lines.iter().map(|line| set_row(sheet, pass, line)).collect(),
        way_back: way_on(pass, is_last),
    }
}

/// What comes after the last set of a pass.
fn way_on(pass: &PassLines, is_last: bool) -> String {
    let way = pass.ways_back.join("; ");
    match way.as_str() {
        "" => String::new(),
        _ if is_last => format!("{way} to the first outlet. The season is over."),
        words::STAY => "stay at this stop for the first set of the next pass.".to_owned(),
        _ => format!("{way} to the first stop of the next pass."),
    }
}

fn set_row(sheet: &Sheet<'_>, pass: &PassLines, line: &Line) -> SetRow {
    SetRow {
        day: line.on.strftime("%a %-d %b").to_string(),
        on: line.on.strftime("%H:%M").to_string(),
        off: line.off.strftime("%H:%M").to_string(),
        outlet: line.outlet,
        place: words::short_place(&line.place),
        travel: line.short_travel.clone(),
        depth: sheet.depth(line.depth_mm),
        // Where each row says what to connect, the usual coupling needs no word.
        connect: if line.connect == pass.connect || line.connect == words::USUAL_COUPLING {
            String::new()
        } else {
            line.connect.clone()
        },
        waited: line.waited.clone(),
        mark: line.mark(),
        is_done: line.is_done(),
        taken: line.standing == Some(evenfall_core::schedule::replan::Standing::TakenAsDone),
    }
}

/// The machine in one line.
fn machine_words(sheet: &Sheet<'_>) -> String {
    let (lateral, outlets) = (&sheet.alternative.lateral, &sheet.alternative.outlets);
    let length = |meters| words::length(sheet.units, meters);
    let kind = match &lateral.machine {
        Machine::WheelLine(wheel) => {
            format!("Wheel line, {} per turn", length(wheel.travel_per_turn_m))
        }
        Machine::HandMove => "Hand-move line".to_owned(),
    };
    let lines = &lateral.lines;
    let several = match lines.sharing {
        _ if lines.count == 1 => String::new(),
        Sharing::AtOnce => format!("{} of them at once, each with its own outlets. ", lines.count),
        Sharing::ByTurns => {
            format!("{} of them by turns: one waters while the others are moved. ", lines.count)
        }
    };
    let sides = match lines.sides().len() {
        1 => "",
        _ => {
            "Both sides of the mainline; right and left are meant looking in the direction of travel. "
        }
    };
    format!(
        "{kind}. {several}{sides}{} outlets {} apart; hose or swing joint reaches {}. Order of sets: {}",
        outlets.count,
        length(outlets.spacing_m),
        length(outlets.reach_m),
        lines.order_words(&sheet.scenario.calendar_of(sheet.alternative).order)
    )
}

/// How a pass is started where the crop calls for it; `None` where the calendar does.
fn called(sheet: &Sheet<'_>) -> Option<String> {
    let called = sheet.scenario.called.as_ref()?;
    Some(format!(
        "Start each pass when the soil has used {} % of what the crop can take without stress, not by the \
         date: the dates on this sheet are those of one simulated season.",
        number(100.0 * called.share_of_raw, 0)
    ))
}

/// What to do where whole turns do not add up to the outlet spacing; `None` where they do.
fn drift(sheet: &Sheet<'_>) -> Option<String> {
    let Machine::WheelLine(wheel) = &sheet.alternative.lateral.machine else { return None };
    let outlets = &sheet.alternative.outlets;
    let sets = || sheet.worked.course.plan.passes.iter().flat_map(|pass| &pass.sets);
    if sets().any(|set| attitude(wheel, outlets, set.place_across_m).is_some()) {
        return Some(
            "Some stops end at part of a turn. Set the line down where the row says, then walk it: every \
             sprinkler must stand level before the water goes on."
                .to_owned(),
        );
    }
    let reach = wheel_reach(wheel, outlets);
    let drift_m = reach.drift_per_move_m;
    if sets().map(|set| set.drift_m.abs()).fold(0.0, f64::max) < words::NOTHING_M {
        return None;
    }
    let (verb, side) = if drift_m < 0.0 { ("leave", "short of") } else { ("carry", "past") };
    Some(format!(
        "Roll whole turns only, sprinklers straight up. {} turns {verb} you {} {side} the next outlet: the \
         hose or swing joint takes that up. Each row says where the line then stands, and where a \
         turn more or less is needed.",
        reach.turns_per_move,
        words::length(sheet.units, drift_m)
    ))
}
