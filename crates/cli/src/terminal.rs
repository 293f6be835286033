//! What the user sees while the program runs: plain lines, a progress bar, nothing when quiet.

use evenfall_core::season::Progress;
use evenfall_scenario::is_hidden;
use indicatif::{ProgressBar, ProgressStyle};
use std::io::{self, IsTerminal as _, Write as _};
use std::sync::atomic::{AtomicBool, Ordering};

/// What is done, and what is counted, where passes are simulated.
pub(crate) const PASSES: (&str, &str) = ("Simulating passes", "passes");

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

    /// Does `work` under a progress bar; `stop` ends it early.
    pub(crate) fn watched<T>(
        self,
        bar: (&'static str, &str),
        stop: &AtomicBool,
        work: impl FnOnce(&(dyn Fn(Progress) -> bool + Sync)) -> T,
    ) -> T {
        self.told(bar, stop, |go_on, _| work(go_on))
    }

    /// The same where `work` also says what it has found so far, a line above the bar.
    pub(crate) fn told<T>(
        self,
        bar: (&'static str, &str),
        stop: &AtomicBool,
        work: impl FnOnce(&(dyn Fn(Progress) -> bool + Sync), &dyn Fn(&str)) -> T,
    ) -> T {
        let bar = self.progress(bar);
        let go_on = |Progress { done, total }: Progress| {
            bar.set_length(total as u64);
            bar.set_position(done as u64);
            !stop.load(Ordering::SeqCst)
        };
        let done = work(&go_on, &|words| bar.println(shown(words)));
        bar.finish_and_clear();
        done
    }

    /// A bar on standard error; silent when quiet or where nobody watches.
    fn progress(self, (what, of): (&'static str, &str)) -> ProgressBar {
        if self.quiet || !io::stderr().is_terminal() {
            return ProgressBar::hidden();
        }
        let bar = ProgressBar::new(0);
        let template = format!("{{msg}} {{wide_bar}} {{pos}} of {{len}} {of}, {{eta}} left");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            bar.set_style(style);
        }
        bar.set_message(what);
        bar
    }
}

/// What a terminal may be given: codes and marks that turn the words around them (in names of files, titles,
/// words of the command line) are shown as a mark.
pub(crate) fn shown(text: &str) -> String {
    with_colors(text, |_| 0)
}

/// The same of messages that are laid out in color; their colors stay.
pub(crate) fn shown_in_color(text: &str) -> String {
    with_colors(text, color_length)
}

fn with_colors(text: &str, color_length: impl Fn(&str) -> usize) -> String {
    let mut shown = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(|letter: char| is_code(letter)) {
        shown.push_str(&rest[..at]);
        rest = &rest[at..];
        let color = if rest.starts_with("\r\n") { 1 } else { color_length(rest) };
        if color == 0 {
            shown.push('\u{fffd}');
        }
        shown.push_str(&rest[..color]);
        let code = rest.chars().next().map_or(0, char::len_utf8);
        rest = &rest[color.max(code)..];
    }
    shown + rest
}

/// Whether a terminal takes it for more than a letter.
fn is_code(letter: char) -> bool {
    !matches!(letter, '\n' | '\t') && is_hidden(letter)
}

/// How much at the start of a text only sets a color; nothing where it does not.
fn color_length(text: &str) -> usize {
    let Some(numbers) = text.strip_prefix("\u{1b}[") else { return 0 };
    let length = numbers.bytes().take_while(|byte| byte.is_ascii_digit() || *byte == b';').count();
    if numbers[length..].starts_with('m') { length + 3 } else { 0 }
}

/// Prints to standard output, where units stand off by plain spaces (tables are searched and cut by
/// other programs); a reader that has gone away is a quiet end, not a fault.
pub(crate) fn print(text: &str) -> io::Result<()> {
    let text = shown(text).replace('\u{a0}', " ");
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        result => result,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_colors_reach_a_terminal_as_codes() {
        let plain = "two\tcells\r\nand “words” \u{a0}";
        assert_eq!(shown(plain), plain);
        let color = "\u{1b}[1m\u{1b}[91merror\u{1b}[0m: x\u{1b}[38;5;12m";
        assert_eq!(shown_in_color(color), color);
        assert_eq!(shown("x\u{1b}[8m\ry\u{202e}"), "x\u{fffd}[8m\u{fffd}y\u{fffd}");
        let codes = "a\u{1b}]0;title\u{7}b\u{9b}31mc\u{1b}[2Jd\u{8}\u{1b}[";
        assert_eq!(
            shown_in_color(codes),
            "a\u{fffd}]0;title\u{fffd}b\u{fffd}31mc\u{fffd}[2Jd\u{fffd}\u{fffd}["
        );
    }
}
