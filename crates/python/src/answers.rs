//! What needs no scenario: the demo's text, the schema of scenario files, the figures of a catch test.

use crate::failure;
use evenfall_core::catch::Kind;
use evenfall_core::catch::confidence::limits;
use evenfall_core::ensemble::Interval;
use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;
use serde_json::json;

/// The text of the demo's scenario: an invented field.
#[pyfunction]
pub(crate) fn demo() -> &'static str {
    evenfall_scenario::demo()
}

/// The JSON schema of scenario files.
#[pyfunction]
pub(crate) fn schema() -> String {
    evenfall_scenario::schema()
}

/// The table of a catch test, and CU and DUlq of cans under laterals with their intervals, as JSON.
#[pyfunction]
#[pyo3(signature = (table, name, confidence_level = 0.9))]
pub(crate) fn catch_test(table: &[u8], name: &str, confidence_level: f64) -> PyResult<String> {
    if !(0.5..1.0).contains(&confidence_level) {
        let problem = format!("confidence_level is {confidence_level}. Expected 0.5 to below 1");
        return Err(PyValueError::new_err(problem));
    }
    let file = evenfall_scenario::catch::read(table, name)
        .map_err(|found| failure::problems(&found, name))?;
    let test = &file.test;
    let under_laterals = matches!(&test.kind, Kind::Lines(lines) if lines.at_m.len() > 1);
    let found = under_laterals.then(|| limits(&test.depths_mm(), confidence_level)).transpose();
    let found = found.map_err(|problem| PyValueError::new_err(problem.to_string()))?;
    let interval =
        |found: Option<Interval>| found.map(|ends| [100.0 * ends.low, 100.0 * ends.high]);
    let cans: Vec<_> =
        test.readings().into_iter().map(|(x, y, depth)| json!([x, y, depth])).collect();
    let all = json!({
        "title": test.title,
        "missing": test.missing(),
        "mean_wind_m_s": test.mean_wind().map(|(speed_m_s, _)| speed_m_s),
        "confidence_level_percent": 100.0 * confidence_level,
        "cu_percent": found.as_ref().map(|found| 100.0 * found.figures.cu),
        "cu_interval_percent": found.as_ref().and_then(|found| interval(found.cu)),
        "du_lq_percent": found.as_ref().map(|found| 100.0 * found.figures.du_lq),
        "du_lq_interval_percent": found.as_ref().and_then(|found| interval(found.du_lq)),
        "cans_x_y_m_depth_mm": cans,
        "notes": file.warnings,
    });
    Ok(all.to_string())
}
