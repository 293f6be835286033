//! Stopping: Ctrl-C, a request to end, or a terminal that is closed.
//!
//! The first one raises a flag that the work looks at between its steps. A step may be long, so who has
//! not stopped by itself soon after is ended, its drafts removed; names are given to finished work in
//! one piece or not at all. Work that keeps what it has finished (`patient`) is given its time. The
//! second Ctrl-C ends at once; its draft, if one stays, is removed by the next run.

use crate::failure::Failure;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use std::thread;
use std::time::Duration;

/// How long the work may take to stop by itself.
const GRACE: Duration = Duration::from_millis(600);

/// The flag, and why nobody listens where that is so.
static FLAG: OnceLock<(Arc<AtomicBool>, Option<String>)> = OnceLock::new();
/// Whether a stop was asked for already, whatever became of the flag.
static ASKED: AtomicBool = AtomicBool::new(false);
static PATIENT: AtomicBool = AtomicBool::new(false);
static DRAFTS: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());
static PLACING: Mutex<()> = Mutex::new(());
/// Whether something was given its name: then there is a result, and only its end is to be told.
static PLACED: AtomicBool = AtomicBool::new(false);

/// The flag that a request to stop raises; from now on requests are listened to.
pub(crate) fn flag() -> Result<Arc<AtomicBool>, Failure> {
    let listen =
        || (Arc::default(), ctrlc::set_handler(asked).err().map(|error| error.to_string()));
    match FLAG.get_or_init(listen) {
        (flag, None) => Ok(Arc::clone(flag)),
        (_, Some(error)) => Err(Failure::Fault(format!("cannot listen for Ctrl-C: {error}"))),
    }
}

/// From now on what is finished is kept where the work is stopped, and written without haste.
pub(crate) fn patient() {
    PATIENT.store(true, Ordering::SeqCst);
}

fn asked() {
    if ASKED.swap(true, Ordering::SeqCst) {
        end("at once, as asked twice");
    }
    if let Some((flag, _)) = FLAG.get() {
        flag.store(true, Ordering::SeqCst);
    }
    if PATIENT.load(Ordering::SeqCst) {
        // If standard error is gone there is nobody to tell.
        let _ = writeln!(
            std::io::stderr(),
            "Stopping: what is finished is kept. Press Ctrl-C again to end at once."
        );
        return;
    }
    thread::spawn(|| {
        thread::sleep(GRACE);
        if !PATIENT.load(Ordering::SeqCst) {
            end("in the middle of a step");
        }
    });
}

/// Ends the program; what was about to get its name gets it first.
fn end(when: &str) -> ! {
    let placing = placing();
    if PLACED.load(Ordering::SeqCst) {
        drop(placing);
        thread::sleep(GRACE);
    }
    let drafts = DRAFTS.lock().unwrap_or_else(PoisonError::into_inner);
    for draft in drafts.iter() {
        // The work may just be adding a file.
        let _ = (0..3).any(|_| std::fs::remove_dir_all(draft).is_ok());
    }
    let nothing = if drafts.is_empty() { "" } else { ". Nothing was written" };
    let _ = writeln!(std::io::stderr(), "stopped: {when}{nothing}");
    std::process::exit(130);
}

/// Held while finished work gets its name: nobody ends the program meanwhile.
pub(crate) fn placing() -> MutexGuard<'static, ()> {
    PLACING.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Notes a draft that goes where the program is ended.
pub(crate) fn begun(draft: &Path) {
    DRAFTS.lock().unwrap_or_else(PoisonError::into_inner).push(draft.to_owned());
}

/// Finished work has its name.
pub(crate) fn placed() {
    PLACED.store(true, Ordering::SeqCst);
}

/// The draft has its name, or is gone.
pub(crate) fn ended(draft: &Path) {
    DRAFTS.lock().unwrap_or_else(PoisonError::into_inner).retain(|known| known != draft);
}
