//! What can go wrong, as Python's exceptions.

use evenfall_core::season::SeasonError;
use evenfall_core::worth::WorthError;
use evenfall_figures::DrawError;
use evenfall_scenario::Problems;
use pyo3::PyErr;
use pyo3::exceptions::{PyRuntimeError, PyValueError};
use serde_json::json;

pyo3::import_exception!(evenfall.errors, ScenarioError);

/// A scenario or table that does not hold: all its problems at once, as text and one by one.
pub(crate) fn problems(found: &Problems, name: &str) -> PyErr {
    let one = |issue: &evenfall_scenario::Issue| {
        json!({
            "line": found.line(issue),
            "pointer": issue.pointer,
            "problem": issue.problem,
            "allowed": issue.allowed,
            "hint": issue.hint,
        })
    };
    let list: Vec<_> = found.issues().iter().map(one).collect();
    ScenarioError::new_err((found.render(name, false), json!(list).to_string()))
}

/// What a sound scenario asks for and cannot be computed.
pub(crate) fn season(error: &SeasonError) -> PyErr {
    PyValueError::new_err(error.to_string())
}

/// The same of many seasons.
pub(crate) fn worth(error: &WorthError) -> PyErr {
    PyValueError::new_err(error.to_string())
}

/// A result that could not be written down: a fault of ours.
pub(crate) fn written(error: &DrawError) -> PyErr {
    PyRuntimeError::new_err(format!("a fault of Evenfall: {error}"))
}
