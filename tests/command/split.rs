//! The split of unevenness, told from the cells: (1 − CU)² ≈ S² + R²/N at whole cycles, against the
//! passes of the demo.

use crate::runs::demo_report;
use serde_json::Value;
use std::fs;

/// Cumulative CU of the interior at whole cycles: passes so far, CU in percent.
fn at_whole_cycles(alternative: &str, cycle: usize) -> Vec<(f64, f64)> {
    let text = fs::read_to_string(demo_report().0.join("passes.csv")).unwrap();
    let mut lines = text.lines().map(|line| line.split(',').collect::<Vec<_>>());
    let head = lines.next().unwrap();
    let column = |name: &str| head.iter().position(|found| *found == name).unwrap();
    let wanted = [("alternative", alternative), ("scope", "cumulative"), ("region", "interior")];
    let pass = |row: &Vec<&str>| row[column("pass")].parse::<usize>().unwrap();
    lines
        .filter(|row| wanted.iter().all(|(name, value)| row[column(name)] == *value))
        .filter(|row| pass(row).is_multiple_of(cycle))
        .map(|row| (pass(&row) as f64, row[column("cu_percent")].parse().unwrap()))
        .collect()
}

fn worst_miss(points: &[(f64, f64)], systematic_square: f64, random_square: f64) -> f64 {
    let predicted = |passes: f64| 100.0 - (systematic_square + random_square / passes).sqrt();
    points.iter().map(|(passes, cu)| (predicted(*passes) - cu).abs()).fold(0.0, f64::max)
}

/// The demo's alternatives: name, passes of a cycle, S and R in points.
fn alternatives() -> Vec<(String, usize, f64, f64)> {
    let text = fs::read_to_string(demo_report().0.join("summary.json")).unwrap();
    let summary: Value = serde_json::from_str(&text).unwrap();
    let found = summary["alternatives"].as_array().unwrap().iter().map(|found| {
        let split = |key: &str| found["split"][key].as_f64().unwrap();
        let cycle = found["cycle_passes"].as_u64().unwrap() as usize;
        let name = found["name"].as_str().unwrap().to_owned();
        (name, cycle, split("systematic_points"), split("random_points"))
    });
    found.collect()
}

#[test]
fn the_split_tells_cumulative_cu_at_every_whole_cycle_within_a_point() {
    for (name, cycle, systematic, random) in alternatives() {
        let points = at_whole_cycles(&name, cycle);
        assert_eq!(points.len(), 12 / cycle, "{name}");
        let miss = worst_miss(&points, systematic.powi(2), random.powi(2));
        assert!(miss < 1.0, "{name}: {miss}");
    }
}

#[test]
fn the_wind_s_part_is_there_in_every_alternative_and_about_the_same() {
    let random: Vec<f64> = alternatives().into_iter().map(|(.., random)| random).collect();
    let (least, most) =
        random.iter().fold((f64::MAX, 0.0), |(l, m): (f64, f64), r| (l.min(*r), m.max(*r)));
    assert!(least > 1.0 && most < 1.15 * least, "{random:?}");
}

#[test]
fn both_parts_have_ranges_that_hold_them() {
    let text = fs::read_to_string(demo_report().0.join("summary.json")).unwrap();
    let summary: Value = serde_json::from_str(&text).unwrap();
    for found in summary["alternatives"].as_array().unwrap() {
        for part in ["systematic", "random"] {
            let range = &found["split"][format!("{part}_range")];
            let end = |key: &str| range[key].as_f64().unwrap();
            let value = found["split"][format!("{part}_points")].as_f64().unwrap();
            assert!(end("low_points") <= value && value <= end("high_points"), "{found}");
        }
    }
}
