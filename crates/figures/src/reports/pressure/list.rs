//! Pressures and discharges sprinkler by sprinkler: for a terminal, as CSV, as JSON.

use super::words::{judgment, rules, totals};
use crate::scenes::distinct;
use evenfall_canvas::DrawError;
use evenfall_core::lateral::hydraulics::PressureLine;
use evenfall_core::model::Scenario;
use evenfall_view::cell_text;
use evenfall_view::units::{Quantity, UnitSystem, number, percent};
use std::fmt::Write as _;

/// Columns of a list.
pub(super) const HEAD: [&str; 7] =
    ["Sprinkler", "Place", "Ground", "In the pipe", "At the nozzle", "Of the stated", "Discharge"];

/// What follows each heading: its unit in brackets.
pub(super) fn units_of(units: UnitSystem) -> [String; 7] {
    let unit = |quantity: Quantity| format!(" ({})", units.symbol(quantity));
    let (length, pressure) = (unit(Quantity::Length), unit(Quantity::Pressure));
    [
        String::new(),
        length.clone(),
        length,
        pressure.clone(),
        pressure,
        String::new(),
        unit(Quantity::Discharge),
    ]
}

/// One sprinkler's cells.
pub(super) fn cells(line: &PressureLine, index: usize, units: UnitSystem) -> Vec<String> {
    let outlet = &line.outlets[index];
    let shown = |quantity, value, us, si| {
        let decimals = if units == UnitSystem::Us { us } else { si };
        number(units.shown(quantity, value), decimals)
    };
    vec![
        (index + 1).to_string(),
        shown(Quantity::Length, outlet.place_m, 0, 1),
        shown(Quantity::Length, outlet.height_m, 1, 2),
        shown(Quantity::Pressure, outlet.pipe_kpa, 1, 0),
        shown(Quantity::Pressure, outlet.nozzle_kpa, 1, 0),
        percent(outlet.nozzle_kpa / line.nominal_kpa, 0),
        shown(Quantity::Discharge, outlet.discharge_l_s, 2, 3),
    ]
}

/// The pressures of a scenario for a terminal: judgment, totals, rules, then the list. `lines` are
/// those of the alternatives, in order. Ends with a line break.
pub fn pressures_text(
    scenario: &Scenario,
    lines: &[Option<PressureLine>],
    units: UnitSystem,
) -> String {
    let names = scenario.alternatives.iter().map(|a| a.name.as_str());
    let found = distinct(names.clone().zip(lines.iter().map(Option::as_ref)));
    let mut text = String::new();
    // Writing to a String cannot fail, here and below.
    for shared in &found {
        let _ = writeln!(text, "{}", shared.name());
        for words in [judgment, totals, rules] {
            let _ = writeln!(text, "  {}", words(shared.line, units).replace('\u{a0}', " "));
        }
        text.push('\n');
        write_list(&mut text, shared.line, units);
        text.push('\n');
    }
    let without = names.zip(lines).filter(|(_, line)| line.is_none()).map(|(name, _)| name);
    let without: Vec<&str> = without.collect();
    if !without.is_empty() {
        let _ = writeln!(
            text,
            "{}: no pipe is described, so all sprinklers have their stated pressure. Add \"pipe\": \
             {{ \"inside_diameter\": \"3.9 in\" }} to the lateral.",
            without.join("; ")
        );
    }
    text
}

fn write_list(text: &mut String, line: &PressureLine, units: UnitSystem) {
    let of_units = units_of(units);
    let head: Vec<String> =
        HEAD.iter().zip(&of_units).map(|(of, unit)| format!("{of}{unit}")).collect();
    let mut rows = vec![head];
    rows.extend((0..line.outlets.len()).map(|index| cells(line, index, units)));
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max();
    let widths: Vec<usize> = (0..HEAD.len()).map(|column| width(column).unwrap_or(0)).collect();
    for row in &rows {
        let padded = row.iter().zip(&widths).map(|(cell, width)| format!("{cell:>width$}"));
        let padded = padded.collect::<Vec<_>>().join("  ").replace('\u{a0}', " ");
        let _ = writeln!(text, "{padded}");
    }
}

/// Every sprinkler of every alternative with a pipe as CSV: SI units, full digits. `None` where
/// there is none.
///
/// # Errors
/// If the library refuses.
pub(crate) fn pressures_csv(
    scenario: &Scenario,
    lines: &[Option<PressureLine>],
) -> Result<Option<String>, DrawError> {
    if lines.iter().all(Option::is_none) {
        return Ok(None);
    }
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(CSV_COLUMNS).map_err(DrawError::library)?;
    for (alternative, line) in scenario.alternatives.iter().zip(lines) {
        for (index, outlet) in line.iter().flat_map(|line| line.outlets.iter().enumerate()) {
            let numbers = [
                outlet.place_m,
                outlet.height_m,
                outlet.pipe_kpa,
                outlet.nozzle_kpa,
                outlet.discharge_l_s,
                outlet.flow_l_s,
                outlet.velocity_m_s,
                outlet.friction_kpa,
            ];
            let row = [cell_text(&alternative.name), (index + 1).to_string()];
            let row = row.into_iter().chain(numbers.iter().map(f64::to_string));
            writer.write_record(row).map_err(DrawError::library)?;
        }
    }
    let bytes = writer.into_inner().map_err(DrawError::library)?;
    String::from_utf8(bytes).map(Some).map_err(DrawError::library)
}

/// Columns of the CSV file.
const CSV_COLUMNS: [&str; 10] = [
    "alternative",
    "sprinkler",
    "place_m",
    "ground_m",
    "pipe_kpa",
    "nozzle_kpa",
    "discharge_l_s",
    "pipe_flow_l_s",
    "velocity_m_s",
    "friction_kpa",
];
