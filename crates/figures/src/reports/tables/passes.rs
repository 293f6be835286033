//! Figures pass by pass: a table for the page and a CSV for other programs.

use crate::reports::file_json::file_json;
use crate::table::{Group, Row, Table};
use evenfall_canvas::DrawError;
use evenfall_view::units::UnitSystem;
use evenfall_view::{AlternativeSeason, Figure, Figures, Pass, Season, Shown, Time, pass_columns};

/// The pass-by-pass table of the page; `region` names what its figures are taken over.
pub(crate) fn table(season: &Season, region: &str, units: UnitSystem) -> Table {
    let heads = |when: &str| -> Vec<String> {
        let of = Figure::shown_in(Shown::Passes);
        of.map(|figure| format!("{} {when}", figure.head(units))).collect()
    };
    let first = ["Pass", "Stop", "Start", "End"].map(str::to_owned).to_vec();
    let head = [first, heads("alone"), heads("so far")].concat();
    let group = |own: &AlternativeSeason| Group {
        heading: own.name.clone(),
        rows: own.passes.iter().map(|pass| row(pass, own.cycle_passes)).collect(),
    };
    let groups = season.alternatives.iter().map(group).collect();
    let note = format!(
        "Figures of the {region}. A bar | after the pass number marks a whole cycle of the rotation."
    );
    Table { head, groups, ..Table::new("Pass by pass", &[]) }.with_note(&note)
}

fn row(pass: &Pass, cycle: usize) -> Row {
    let time = |at: &Option<Time>| at.as_ref().map_or_else(String::new, Time::text);
    let mut cells = vec![pass.stop.to_string(), time(&pass.start), time(&pass.end)];
    for figures in [pass.alone.inside(), pass.cumulative.inside()] {
        cells.extend(cells_of(figures));
    }
    let whole = pass.cycle_complete && cycle > 1;
    Row::new(format!("{}{}", pass.pass, if whole { " |" } else { "" }), cells)
}

fn cells_of(figures: Option<&Figures>) -> Vec<String> {
    if let Some(figures) = figures {
        return figures.cells(Shown::Passes);
    }
    let rest = Figure::shown_in(Shown::Passes).skip(1).map(|_| String::new());
    std::iter::once("no water".to_owned()).chain(rest).collect()
}

/// A season in SI units as indented JSON for other programs: all results but the grids, keys with
/// their unit; `null` where no water fell or a value is not finite.
///
/// # Errors
/// If the library refuses.
pub fn season_json(season: &Season) -> Result<String, DrawError> {
    file_json(season)
}

/// Figures of every pass of a season in SI units, in long form: one line per alternative, pass,
/// scope (`alone`, `cumulative`) and region (`interior`, `whole`, `first_strip`, `last_strip`);
/// SI units and percent, times local standard; cells are empty where no water fell.
///
/// # Errors
/// If the library refuses.
pub fn passes_csv(season: &Season) -> Result<String, DrawError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(pass_columns()).map_err(DrawError::library)?;
    for record in season.records() {
        writer.write_record(record).map_err(DrawError::library)?;
    }
    let bytes = writer.into_inner().map_err(DrawError::library)?;
    String::from_utf8(bytes).map_err(DrawError::library)
}
