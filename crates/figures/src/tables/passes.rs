//! Figures pass by pass: a table for the page and a CSV for other programs.

use super::{Group, Row, Table};
use crate::error::DrawError;
use crate::scene::{Entry, Scene, inside};
use crate::units::{Quantity, UnitSystem, number, percent};
use evenfall_core::model::Scenario;
use evenfall_core::season::{Outcome, RegionFigures};
use evenfall_core::uniformity::Uniformity;
use jiff::SignedDuration;
use jiff::civil::DateTime;

/// The pass-by-pass table of the page (interior).
pub(crate) fn table(scene: &Scene<'_>) -> Table {
    let mean = format!("Mean ({})", scene.units.symbol(Quantity::Depth));
    let head = [
        "Pass",
        "Stop",
        "Start",
        "End",
        "CU alone",
        "DUlq alone",
        &mean,
        "CU so far",
        "DUlq so far",
        &format!("{mean} so far"),
    ];
    let group = |e: &Entry<'_>| Group {
        heading: e.asked.name.clone(),
        rows: (0..e.passes()).map(|pass| row(scene, e, pass)).collect(),
    };
    let groups = scene.entries.iter().map(group).collect();
    let note = format!(
        "Figures of the {}. A bar | after the pass number marks a whole cycle of the rotation.",
        scene.interior_name()
    );
    Table { groups, ..Table::new("Pass by pass", &head) }.with_note(&note)
}

fn row(scene: &Scene<'_>, entry: &Entry<'_>, pass: usize) -> Row {
    let (planned, found) = (&entry.found.plan.passes[pass], &entry.found.passes[pass]);
    let (start, end) = span(entry, pass);
    let mut cells = vec![planned.letter.to_string(), short(start), short(end)];
    for figures in [inside(&found.alone), inside(&found.cumulative)] {
        cells.extend(match figures {
            Some(f) => [
                percent(f.cu, 1),
                percent(f.du_lq, 1),
                number(
                    scene.units.shown(Quantity::Depth, f.mean_depth_mm),
                    scene.units.depth_decimals(),
                ),
            ],
            None => ["no water".to_owned(), String::new(), String::new()],
        });
    }
    let whole = entry.ends_a_cycle(pass) && entry.found.plan.cycle > 1;
    Row::new(format!("{}{}", pass + 1, if whole { " |" } else { "" }), cells)
}

/// Start of the first and end of the last set of a pass, where the pass has sets.
fn span(entry: &Entry<'_>, pass: usize) -> (Option<DateTime>, Option<DateTime>) {
    let plan = &entry.found.plan;
    let sets = &plan.passes[pass].sets;
    let at = |hour: f64| time(plan.midnight, hour);
    (sets.first().and_then(|s| at(s.start_h)), sets.last().and_then(|s| at(s.end_h)))
}

/// Civil time `hour` hours after a midnight, to the minute.
fn time(midnight: DateTime, hour: f64) -> Option<DateTime> {
    if !hour.is_finite() {
        return None;
    }
    // The cast keeps to the bounds of i64; what no calendar holds is then refused by the addition.
    let seconds = ((hour * 60.0).round() * 60.0) as i64;
    midnight.checked_add(SignedDuration::from_secs(seconds)).ok()
}

fn short(at: Option<DateTime>) -> String {
    at.map_or_else(String::new, |t| t.strftime("%d\u{a0}%b\u{a0}%H:%M").to_string())
}

fn iso(at: Option<DateTime>) -> String {
    at.map_or_else(String::new, |t| t.strftime("%Y-%m-%dT%H:%M").to_string())
}

/// Column names of [`passes_csv`].
pub const PASSES_CSV_COLUMNS: [&str; 18] = [
    "alternative",
    "pass",
    "stop",
    "shift_across_m",
    "shift_along_m",
    "start",
    "end",
    "cycle_complete",
    "scope",
    "region",
    "cu_percent",
    "du_lq_percent",
    "cv_percent",
    "mean_depth_mm",
    "lowest_depth_mm",
    "highest_depth_mm",
    "area_under_75_percent",
    "area_over_125_percent",
];

/// Figures of every pass in long form: one line per alternative, pass, scope (`alone`,
/// `cumulative`) and region (`interior`, `whole`, `first_strip`, `last_strip`); SI units and
/// percent, times local standard; cells are empty where no water fell.
///
/// # Errors
/// If scenario and outcome do not belong together.
pub fn passes_csv(scenario: &Scenario, outcome: &Outcome) -> Result<String, DrawError> {
    let scene = Scene::new(scenario, outcome, UnitSystem::Si)?;
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(PASSES_CSV_COLUMNS).map_err(DrawError::library)?;
    for entry in &scene.entries {
        for pass in 0..entry.passes() {
            let found = &entry.found.passes[pass];
            for (scope, regions) in [("alone", &found.alone), ("cumulative", &found.cumulative)] {
                for (region, figures) in by_region(regions) {
                    let mut record = what(entry, pass);
                    record.extend([scope.to_owned(), region.to_owned()]);
                    record.extend(numbers(figures));
                    writer.write_record(&record).map_err(DrawError::library)?;
                }
            }
        }
    }
    let bytes = writer.into_inner().map_err(DrawError::library)?;
    String::from_utf8(bytes).map_err(DrawError::library)
}

/// The regions with their names in files.
pub(crate) fn by_region(figures: &RegionFigures) -> [(&'static str, Option<Uniformity>); 4] {
    [
        ("interior", figures.interior),
        ("whole", figures.whole),
        ("first_strip", figures.first_strip),
        ("last_strip", figures.last_strip),
    ]
}

fn what(entry: &Entry<'_>, pass: usize) -> Vec<String> {
    let planned = &entry.found.plan.passes[pass];
    let (start, end) = span(entry, pass);
    vec![
        entry.asked.name.clone(),
        (pass + 1).to_string(),
        planned.letter.to_string(),
        planned.shift.across_m.to_string(),
        planned.shift.along_m.to_string(),
        iso(start),
        iso(end),
        entry.ends_a_cycle(pass).to_string(),
    ]
}

fn numbers(figures: Option<Uniformity>) -> Vec<String> {
    let Some(f) = figures else { return vec![String::new(); 8] };
    let percent = |fraction: f64| format!("{:.4}", 100.0 * fraction);
    let depth = |mm: f64| format!("{mm:.4}");
    vec![
        percent(f.cu),
        percent(f.du_lq),
        percent(f.cv),
        depth(f.mean_depth_mm),
        depth(f.lowest_depth_mm),
        depth(f.highest_depth_mm),
        percent(f.share_under_75),
        percent(f.share_over_125),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn closed_hours_become_civil_times() {
        let midnight = date(2026, 5, 31).at(0, 0, 0, 0);
        assert_eq!(iso(time(midnight, 29.5)), "2026-06-01T05:30");
        assert_eq!(short(time(midnight, 6.0)), "31\u{a0}May\u{a0}06:00");
        assert_eq!(time(midnight, f64::NAN), None);
        assert_eq!(time(midnight, 1e300), None);
    }
}
