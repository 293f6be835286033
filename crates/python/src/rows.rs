//! Every season a row: columns as arrays, with what each is.

use evenfall_core::model::Scenario as Model;
use evenfall_core::seasons::Seasons;
use evenfall_view::SEASON_COLUMNS;
use numpy::PyArray1;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};

/// The columns of a table of seasons: name, unit, what it is.
#[pyfunction]
pub(crate) fn season_columns() -> Vec<(&'static str, &'static str, &'static str)> {
    SEASON_COLUMNS.iter().map(|column| (column.key, column.unit, column.about)).collect()
}

/// A row for each season (numbered from 1) and alternative, as columns; NaN where there is no number.
pub(crate) fn rows<'py>(
    py: Python<'py>,
    model: &Model,
    seasons: &Seasons,
) -> PyResult<Bound<'py, PyDict>> {
    let each = || (seasons.first + 1..).zip(&seasons.figures);
    let numbers: Vec<i64> =
        each().flat_map(|(number, all)| all.iter().map(move |_| number as i64)).collect();
    let names = || model.alternatives.iter().map(|one| one.name.as_str());
    let names: Vec<&str> = seasons.figures.iter().flat_map(|_| names()).collect();
    let columns = PyDict::new(py);
    columns.set_item("season", PyArray1::from_vec(py, numbers))?;
    columns.set_item("alternative", PyList::new(py, names)?)?;
    for column in SEASON_COLUMNS {
        let value = |figures| column.value(figures).unwrap_or(f64::NAN);
        let values: Vec<f64> = seasons.figures.iter().flatten().map(value).collect();
        columns.set_item(column.key, PyArray1::from_vec(py, values))?;
    }
    Ok(columns)
}
