//! The one way to the disk for all that is written: every step goes through here, so that a test can
//! make any of them fail, or end the program at it, and see that nothing is lost.
//!
//! In builds for tests `EVENFALL_FAULT=fail:7` makes step 7 fail as a full disk does, `stay:7` every step
//! from 7 on, and `die:7` ends the program at it; `count:0` says at the end how many there were. Builds
//! for use know nothing of it.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::Path;

/// Makes a folder that must not be there yet.
pub(crate) fn make_folder(path: &Path) -> io::Result<()> {
    fault::step()?;
    fs::create_dir(path)
}

/// Makes a folder and those above it, where they are not there.
pub(crate) fn make_folders(path: &Path) -> io::Result<()> {
    if path.is_dir() {
        return Ok(());
    }
    fault::step()?;
    fs::create_dir_all(path)
}

/// Makes a file that must not be there yet.
pub(crate) fn create(path: &Path) -> io::Result<File> {
    fault::step()?;
    File::create_new(path)
}

/// Writes all of `bytes`.
pub(crate) fn write(file: &mut File, bytes: &[u8]) -> io::Result<()> {
    fault::step()?;
    file.write_all(bytes)
}

/// A file that is written piece by piece.
#[derive(Debug)]
pub(crate) struct Pieces<'a>(pub(crate) &'a File);

impl io::Write for Pieces<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        fault::step()?;
        self.0.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

/// Waits until a file is on the disk; some disks tell that they are full only now.
pub(crate) fn sync(file: &File) -> io::Result<()> {
    fault::step()?;
    file.sync_all()
}

/// Forces the names in a folder to the disk, where the system has that.
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    fault::step()?;
    // The parent of a bare name is the folder where one stands.
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

/// Gives a file another name, in place of what has it.
pub(crate) fn rename(from: &Path, to: &Path) -> io::Result<()> {
    fault::step()?;
    fs::rename(from, to)
}

/// Gives a file or folder a name that nothing has; never replaces anything where the system can tell.
pub(crate) fn rename_new(from: &Path, to: &Path) -> io::Result<()> {
    fault::step()?;
    #[cfg(any(target_os = "linux", target_vendor = "apple"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        use rustix::io::Errno;
        match renameat_with(CWD, from, CWD, to, RenameFlags::NOREPLACE) {
            // Not every disk has it.
            Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => {}
            other => return other.map_err(io::Error::from),
        }
    }
    if to.symlink_metadata().is_ok() {
        return Err(io::ErrorKind::AlreadyExists.into());
    }
    fs::rename(from, to)
}

/// Lets two folders change names in one step; says so where the system or the disk cannot.
pub(crate) fn exchange(one: &Path, other: &Path) -> io::Result<bool> {
    fault::step()?;
    #[cfg(any(target_os = "linux", target_vendor = "apple"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        use rustix::io::Errno;
        match renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE) {
            Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => Ok(false),
            Err(error) => Err(error.into()),
            Ok(()) => Ok(true),
        }
    }
    #[cfg(not(any(target_os = "linux", target_vendor = "apple")))]
    {
        let _ = (one, other);
        Ok(false)
    }
}

/// Gives a file a second name.
pub(crate) fn link(from: &Path, to: &Path) -> io::Result<()> {
    fault::step()?;
    fs::hard_link(from, to)
}

/// Removes a file.
pub(crate) fn remove(path: &Path) -> io::Result<()> {
    fault::step()?;
    fs::remove_file(path)
}

/// Removes a folder with all that is in it.
pub(crate) fn remove_folder(path: &Path) -> io::Result<()> {
    fault::step()?;
    fs::remove_dir_all(path)
}

pub(crate) use fault::tell_count;

#[cfg(not(debug_assertions))]
mod fault {
    pub(super) fn step() -> std::io::Result<()> {
        Ok(())
    }
    pub(crate) fn tell_count() {}
}

#[cfg(debug_assertions)]
mod fault {
    use std::io::{self, Write as _};
    use std::sync::OnceLock;
    use std::sync::atomic::{AtomicUsize, Ordering};

    static STEPS: AtomicUsize = AtomicUsize::new(0);

    /// What happens, and at which step (from 1).
    fn wish() -> Option<&'static (String, usize)> {
        static WISH: OnceLock<Option<(String, usize)>> = OnceLock::new();
        let read = || {
            let told = std::env::var("EVENFALL_FAULT").ok()?;
            let (what, step) = told.split_once(':')?;
            Some((what.to_owned(), step.parse().ok()?))
        };
        WISH.get_or_init(read).as_ref()
    }

    #[cfg(test)]
    thread_local! {
        /// Steps of this thread until one fails, and whether all after it fail too.
        pub(crate) static ARMED: std::cell::Cell<Option<(usize, bool)>> =
            const { std::cell::Cell::new(None) };
    }

    /// One step; fails or ends the program where that is wished for.
    pub(super) fn step() -> io::Result<()> {
        #[cfg(test)]
        if let Some((left, stays)) = ARMED.get() {
            if left == 0 {
                ARMED.set(stays.then_some((0, true)));
                return Err(injected());
            }
            ARMED.set(Some((left - 1, stays)));
        }
        let Some((what, at)) = wish() else { return Ok(()) };
        let step = 1 + STEPS.fetch_add(1, Ordering::SeqCst);
        match what.as_str() {
            "fail" if step == *at => Err(injected()),
            "stay" if step >= *at => Err(injected()),
            "die" if step == *at => std::process::abort(),
            _ => Ok(()),
        }
    }

    fn injected() -> io::Error {
        io::Error::new(io::ErrorKind::StorageFull, "a fault that a test asked for")
    }

    /// Says how many steps there were, where that was asked for.
    pub(crate) fn tell_count() {
        if wish().is_some() {
            let steps = STEPS.load(Ordering::SeqCst);
            let _ = writeln!(io::stderr(), "disk steps: {steps}");
        }
    }
}

/// Makes step `left` of this thread (from 0) fail, and all after it where `stays`.
#[cfg(test)]
pub(crate) fn arm(left: usize, stays: bool) {
    fault::ARMED.set(Some((left, stays)));
}

/// Ends that; whether the step was reached.
#[cfg(test)]
pub(crate) fn disarm() -> bool {
    !matches!(fault::ARMED.replace(None), Some((left, _)) if left > 0)
}
