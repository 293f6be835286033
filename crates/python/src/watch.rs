//! Long work: the interpreter is free meanwhile, progress is told, Ctrl-C stops it.

use evenfall_core::season::{GoOn, Progress};
use pyo3::exceptions::PyRuntimeError;
use pyo3::prelude::*;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

/// How often signals are looked at and progress is told.
const LOOK: Duration = Duration::from_millis(100);

/// Does `work` on another thread; `progress` is called with steps done and steps in all. What Python
/// raises meanwhile (Ctrl-C, or the callable itself) stops the work and is raised here.
pub(crate) fn watched<T: Send>(
    py: Python<'_>,
    progress: Option<&Py<PyAny>>,
    work: impl FnOnce(GoOn<'_>) -> T + Send,
) -> PyResult<T> {
    let stopped = AtomicBool::new(false);
    let at = [AtomicUsize::new(0), AtomicUsize::new(0)];
    let go_on = |step: Progress| {
        at[0].store(step.done, Ordering::SeqCst);
        at[1].store(step.total, Ordering::SeqCst);
        !stopped.load(Ordering::SeqCst)
    };
    let mut told = 0;
    let mut look = |py: Python<'_>| -> PyResult<()> {
        py.check_signals()?;
        let [done, total] = [&at[0], &at[1]].map(|count| count.load(Ordering::SeqCst));
        if let (Some(progress), true) = (progress, done != told) {
            told = done;
            progress.call1(py, (done, total))?;
        }
        Ok(())
    };
    py.detach(|| {
        thread::scope(|scope| {
            let (over, wait) = channel::<()>();
            let go_on: GoOn<'_> = &go_on;
            let worker = scope.spawn(move || {
                // Dropped with the work, also where it panics.
                let _over = over;
                work(go_on)
            });
            let mut raised = Ok(());
            while wait.recv_timeout(LOOK) == Err(RecvTimeoutError::Timeout) {
                if raised.is_ok() {
                    raised = Python::attach(&mut look);
                    stopped.store(raised.is_err(), Ordering::SeqCst);
                }
            }
            let found = worker.join();
            raised?;
            Python::attach(&mut look)?;
            found.map_err(|_| PyRuntimeError::new_err("a fault of Evenfall: the work panicked"))
        })
    })
}
