//! Pressure along the pipe on the page: totals by lateral, every sprinkler, what it costs.

use super::list::{HEAD, cells, units_of};
use super::words::{judgment, pressure_decimals, rules, totals, velocity};
use crate::scenes::{Scene, Shared, inside, of_scene};
use crate::table::{Row, Table};
use evenfall_view::ReportNotes;
use evenfall_view::units::{Quantity, percent, points};

/// A list longer than this is left to the CSV file.
const LONGEST_LIST: usize = 60;

/// The tables of the page; none where no alternative has its pipe described.
pub(crate) fn tables(scene: &Scene<'_>, notes: &ReportNotes) -> Vec<Table> {
    let lines = of_scene(scene);
    if lines.is_empty() {
        return Vec::new();
    }
    let mut tables = vec![summary(scene, &lines)];
    tables.extend(cost(scene, notes));
    tables.extend(lines.iter().filter_map(|shared| list(scene, shared)));
    tables
}

fn summary(scene: &Scene<'_>, lines: &[Shared<'_>]) -> Table {
    let units = scene.units;
    let head = [
        "",
        "Inlet pressure",
        "Inlet flow",
        "Lowest at a nozzle",
        "Highest at a nozzle",
        "Differ by, of the stated",
        "20\u{a0}% rule",
        "Friction",
        "Fastest",
    ];
    let rows = lines.iter().map(|shared| {
        let line = shared.line;
        let pressure = |kpa: f64| units.text(Quantity::Pressure, kpa, pressure_decimals(units));
        let friction = line.friction_kpa();
        let cells = vec![
            pressure(line.inlet_kpa),
            units.text(Quantity::Discharge, line.flow_l_s(), 1),
            pressure(line.lowest().1.nozzle_kpa),
            pressure(line.highest().1.nozzle_kpa),
            percent(line.pressure_variation(), 1),
            if line.keeps_rule() { "kept" } else { "broken" }.to_owned(),
            pressure(friction[0].max(friction[1])),
            velocity(line.fastest_m_s(), units),
        ];
        Row::new(shared.name(), cells)
    });
    let words = lines.iter().map(|shared| {
        let told = [judgment, totals, rules].map(|of| of(shared.line, units)).join(" ");
        if lines.len() > 1 { format!("{}: {told}", shared.name()) } else { told }
    });
    let note = words.collect::<Vec<_>>().join(" — ");
    Table::new("The lateral under pressure", &head).with_rows(rows.collect()).with_note(&note)
}

/// What the pressures do to the season's uniformity.
fn cost(scene: &Scene<'_>, notes: &ReportNotes) -> Option<Table> {
    let head = [
        "",
        "CU, all at the stated pressure",
        "CU, pressure along the pipe",
        "Points",
        "DUlq, all at the stated pressure",
        "DUlq, pressure along the pipe",
        "Points",
    ];
    let rows = scene.entries.iter().filter_map(|entry| {
        let even = notes.even.iter().find(|even| even.alternative == entry.asked.name)?.figures;
        let found = inside(entry.found.season_figures())?;
        let cells = vec![
            percent(even.cu, 1),
            percent(found.cu, 1),
            points(found.cu - even.cu, 1),
            percent(even.du_lq, 1),
            percent(found.du_lq, 1),
            points(found.du_lq - even.du_lq, 1),
        ];
        Some(Row::new(&entry.asked.name, cells))
    });
    let rows: Vec<Row> = rows.collect();
    let note = "The season in the interior, simulated twice under the same winds. A rotation does \
        not remove what pressure does: the same sprinklers are short in every pass.";
    let table = Table::new("What the pressures cost in uniformity", &head);
    (!rows.is_empty()).then(|| table.with_rows(rows).with_note(note))
}

fn list(scene: &Scene<'_>, shared: &Shared<'_>) -> Option<Table> {
    if shared.line.outlets.len() > LONGEST_LIST {
        return None;
    }
    let units = units_of(scene.units);
    let head: Vec<String> =
        HEAD.iter().zip(&units).map(|(of, unit)| format!("{of}{unit}")).collect();
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    let rows = (0..shared.line.outlets.len()).map(|index| {
        let mut cells = cells(shared.line, index, scene.units);
        Row::new(cells.remove(0), cells)
    });
    let title = format!("Every sprinkler: {}", shared.name());
    let note = "Places from the field’s edge; velocity in the pipe that brings the water.";
    Some(Table::new(&title, &head).with_rows(rows.collect()).with_note(note))
}
