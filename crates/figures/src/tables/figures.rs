//! The figures of uniformity as tables: the season by region, the split, the rules of thumb.

use super::{Group, Row, Table};
use crate::report::{AlternativeRules, AreaTable};
use crate::scene::Scene;
use crate::units::{Quantity, UnitSystem, number, percent, points};
use evenfall_core::season::RegionFigures;
use evenfall_core::uniformity::Uniformity;

type Region = fn(&RegionFigures) -> Option<Uniformity>;

/// Every figure of the season, by region and alternative.
pub(crate) fn season(scene: &Scene<'_>) -> Table {
    let unit = scene.units.symbol(Quantity::Depth);
    let head = [
        "",
        "CU",
        "DUlq",
        "CV",
        &format!("Mean ({unit})"),
        &format!("Lowest ({unit})"),
        &format!("Highest ({unit})"),
        "Area under 75\u{a0}% of mean",
        "Area over 125\u{a0}% of mean",
    ];
    let strip = scene.length(scene.outcome.edge_strip_m);
    let margin = scene.length(scene.outcome.interior_margin_m);
    let regions: [(String, Region); 4] = [
        (format!("Interior (the field less {margin} at each edge)"), |r| r.interior),
        ("Whole field".to_owned(), |r| r.whole),
        (format!("First {strip} across, at the first outlet"), |r| r.first_strip),
        (format!("Last {strip} across, at the last outlet"), |r| r.last_strip),
    ];
    let rows = |region: Region| -> Vec<Row> {
        let each = scene.entries.iter();
        each.map(|e| Row::new(&e.asked.name, cells(scene, region(e.found.season_figures()))))
            .collect()
    };
    let groups = regions.into_iter();
    let groups = groups.map(|(heading, region)| Group { heading, rows: rows(region) }).collect();
    Table { groups, ..Table::new("Figures of the whole season, all passes together", &head) }
}

/// The eight cells of one set of figures.
fn cells(scene: &Scene<'_>, figures: Option<Uniformity>) -> Vec<String> {
    let Some(f) = figures else { return vec!["no water".to_owned(); 8] };
    figure_texts(&f, scene.units).to_vec()
}

/// CU, DUlq, CV, mean, lowest and highest depth, area under 75 and over 125 % of the mean.
pub(crate) fn figure_texts(f: &Uniformity, units: UnitSystem) -> [String; 8] {
    let depth = |mm| number(units.shown(Quantity::Depth, mm), units.depth_decimals());
    [
        percent(f.cu, 1),
        percent(f.du_lq, 1),
        percent(f.cv, 1),
        depth(f.mean_depth_mm),
        depth(f.lowest_depth_mm),
        depth(f.highest_depth_mm),
        percent(f.share_under_75, 1),
        percent(f.share_over_125, 1),
    ]
}

/// Systematic and wind-made unevenness.
pub(crate) fn split(scene: &Scene<'_>) -> Table {
    let head = [
        "",
        "S, systematic (points)",
        "R, the wind’s in one pass (points)",
        "Miss of the fit",
        "Whole cycles",
    ];
    let rows = scene.entries.iter().map(|e| {
        let cells = match e.found.split {
            Some(s) => vec![
                number(100.0 * s.systematic, 1),
                number(100.0 * s.random, 1),
                number(100.0 * s.miss, 2),
                s.cycles.to_string(),
            ],
            None => vec![
                "needs two whole cycles".to_owned(),
                String::new(),
                String::new(),
                String::new(),
            ],
        };
        Row::new(&e.asked.name, cells)
    });
    let note = "Fitted at whole cycles: (100 − CU)² after N passes ≈ S² + R²/N, in points of CU. S \
        comes back at the same places whatever the number of passes; R averages out as passes add up, \
        rotation or not.";
    Table::new("What stays and what averages out", &head).with_rows(rows.collect()).with_note(note)
}

/// Handbook rules beside the simulation.
pub(crate) fn rules(all: &[AlternativeRules]) -> Table {
    let head = ["", "Rule says", "Simulated", "Miss (points)", "Source"];
    let groups = all.iter().map(|of| Group {
        heading: of.alternative.clone(),
        rows: of
            .rules
            .iter()
            .map(|r| {
                let cells = vec![
                    percent(r.predicted, 1),
                    percent(r.simulated, 1),
                    points(r.miss(), 1),
                    r.source.to_owned(),
                ];
                Row::new(r.rule, cells)
            })
            .collect(),
    });
    let groups = groups.filter(|g| !g.rows.is_empty()).collect();
    let note = "Rules of thumb, not truth: the miss is rule less simulation.";
    Table { groups, ..Table::new("Rules of thumb beside the simulation", &head) }.with_note(note)
}

/// The normal-distribution area table beside the simulation.
pub(crate) fn area(all: &[AreaTable]) -> Table {
    let head = ["", "Normal distribution with the same CU", "Simulated", "Miss (points)"];
    let groups = all.iter().map(|of| Group {
        heading: of.alternative.clone(),
        rows: of
            .depths
            .iter()
            .map(|d| {
                let cells = vec![
                    percent(d.normal, 0),
                    percent(d.simulated, 0),
                    points(d.normal - d.simulated, 0),
                ];
                Row::new(format!("{} of the area", percent(d.area_share, 0)), cells)
            })
            .collect(),
    });
    let groups = groups.filter(|g| !g.rows.is_empty()).collect();
    let note = "Depth, % of the mean, that the stated share of the interior gets or exceeds.";
    Table { groups, ..Table::new("Share of the area adequately watered", &head) }.with_note(note)
}
