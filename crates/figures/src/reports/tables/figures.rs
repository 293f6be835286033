//! The figures of uniformity as tables: the season by region, the split, the rules of thumb.

use crate::table::{Group, Row, Table};
use evenfall_view::units::{UnitSystem, percent, points};
use evenfall_view::{AlternativeRules, AreaTable, Figure, Figures, Regions, Season, Shown};

type Region = fn(&Regions) -> Option<&Figures>;

/// Every figure of the season, by region and alternative.
pub(crate) fn season(season: &Season, units: UnitSystem) -> Table {
    let heads = Figure::shown_in(Shown::Season).map(|figure| figure.head(units));
    let head: Vec<String> = std::iter::once(String::new()).chain(heads).collect();
    let dry = vec!["no water".to_owned(); head.len() - 1];
    let (strip, margin) = (&season.grid.edge_strip.text, &season.grid.interior_margin.text);
    let regions: [(String, Region); 4] = [
        (format!("Interior (the field less {margin} at each edge)"), |r| r.interior.as_ref()),
        ("Whole field".to_owned(), |r| r.whole.as_ref()),
        (format!("First {strip} across, at the first outlet"), |r| r.first_strip.as_ref()),
        (format!("Last {strip} across, at the last outlet"), |r| r.last_strip.as_ref()),
    ];
    let rows = |region: Region| -> Vec<Row> {
        let cells = |regions| region(regions).map(|figures| figures.cells(Shown::Season));
        let each = season.alternatives.iter();
        each.map(|own| Row::new(&own.name, cells(&own.season).unwrap_or_else(|| dry.clone())))
            .collect()
    };
    let groups = regions.into_iter();
    let groups = groups.map(|(heading, region)| Group { heading, rows: rows(region) }).collect();
    Table { head, groups, ..Table::new("Figures of the whole season, all passes together", &[]) }
}

/// Systematic and random unevenness.
pub(crate) fn split(season: &Season) -> Table {
    let head = [
        "",
        "Systematic unevenness (S, points)",
        "Random (wind) unevenness of one pass (R, points)",
        "Residual (points)",
        "Whole cycles",
    ];
    let rows = season.alternatives.iter().map(|own| {
        let cells = match &own.split {
            Some(split) => {
                let residual = split.residual.as_ref().map_or_else(String::new, |r| r.text.clone());
                split.texts().into_iter().chain([residual, split.cycles.to_string()]).collect()
            }
            None => vec![
                "needs two whole cycles".to_owned(),
                String::new(),
                String::new(),
                String::new(),
            ],
        };
        Row::new(&own.name, cells)
    });
    let note = "From the cells: R from how whole cycles differ at the same place, S from what all of them \
        have in common, each with its 90 % range. After N passes (100 − CU)² ≈ S² + R²/N, in points of CU \
        of normal depths; the residual is how far that misses CU. S stays whatever the number of passes. \
        R averages out as passes add up, with a rotation or without.";
    Table::new("Systematic and random unevenness", &head).with_rows(rows.collect()).with_note(note)
}

/// Handbook rules beside the simulation.
pub(crate) fn rules(all: &[AlternativeRules]) -> Table {
    let head = ["", "Rule says", "Simulated", "Difference (points)", "Source"];
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
    let note = "Rules of thumb, not truth: the difference is rule less simulation.";
    Table { groups, ..Table::new("Rules of thumb beside the simulation", &head) }.with_note(note)
}

/// The normal-distribution area table beside the simulation.
pub(crate) fn area(all: &[AreaTable]) -> Table {
    let head = ["", "Normal distribution with the same CU", "Simulated", "Difference (points)"];
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
