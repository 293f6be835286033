//! The sheet as a table for other programs: one row for each set, SI with the unit in the name.

use super::input::Sheet;
use super::lines::Line;
use crate::error::DrawError;
use evenfall_core::schedule::replan::Standing;
use jiff::civil::DateTime;

/// The columns, in order.
pub const SHEET_CSV_COLUMNS: [&str; 20] = [
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
    "depth_mm",
    "depth_is",
    "kind",
    "state",
    "line",
    "side",
    "notes",
];

/// The sheet as CSV (RFC 4180), local standard time.
///
/// # Errors
/// If the sheet's parts do not belong together, or a library refuses.
pub fn sheet_csv(sheet: &Sheet<'_>) -> Result<String, DrawError> {
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record(SHEET_CSV_COLUMNS).map_err(DrawError::library)?;
    for pass in sheet.passes()? {
        for line in &pass.lines {
            let row = row(pass.number, sheet.depth_word(), line);
            out.write_record(row).map_err(DrawError::library)?;
        }
    }
    let bytes = out.into_inner().map_err(DrawError::library)?;
    String::from_utf8(bytes).map_err(DrawError::library)
}

fn row(pass: usize, depth_is: &str, line: &Line) -> [String; 20] {
    let plain = |text: &str| text.replace('\u{a0}', " ");
    let time = |at: DateTime| at.strftime("%Y-%m-%dT%H:%M").to_string();
    let meters =
        |value: f64| if value.abs() < 5e-7 { "0".to_owned() } else { format!("{value:.6}") };
    [
        pass.to_string(),
        line.letter.to_string(),
        line.set.to_string(),
        time(line.on),
        time(line.off),
        line.outlet.to_string(),
        meters(line.shift_m),
        meters(line.along_m),
        plain(&line.place),
        line.turns.map_or_else(String::new, |turns| turns.to_string()),
        meters(line.left_over_m),
        plain(&line.travel),
        plain(&line.connect),
        line.depth_mm.map_or_else(String::new, |mm| format!("{mm:.3}")),
        depth_is.to_owned(),
        line.mark().to_lowercase(),
        match line.standing {
            None | Some(Standing::ToCome) => "to come",
            Some(Standing::CatchUp) => "to come, missed earlier",
            Some(Standing::Recorded) => "done",
            Some(Standing::TakenAsDone) => "counted as done",
        }
        .to_owned(),
        line.line.to_string(),
        line.side.to_owned(),
        String::new(),
    ]
}
