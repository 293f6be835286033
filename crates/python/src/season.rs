//! One season as Python gets it: its summary as JSON, its depths as arrays.

use crate::failure;
use evenfall_core::grid::Grid;
use evenfall_core::model::Scenario as Model;
use evenfall_core::schedule::Plan;
use evenfall_core::season::{Laid, Outcome};
use evenfall_figures::{no_number_outside, season_json};
use evenfall_view::{ReportNotes, Season as View, UnitSystem};
use ndarray::{Array3, Axis};
use numpy::{PyArray2, PyArray3};
use pyo3::exceptions::PyIndexError;
use pyo3::prelude::*;
use std::sync::Arc;

/// A season of every alternative.
#[pyclass(frozen, module = "evenfall._evenfall")]
#[derive(Debug)]
pub(crate) struct Season {
    /// What a season's report has in `summary.json`.
    #[pyo3(get)]
    summary_json: String,
    /// Side of a cell, m.
    #[pyo3(get)]
    cell_m: f64,
    depth_mm: Vec<Py<PyArray2<f64>>>,
    pass_depth_mm: Vec<Py<PyArray3<f64>>>,
}

#[pymethods]
impl Season {
    /// Net depth of the whole season, mm: [y, x]; NaN outside the field's boundary.
    fn depth_mm(&self, py: Python<'_>, alternative: usize) -> PyResult<Py<PyArray2<f64>>> {
        let found = self.depth_mm.get(alternative);
        found.map(|grid| grid.clone_ref(py)).ok_or_else(|| missing(alternative))
    }

    /// Net depth of every pass, mm: [pass, y, x]; NaN outside the field's boundary, nothing where passes were not kept.
    fn pass_depth_mm(
        &self,
        py: Python<'_>,
        alternative: usize,
    ) -> PyResult<Option<Py<PyArray3<f64>>>> {
        if self.pass_depth_mm.is_empty() {
            return Ok(None);
        }
        let found = self.pass_depth_mm.get(alternative);
        found.map(|grids| Some(grids.clone_ref(py))).ok_or_else(|| missing(alternative))
    }
}

fn missing(alternative: usize) -> PyErr {
    PyIndexError::new_err(format!("there is no alternative {alternative}"))
}

impl Season {
    /// Room for the depths of every pass of `plans`.
    pub(crate) fn room(model: &Model, plans: &[Plan]) -> Kept {
        let Grid { cells_across, cells_along, .. } = model.field.grid;
        let room = |plan: &Plan| Array3::zeros((plan.passes.len(), cells_across, cells_along));
        Kept(plans.iter().map(room).collect())
    }

    /// The season that came out, its grids handed over to Python.
    pub(crate) fn of(
        py: Python<'_>,
        model: &Model,
        outcome: Outcome,
        kept: Option<Kept>,
        notes: &ReportNotes,
    ) -> PyResult<Self> {
        let view = View::new(model, &outcome, notes, UnitSystem::Si);
        let summary_json = season_json(&view).map_err(|error| failure::written(&error))?;
        let boundary = model.field.boundary.as_ref();
        let last = |found: evenfall_core::season::AlternativeOutcome| {
            let mut depth_mm = Arc::unwrap_or_clone(found.season_mm);
            no_number_outside(depth_mm.view_mut(), boundary);
            PyArray2::from_owned_array(py, depth_mm).unbind()
        };
        let depth_mm = outcome.alternatives.into_iter().map(last).collect();
        let mut kept = kept.map_or_else(Vec::new, |kept| kept.0);
        for pass_mm in kept.iter_mut().flat_map(|grids| grids.outer_iter_mut()) {
            no_number_outside(pass_mm, boundary);
        }
        let passes = kept.into_iter().map(|grids| PyArray3::from_owned_array(py, grids).unbind());
        let cell_m = model.field.grid.cell_m;
        Ok(Self { summary_json, cell_m, depth_mm, pass_depth_mm: passes.collect() })
    }
}

/// Depths of every pass by alternative, mm.
#[derive(Debug)]
pub(crate) struct Kept(Vec<Array3<f64>>);

impl Kept {
    /// Keeps a pass as it is laid.
    pub(crate) fn keep(&mut self, laid: Laid<'_>) {
        if let Some(grids) = self.0.get_mut(laid.alternative) {
            grids.index_axis_mut(Axis(0), laid.pass).assign(laid.pass_mm);
        }
    }
}
