//! The baseline: a pinned numpy in a virtual environment of its own, and a worker that runs it.

use crate::Fault;
use std::fs;
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

/// Where this package's own files are.
pub const HERE: &str = env!("CARGO_MANIFEST_DIR");

/// The Python of a virtual environment with the pinned numpy.
#[derive(Clone, Debug)]
pub struct Python(PathBuf);

impl Python {
    /// Sets the environment up in `folder`, or takes the one there if it has what is pinned.
    ///
    /// # Errors
    /// No Python 3 with `venv`, or numpy cannot be installed; the message says what to do.
    pub fn set_up(folder: &Path) -> Result<Self, Fault> {
        let folder = folder.join("bench-python");
        let (bin, name) = if cfg!(windows) { ("Scripts", "python") } else { ("bin", "python3") };
        let python = folder.join(bin).join(name);
        let wanted = fs::read_to_string(Path::new(HERE).join("requirements.txt"))?;
        let installed = folder.join("installed.txt");
        if fs::read_to_string(&installed).is_ok_and(|found| found == wanted) && python.exists() {
            return Ok(Self(python));
        }
        let made = Command::new(name).args(["-m", "venv", "--clear"]).arg(&folder).status();
        if !made.is_ok_and(|status| status.success()) {
            return Err("the baseline needs Python 3.11 or later with its `venv` module: install \
                        it (Debian: `apt install python3-venv`) and try again"
                .into());
        }
        let pip = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r"];
        let status =
            Command::new(&python).args(pip).arg("requirements.txt").current_dir(HERE).status()?;
        if !status.success() {
            return Err(format!("pip could not install {} (see above)", wanted.trim()).into());
        }
        fs::write(installed, wanted)?;
        Ok(Self(python))
    }

    /// Runs `command` to its end; its wall time (s) and, where the system tells, peak memory (MB).
    ///
    /// # Errors
    /// The command cannot be run or fails.
    pub fn run_measured(&self, command: &[&Path]) -> Result<(f64, Option<f64>), Fault> {
        let script = Path::new(HERE).join("python/run_measured.py");
        let output =
            Command::new(&self.0).arg(script).args(command).stderr(Stdio::inherit()).output()?;
        let text = String::from_utf8(output.stdout)?;
        match text.split_whitespace().collect::<Vec<_>>()[..] {
            [seconds, megabytes] if output.status.success() => {
                Ok((seconds.parse()?, megabytes.parse().ok()))
            }
            _ => Err("the measured command failed (see above)".into()),
        }
    }
}

/// A numpy process that keeps its arrays from one command to the next.
#[derive(Debug)]
pub struct Worker {
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
}

impl Worker {
    /// Starts the process, held to one thread.
    ///
    /// # Errors
    /// It cannot be started.
    pub fn start(python: &Python) -> Result<Self, Fault> {
        let mut command = Command::new(&python.0);
        for variable in ["OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"] {
            command.env(variable, "1");
        }
        command.arg(Path::new(HERE).join("python/numpy_worker.py"));
        let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn()?;
        let to = child.stdin.take().ok_or("no pipe to numpy")?;
        let from = BufReader::new(child.stdout.take().ok_or("no pipe from numpy")?);
        Ok(Self { child, to, from })
    }

    /// Sends one command; the answer's text.
    ///
    /// # Errors
    /// What the worker reports, or that it is gone.
    pub fn call(&mut self, command: &str) -> Result<String, Fault> {
        writeln!(self.to, "{command}")?;
        let mut reply = String::new();
        self.from.read_line(&mut reply)?;
        match reply.strip_prefix("ok") {
            Some(answer) => Ok(answer.trim().to_owned()),
            None => Err(format!("numpy, asked to `{command}`: {}", reply.trim()).into()),
        }
    }

    /// Runs `work` so many times; its mean time, s.
    ///
    /// # Errors
    /// Those of [`Worker::call`].
    pub fn time(&mut self, work: &str, runs: usize) -> Result<f64, Fault> {
        Ok(self.call(&format!("{work} {runs}"))?.parse()?)
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        // It only waits for commands; nothing is lost by ending it.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
