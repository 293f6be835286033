//! The demo's report: all files are there, and their numbers agree with each other.

use crate::runs::{demo_report, files};
use crate::scenarios::demo;
use ndarray::Array2;
use ndarray_npy::read_npy;
use serde_json::Value;
use std::collections::HashMap;
use std::fs;

/// Pictures of the report, each as SVG and PNG.
const PICTURES: [&str; 7] =
    ["season-depth", "season-deviation", "course", "gain", "area-depth", "stops", "wind"];

fn text(name: &str) -> String {
    fs::read_to_string(demo_report().0.join(name)).unwrap()
}

fn summary() -> Value {
    serde_json::from_str(&text("summary.json")).unwrap()
}

#[test]
fn the_demo_writes_a_whole_report_and_says_where() {
    let (folder, said) = demo_report();
    let there = files(&folder);
    for name in ["report.html", "summary.json", "passes.csv", "scenario.json"] {
        assert!(there.contains(&name.to_owned()), "no {name} in {there:?}");
    }
    let page = folder.join("report.html").canonicalize().unwrap();
    assert!(said.contains(page.to_str().unwrap()), "{said}");
    assert_eq!(text("scenario.json"), demo());
    // Nothing of the making stays beside it.
    assert_eq!(crate::runs::names(folder.parent().unwrap()), ["evenfall-report"]);
}

#[test]
fn every_picture_is_there_as_svg_and_png_of_sane_size() {
    let (folder, _) = demo_report();
    let there = files(&folder);
    for picture in PICTURES {
        assert!(there.contains(&format!("pictures/{picture}.svg")), "{there:?}");
    }
    for name in there.iter().filter(|name| name.starts_with("pictures/")) {
        let bytes = fs::read(folder.join(name)).unwrap();
        assert!((1_000..4_000_000).contains(&bytes.len()), "{name}: {} bytes", bytes.len());
        if let Some(stem) = name.strip_suffix(".svg") {
            assert!(String::from_utf8(bytes).unwrap().contains("<svg"), "{name}");
            assert!(there.contains(&format!("{stem}.png")), "{name} has no PNG");
        } else {
            // Signature and header chunk: PNG specification (ISO/IEC 15948), sections 5.2 and 11.2.
            assert!(bytes.starts_with(b"\x89PNG\r\n\x1a\n") && &bytes[12..16] == b"IHDR", "{name}");
            assert!(bytes.ends_with(b"IEND\xaeB`\x82"), "{name}");
        }
    }
}

/// Christiansen's coefficient by the letter of its definition, percent.
fn cu_percent(depths_mm: &[f64]) -> f64 {
    let count = depths_mm.len() as f64;
    let mean = depths_mm.iter().sum::<f64>() / count;
    let deviation = depths_mm.iter().map(|depth| (depth - mean).abs()).sum::<f64>();
    100.0 * (1.0 - deviation / (count * mean))
}

/// Low-quarter uniformity by sorting all cells, percent.
fn du_lq_percent(depths_mm: &[f64]) -> f64 {
    let mut sorted = depths_mm.to_vec();
    sorted.sort_by(f64::total_cmp);
    let quarter = 0.25 * sorted.len() as f64;
    let whole = quarter.floor() as usize;
    let lowest = sorted[..whole].iter().sum::<f64>() + (quarter - whole as f64) * sorted[whole];
    let mean = sorted.iter().sum::<f64>() / sorted.len() as f64;
    100.0 * lowest / (quarter * mean)
}

#[test]
fn figures_calculated_from_the_grid_files_are_those_of_the_summary() {
    let summary = summary();
    let number = |value: &Value| value.as_f64().unwrap();
    let grid = &summary["grid"];
    let (cell_m, margin_m) = (number(&grid["cell_m"]), number(&grid["interior_margin_m"]));
    let margin = (margin_m / cell_m).round() as usize;
    let close = |found: f64, told: &Value| {
        let told = number(told);
        assert!((found - told).abs() <= 1e-9 * told.abs(), "{found} against {told}");
    };
    for (index, alternative) in summary["alternatives"].as_array().unwrap().iter().enumerate() {
        let name = format!("grids/season-depth-mm-{}.npy", index + 1);
        let depths_mm: Array2<f64> = read_npy(demo_report().0.join(name)).unwrap();
        // 1320 ft in cells of 2 ft.
        assert_eq!(depths_mm.dim(), (660, 660));
        assert_eq!(grid["cells_across"], 660);
        assert_eq!(grid["cells_along"], 660);
        let whole: Vec<f64> = depths_mm.iter().copied().collect();
        let inside = |(row, column): (usize, usize)| {
            [row, column].iter().all(|at| (margin..660 - margin).contains(at))
        };
        let interior: Vec<f64> = depths_mm
            .indexed_iter()
            .filter(|(at, _)| inside(*at))
            .map(|(_, depth)| *depth)
            .collect();
        let season = &alternative["season"];
        for (cells, told) in [(&whole, &season["whole"]), (&interior, &season["interior"])] {
            close(cu_percent(cells), &told["cu_percent"]);
            close(du_lq_percent(cells), &told["du_lq_percent"]);
            close(cells.len() as f64, &told["cells"]);
        }
        // A millimeter on a square meter is a litre.
        let water_m3 = 1e-3 * cell_m * cell_m * whole.iter().sum::<f64>();
        close(water_m3, &alternative["water"]["on_field_m3"]);
    }
}

#[test]
fn every_figure_of_the_pass_table_is_that_of_the_summary() {
    let summary = summary();
    let alternatives = summary["alternatives"].as_array().unwrap();
    let by_name: HashMap<&str, &Value> =
        alternatives.iter().map(|one| (one["name"].as_str().unwrap(), one)).collect();
    let table = text("passes.csv");
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let rows: Vec<HashMap<String, String>> = reader.deserialize().map(|row| row.unwrap()).collect();
    // Alternatives, passes, alone and cumulative, four regions.
    assert_eq!(rows.len(), 3 * 12 * 2 * 4);
    for row in &rows {
        let pass: usize = row["pass"].parse().unwrap();
        let told = &by_name[row["alternative"].as_str()]["passes"][pass - 1];
        assert_eq!(told["stop"], row["stop"].as_str());
        let told = &told[&row["scope"]][&row["region"]];
        let figures = row.iter().filter(|(key, _)| {
            key.ends_with("_percent") || (key.ends_with("_mm") && key.contains("depth"))
        });
        let mut checked = 0;
        for (key, value) in figures {
            let (found, told) = (value.parse::<f64>().unwrap(), told[key].as_f64().unwrap());
            // Half of the table's last digit.
            assert!((found - told).abs() <= 0.500001e-4, "{key} of {row:?}: {told}");
            checked += 1;
        }
        assert_eq!(checked, 8, "{row:?}");
    }
}

#[test]
fn the_water_of_each_alternative_adds_up() {
    for alternative in summary()["alternatives"].as_array().unwrap() {
        let of = |key: &str| alternative["water"][key].as_f64().unwrap();
        let found = of("on_field_m3") + of("off_field_m3") + of("losses_m3");
        assert!((found / of("gross_m3") - 1.0).abs() < 1e-9, "{alternative}");
        // 33 sprinklers of 4.98 gpm, 22 sets of 11.5 h, 12 passes.
        let gross_m3 = 33.0 * 4.98 * 3.785411784e-3 * 60.0 * 11.5 * 22.0 * 12.0;
        assert!((of("gross_m3") / gross_m3 - 1.0).abs() < 1e-9, "{alternative}");
    }
}

#[test]
fn the_page_asks_nothing_of_any_other_machine() {
    let page = text("report.html");
    for scheme in ["http://", "https://"] {
        for (at, _) in page.match_indices(scheme) {
            let before = &page[at.saturating_sub(16)..at];
            // Names of vocabularies are written like addresses but never fetched.
            let is_name = before.ends_with("xmlns=\"") || before.ends_with("xmlns:xlink=\"");
            assert!(is_name, "…{before}{}", &page[at..(at + 60).min(page.len())]);
        }
    }
    for attribute in [" src=\"", " href=\"", "url("] {
        for (at, _) in page.match_indices(attribute) {
            let rest = page[at + attribute.len()..].trim_start_matches(['"', '\'']);
            assert!(
                rest.starts_with('#') || rest.starts_with("data:"),
                "{attribute}{}",
                &rest[..40]
            );
        }
    }
    for word in ["<script src", "@import", "<iframe"] {
        assert!(!page.contains(word), "{word}");
    }
}

#[test]
fn the_page_tells_what_reproduces_it_and_that_the_demo_is_invented() {
    let (page, summary) = (text("report.html"), summary());
    for key in ["version", "scenario_sha256", "command", "title"] {
        let told = summary[key].as_str().unwrap();
        assert!(!told.is_empty() && page.contains(told), "{key}: {told}");
    }
    assert!(page.contains(&summary["seed"].to_string()));
    assert!(page.to_lowercase().contains("invented"));
    assert_eq!(summary["invented"], true);
}
