//! One step of a chore: a program that is run where everybody can see it.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

/// A program to run, with a name for it.
#[derive(Debug)]
pub(crate) struct Step {
    pub(crate) name: &'static str,
    command: Command,
    shown: String,
}

impl Step {
    /// A step that runs `program` with `words`.
    pub(crate) fn new(name: &'static str, program: &str, words: &[&str]) -> Self {
        let mut command = Command::new(program);
        command.args(words);
        Self { name, command, shown: [&[program], words].concat().join(" ") }
    }

    /// A step that runs the same cargo as this program.
    pub(crate) fn cargo(name: &'static str, words: &[&str]) -> Self {
        let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
        let shown = format!("cargo {}", words.join(" "));
        Self { shown, ..Self::new(name, &cargo, words) }
    }

    /// The same with a variable of the environment set.
    pub(crate) fn with(mut self, key: &str, value: &str) -> Self {
        self.command.env(key, value);
        self.shown = format!("{key}=\"{value}\" {}", self.shown);
        self
    }

    /// The same in another folder.
    pub(crate) fn within(mut self, folder: &Path) -> Self {
        self.command.current_dir(folder);
        self.shown = format!("(in {}) {}", folder.display(), self.shown);
        self
    }

    /// Says what it runs, runs it, and says how long it took; its output goes where ours goes.
    ///
    /// # Errors
    /// The exit code of a step that fails; 1 if it cannot be started or was killed.
    pub(crate) fn run(mut self) -> Result<(), u8> {
        say(&format!("\n== {}: {}", self.name, self.shown));
        let started = Instant::now();
        let status = self.command.status();
        if status.is_ok() {
            say(&format!("== {}: took {} s", self.name, started.elapsed().as_secs()));
        }
        match status {
            Ok(status) if status.success() => Ok(()),
            Ok(status) => Err(status.code().and_then(|code| u8::try_from(code).ok()).unwrap_or(1)),
            Err(error) => {
                say(&format!("cannot start it: {error}"));
                Err(1)
            }
        }
    }

    /// Whether it runs well, with nothing shown.
    pub(crate) fn works(mut self) -> bool {
        let silent = self.command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        silent.status().is_ok_and(|status| status.success())
    }
}

/// A line on standard error, where cargo's own lines go, so that they stay in order.
pub(crate) fn say(text: &str) {
    // If standard error is gone there is nobody left to tell.
    let _ = writeln!(std::io::stderr(), "{text}");
}
