//! The edge strips pass by pass.

use crate::scenes::{Entry, Scene, inside};
use crate::table::{Group, Row, Table};
use evenfall_core::season::RegionFigures;
use evenfall_core::uniformity::Uniformity;
use evenfall_view::units::{Quantity, number, percent};

/// Depth of the first and the last strip in each pass and over the season.
pub(crate) fn strips(scene: &Scene<'_>) -> Table {
    let unit = scene.units.symbol(Quantity::Depth);
    let strip = scene.length(scene.outcome.edge_strip_m);
    let head = [
        "Pass",
        "Stop",
        &format!("First strip ({unit})"),
        "of the interior’s mean",
        &format!("Last strip ({unit})"),
        "of the interior’s mean",
    ];
    let group = |entry: &Entry<'_>| {
        let passes = entry.found.passes.iter().zip(&entry.found.plan.passes).enumerate();
        let mut rows: Vec<Row> = passes
            .map(|(at, (found, planned))| {
                row(scene, (at + 1).to_string(), planned.letter.to_string(), &found.alone)
            })
            .collect();
        let season = entry.found.season_figures();
        rows.push(row(scene, "Season".to_owned(), String::new(), season));
        Group { heading: entry.asked.name.clone(), rows }
    };
    let groups = scene.entries.iter().map(group).collect();
    let note = format!(
        "Mean depth of the strips of {strip} along the first and the last edge, over the whole \
         length of the pipe."
    );
    Table { groups, ..Table::new("At the edges, pass by pass", &head) }.with_note(&note)
}

fn row(scene: &Scene<'_>, name: String, stop: String, regions: &RegionFigures) -> Row {
    let mean_mm = inside(regions).map_or(f64::NAN, |figures| figures.mean_depth_mm);
    let cells = |strip: Option<Uniformity>| {
        let strip_mm = strip.map_or(0.0, |figures| figures.mean_depth_mm);
        let shown = scene.units.shown(Quantity::Depth, strip_mm);
        [number(shown, scene.units.depth_decimals()), percent(strip_mm / mean_mm, 0)]
    };
    let strips = [cells(regions.first_strip), cells(regions.last_strip)].concat();
    Row::new(name, [vec![stop], strips].concat())
}
