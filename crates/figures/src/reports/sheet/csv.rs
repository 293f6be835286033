//! The sheet as a table for other programs: one row for each set, SI with the unit in the name.
//!
//! Times are as the field's clock shows them, with their offset from UTC where it shows one twice; the
//! column `clock` names its zone. Names of columns, and what programs read in them, are English
//! whatever the sheet's language. Sets of a pass that the crop calls have no times until they have run.
//!
//! Its last columns are for what really happened: empty in a new sheet, and read back as a log when
//! they are filled in (`crates/scenario/src/log/filled.rs`). A sheet that was made with a log has
//! them filled in already, with rows of their own for breakdowns and for sets that stay without
//! water, so that nothing is lost when the table is gone on with.

use super::input::Sheet;
use super::lines::Line;
use evenfall_canvas::DrawError;
use evenfall_core::clock::{STANDARD_TIME, WallTime};
use evenfall_core::schedule::SetPlan;
use evenfall_core::schedule::moves::{SetKind, moves};
use evenfall_core::schedule::replan::{Happened, Standing};
use evenfall_view::cell_text;

/// Number of columns.
const COLUMNS: usize = 28;

/// The columns, in order.
pub const SHEET_CSV_COLUMNS: [&str; COLUMNS] = [
    "pass",
    "stop",
    "set",
    "on",
    "off",
    "outlet",
    "across_from_outlet_m",
    "along_pipe_m",
    "place",
    "turns_from_last_stop",
    "left_over_m",
    "move",
    "connect",
    "depth_low_mm",
    "depth_high_mm",
    "depth_is",
    "kind",
    "state",
    "line",
    "side",
    "notes",
    "done",
    "really_on",
    "really_off",
    "really_at",
    "scenario",
    "alternative",
    "clock",
];

/// Places closer than this are the same, m: far under what the table shows.
const SAME_PLACE_M: f64 = 1e-6;

/// The sheet as CSV (RFC 4180).
///
/// # Errors
/// If the sheet's parts do not belong together, or a library refuses.
pub fn sheet_csv(sheet: &Sheet<'_>) -> Result<String, DrawError> {
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record(SHEET_CSV_COLUMNS).map_err(DrawError::library)?;
    for pass in sheet.passes()? {
        for line in &pass.lines {
            let row = row(sheet, pass.number, line);
            out.write_record(row).map_err(DrawError::library)?;
        }
    }
    for row in left_rows(sheet).into_iter().chain(breakdown_rows(sheet)) {
        out.write_record(row).map_err(DrawError::library)?;
    }
    let bytes = out.into_inner().map_err(DrawError::library)?;
    String::from_utf8(bytes).map_err(DrawError::library)
}

fn meters(value: f64) -> String {
    if value.abs() < 5e-7 { "0".to_owned() } else { format!("{value:.6}") }
}

fn row(sheet: &Sheet<'_>, pass: usize, line: &Line) -> [String; COLUMNS] {
    let plain = |text: &str| text.replace('\u{a0}', " ");
    let [done, really_on, really_off, really_at] = filled_in(sheet, pass, line);
    let is_dated = !sheet.is_called() || line.is_done();
    let time = |at: &WallTime| if is_dated { at.to_string() } else { String::new() };
    let mark = line.mark().map_or("", |mark| mark.english());
    [
        pass.to_string(),
        line.letter.to_string(),
        line.set.to_string(),
        time(&line.on),
        time(&line.off),
        line.outlet.to_string(),
        meters(line.shift_m),
        meters(line.along_m),
        plain(&line.place),
        line.turns.map_or_else(String::new, |turns| turns.to_string()),
        meters(line.left_over_m),
        plain(&line.travel),
        plain(&line.connect),
        format!("{:.3}", line.depth.low_mm),
        format!("{:.3}", line.depth.high_mm),
        sheet.depth_word().to_owned(),
        match (line.standing, line.kind) {
            // Read back, it must still be told from the other set at its outlet.
            (Some(Standing::CatchUp), SetKind::Extra) => "catch-up, extra set".to_owned(),
            _ => mark.replace("{letter}", &line.letter.to_string()).to_lowercase(),
        },
        match line.standing {
            None | Some(Standing::ToCome) => "to come",
            Some(Standing::CatchUp) => "to come, missed earlier",
            Some(Standing::Recorded) => "done",
            Some(Standing::TakenAsDone) => "counted as done",
        }
        .to_owned(),
        line.lateral.to_string(),
        line.side.to_owned(),
        String::new(),
        done,
        really_on,
        really_off,
        really_at,
        cell_text(sheet.scenario.title.trim()),
        cell_text(&sheet.alternative.name),
        clock(sheet),
    ]
}

/// The clock that the table's times are of.
fn clock(sheet: &Sheet<'_>) -> String {
    sheet.scenario.calendar.clock.zone_name().unwrap_or(STANDARD_TIME).to_owned()
}

/// What the log says of a set: done, really on, really off, really at.
fn filled_in(sheet: &Sheet<'_>, pass: usize, line: &Line) -> [String; 4] {
    let mut filled: [String; 4] = Default::default();
    match line.standing {
        Some(Standing::Recorded) => {
            let outlets = &sheet.alternative.outlets;
            let is_there = |set: &SetPlan| {
                let shift_m = set.place_across_m - outlets.place_m(set.outlet);
                set.outlet + 1 == line.outlet && (shift_m - line.shift_m).abs() < SAME_PLACE_M
            };
            let planned = sheet.worked.first.passes.get(pass - 1);
            let as_planned = planned.is_some_and(|pass| pass.sets.iter().any(is_there));
            let at = if as_planned { String::new() } else { meters(line.shift_m) + " m" };
            filled = ["yes".to_owned(), line.on.to_string(), line.off.to_string(), at];
        }
        Some(Standing::CatchUp) => "missed".clone_into(&mut filled[0]),
        None | Some(Standing::TakenAsDone | Standing::ToCome) => {}
    }
    filled
}

/// A row with nothing but these cells, and whose sheet it is of.
fn bare(sheet: &Sheet<'_>, cells: &[(&str, String)]) -> [String; COLUMNS] {
    SHEET_CSV_COLUMNS.map(|column| match column {
        "scenario" => cell_text(sheet.scenario.title.trim()),
        "alternative" => cell_text(&sheet.alternative.name),
        "clock" => clock(sheet),
        _ => cells
            .iter()
            .find(|(name, _)| *name == column)
            .map_or_else(String::new, |(_, text)| text.clone()),
    })
}

/// An hour of the plan as the field's clock shows it.
fn shown(sheet: &Sheet<'_>, hour_h: f64) -> String {
    sheet.worked.first.shown(hour_h).to_string()
}

/// Sets that stay without water, at the times of the first plan.
fn left_rows(sheet: &Sheet<'_>) -> Vec<[String; COLUMNS]> {
    let plan = &sheet.worked.first;
    let planned = moves(plan, &sheet.alternative.stops());
    let left = sheet.worked.course.left.iter();
    left.map(|(pass, set)| {
        let sets = planned.get(*pass).map_or(&[][..], |pass| &pass.moves);
        let is_extra = sets.iter().any(|one| one.set == *set && one.kind == SetKind::Extra);
        bare(
            sheet,
            &[
                ("pass", (pass + 1).to_string()),
                ("on", shown(sheet, set.start_h)),
                ("off", shown(sheet, set.end_h)),
                ("outlet", (set.outlet + 1).to_string()),
                ("kind", if is_extra { "extra set".to_owned() } else { String::new() }),
                ("state", "left without water".to_owned()),
                ("done", "missed".to_owned()),
            ],
        )
    })
    .collect()
}

/// Times in which nothing could run.
fn breakdown_rows(sheet: &Sheet<'_>) -> Vec<[String; COLUMNS]> {
    let events = sheet.record.map_or(&[][..], |record| &record.events);
    let row = |event: &Happened| match event {
        Happened::Breakdown { from_h, to_h } => Some(bare(
            sheet,
            &[
                ("done", "breakdown".to_owned()),
                ("really_on", shown(sheet, *from_h)),
                ("really_off", shown(sheet, *to_h)),
            ],
        )),
        Happened::Done { .. } | Happened::Missed(_) => None,
    };
    events.iter().filter_map(row).collect()
}
