//! Many seasons as Python gets them: the balance as JSON, every season's figures, mean maps.

use crate::failure;
use crate::rows::rows;
use evenfall_core::grid::DepthGrid;
use evenfall_core::model::Scenario as Model;
use evenfall_core::worth::{Economics, Worth as Found};
use evenfall_figures::{no_number_outside, worth_json};
use numpy::PyArray2;
use pyo3::exceptions::PyIndexError;
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// What the alternatives are worth.
#[pyclass(frozen, module = "evenfall._evenfall")]
#[derive(Debug)]
pub(crate) struct Worth {
    /// What a report has in `worth.json`.
    #[pyo3(get)]
    summary_json: String,
    /// Side of a cell, m.
    #[pyo3(get)]
    cell_m: f64,
    /// Every season and alternative a row, as columns.
    #[pyo3(get)]
    columns: Py<PyDict>,
    maps: Vec<[Py<PyArray2<f64>>; 2]>,
}

#[pymethods]
impl Worth {
    /// Mean over the seasons of the yield as a fraction of that without stress: [y, x].
    fn yield_fraction(&self, py: Python<'_>, alternative: usize) -> PyResult<Py<PyArray2<f64>>> {
        self.map(py, alternative, 0)
    }

    /// Mean over the seasons of the water lost below the roots, mm: [y, x].
    fn percolation_mm(&self, py: Python<'_>, alternative: usize) -> PyResult<Py<PyArray2<f64>>> {
        self.map(py, alternative, 1)
    }
}

impl Worth {
    fn map(&self, py: Python<'_>, alternative: usize, which: usize) -> PyResult<Py<PyArray2<f64>>> {
        let found = self.maps.get(alternative).map(|maps| maps[which].clone_ref(py));
        found.ok_or_else(|| PyIndexError::new_err(format!("there is no alternative {alternative}")))
    }

    /// The balance that came out, its maps handed over to Python.
    pub(crate) fn of(
        py: Python<'_>,
        model: &Model,
        mut found: Found,
        economics: &Economics,
    ) -> PyResult<Self> {
        let summary_json =
            worth_json(model, &found, economics).map_err(|error| failure::written(&error))?;
        let columns = rows(py, model, &found.seasons)?.unbind();
        let grid = |mut grid: DepthGrid| {
            no_number_outside(grid.view_mut(), model.field.boundary.as_ref());
            PyArray2::from_owned_array(py, grid).unbind()
        };
        let maps = std::mem::take(&mut found.seasons.maps);
        let maps =
            maps.into_iter().map(|maps| [grid(maps.yield_fraction), grid(maps.percolation_mm)]);
        let cell_m = model.field.grid.cell_m;
        Ok(Self { summary_json, cell_m, columns, maps: maps.collect() })
    }
}
