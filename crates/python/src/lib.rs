//! Evenfall as a Python module: arguments in, arrays and JSON out. The package around it, in
//! `python/evenfall`, makes dictionaries, tables and labeled grids of them.
//!
//! Nothing is computed here and no file is read: a scenario's files come through a callable. While the
//! core works the interpreter is free for other threads, progress is told on the calling thread and
//! Ctrl-C stops the work (`watch`). Grids are handed over without a copy.

#![expect(clippy::needless_pass_by_value, reason = "what Python hands over comes by value")]

mod answers;
mod failure;
mod rows;
mod scenario;
mod season;
mod study;
mod watch;
mod worth;

use pyo3::prelude::*;

/// What Python imports as `evenfall._evenfall`.
#[pymodule]
mod _evenfall {
    #[pymodule_export]
    use crate::answers::{catch_test, demo, schema};
    #[pymodule_export]
    use crate::rows::season_columns;
    #[pymodule_export]
    use crate::scenario::Scenario;
    #[pymodule_export]
    use crate::season::Season;
    #[pymodule_export]
    use crate::study::Study;
    #[pymodule_export]
    use crate::worth::Worth;

    use pyo3::prelude::*;

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        module.add("__version__", env!("CARGO_PKG_VERSION"))
    }
}
