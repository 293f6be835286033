//! A study, block by block: whoever distributes work asks for parts and gathers them.

use crate::watch::watched;
use evenfall_core::season::{LandingMapCache, Progress};
use evenfall_study::{
    Gathered, PlanFile, Problems, Rows, Stopped, Study as Made, seen, write_part,
};
use pyo3::exceptions::{PyIndexError, PyRuntimeError, PyValueError};
use pyo3::prelude::*;
use pyo3::types::PyBytes;
use std::io::Write as _;

/// Many scenarios made of one, every alternative and season of each a row.
#[pyclass(frozen, module = "evenfall._evenfall")]
#[derive(Debug)]
pub(crate) struct Study {
    made: Made,
    load: Py<PyAny>,
    maps: LandingMapCache,
}

/// The file `name` by way of a Python callable.
fn file(load: &Py<PyAny>, name: &str) -> Result<Vec<u8>, String> {
    Python::attach(|py| {
        let found = load.call1(py, (name,)).and_then(|found| found.extract::<Vec<u8>>(py));
        found.map_err(|error| error.value(py).to_string())
    })
}

fn refused(problems: &Problems) -> PyErr {
    PyValueError::new_err(problems.all().join("\n"))
}

#[pymethods]
impl Study {
    #[new]
    #[pyo3(signature = (plan, base, load, list = None))]
    fn new(plan: &str, base: &str, load: Py<PyAny>, list: Option<&str>) -> PyResult<Self> {
        let plan = PlanFile::read(plan).map_err(|problems| refused(&problems))?;
        let get = |name: &str| file(&load, name);
        let version = env!("CARGO_PKG_VERSION");
        let made = Made::new(plan, base, list, &get, version).map_err(|p| refused(&p))?;
        Ok(Self { made, load, maps: LandingMapCache::for_a_study() })
    }

    /// Digest of the plan, its points, the scenario with its files, and the version.
    #[getter]
    fn digest(&self) -> &str {
        self.made.digest()
    }

    /// Number of points.
    #[getter]
    fn points(&self) -> usize {
        self.made.points()
    }

    /// Number of blocks.
    #[getter]
    fn blocks(&self) -> usize {
        self.made.blocks()
    }

    /// Rows to expect.
    #[getter]
    fn rows(&self) -> usize {
        self.made.rows()
    }

    /// What the study is, as JSON.
    fn about_json(&self) -> String {
        self.made.about()
    }

    /// Runs a block: the bytes of its part, a Parquet file.
    fn part<'py>(&self, py: Python<'py>, block: usize) -> PyResult<Bound<'py, PyBytes>> {
        if block >= self.made.blocks() {
            let last = self.made.blocks().saturating_sub(1);
            return Err(PyIndexError::new_err(format!("block {block} is not among 0 to {last}")));
        }
        let block = self.made.block(block);
        let get = |name: &str| file(&self.load, name);
        let found: Result<Rows, Stopped> = watched(py, None, |go_on| {
            let goes_on = || go_on(Progress { done: 0, total: 1 });
            self.made.run(&block, &get, &self.maps, &goes_on)
        })?;
        let rows = found.map_err(|stopped| PyRuntimeError::new_err(stopped.to_string()))?;
        let part = write_part(&self.made, &block, &rows, Vec::new());
        let part = part.map_err(|error| PyRuntimeError::new_err(error.to_string()))?;
        Ok(PyBytes::new(py, &part))
    }

    /// Number of the block that a part holds; nothing where it is not whole, or of another study.
    fn block_of(&self, part: Vec<u8>) -> Option<usize> {
        let found = seen(&bytes::Bytes::from(part))?;
        (found.digest == self.made.digest()).then_some(found.block)
    }

    /// All parts, in order of their blocks, as one table: Parquet and CSV.
    fn gather<'py>(
        &self,
        py: Python<'py>,
        parts: Vec<Vec<u8>>,
    ) -> PyResult<(Bound<'py, PyBytes>, Bound<'py, PyBytes>)> {
        let failed = |error: evenfall_study::GatherError| PyValueError::new_err(error.to_string());
        let mut all = Gathered::begin(&self.made, Vec::new(), Vec::new()).map_err(failed)?;
        for part in parts {
            all.add(bytes::Bytes::from(part)).map_err(failed)?;
        }
        let (_, table, mut lines) = all.finish().map_err(failed)?;
        lines.flush()?;
        Ok((PyBytes::new(py, &table), PyBytes::new(py, &lines)))
    }
}
