//! What the user sees while the program runs: plain lines, a progress bar, nothing when quiet.

use indicatif::{ProgressBar, ProgressStyle};
use std::io::{self, IsTerminal as _, Write as _};

/// How much to say, and in what dress.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Voice {
    pub(crate) quiet: bool,
    pub(crate) color: bool,
}

impl Voice {
    /// Color only for a terminal, and only if nobody asked for none.
    pub(crate) fn new(quiet: bool, no_color: bool) -> Self {
        let asked_for_none =
            no_color || std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty());
        Self { quiet, color: !asked_for_none && io::stderr().is_terminal() }
    }

    /// A line to standard output, unless quiet.
    pub(crate) fn say(self, text: &str) -> io::Result<()> {
        if self.quiet { Ok(()) } else { print(&format!("{text}\n")) }
    }

    /// A bar over `total` steps on standard error; silent when quiet or where nobody watches.
    pub(crate) fn progress(self, total: u64, what: &'static str, of: &str) -> ProgressBar {
        if self.quiet || !io::stderr().is_terminal() {
            return ProgressBar::hidden();
        }
        let bar = ProgressBar::new(total);
        let template = format!("{{msg}} {{wide_bar}} {{pos}} of {{len}} {of}, {{eta}} left");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            bar.set_style(style);
        }
        bar.set_message(what);
        bar
    }
}

/// Prints to standard output, where units stand off by plain spaces (tables are searched and cut by
/// other programs); a reader that has gone away is a quiet end, not a fault.
pub(crate) fn print(text: &str) -> io::Result<()> {
    let text = text.replace('\u{a0}', " ");
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        result => result,
    }
}
