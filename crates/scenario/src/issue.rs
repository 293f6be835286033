//! Problems of a scenario: collected, then shown all at once with the lines they stand in.

use crate::place::At;
use crate::readings::Readings;
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::collections::BTreeSet;
use std::fmt::{self, Display, Formatter, Write as _};
use std::ops::Range;

/// What breaks a line of a table or turns the words around it: control characters and the marks of
/// Unicode's bidirectional algorithm (UAX #9, section 2) that embed, override or isolate.
pub fn is_hidden(letter: char) -> bool {
    letter.is_control() || matches!(letter, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// The words of a file as they may go to a terminal: what is hidden in them does nothing there.
pub(crate) fn harmless(words: String) -> String {
    if words.contains(is_hidden) { words.replace(is_hidden, "\u{fffd}") } else { words }
}

/// A problem as it may be shown: harmless, and cut where nobody reads on.
pub fn showable(words: String) -> String {
    shortened(harmless(words))
}

/// Words that nobody reads to their end are cut.
fn shortened(words: String) -> String {
    match words.char_indices().nth(MOST_LETTERS) {
        Some((end, _)) => format!("{} …", &words[..end]),
        None => words,
    }
}

/// Letters of a problem or of its place that are shown; the longest of ours has some 600.
const MOST_LETTERS: usize = 2000;
/// Bytes of a line that is printed with its problem; of a longer one only the place is told.
const LONGEST_LINE: usize = 20_000;

/// Most problems that are kept; the others are counted. A file with more is another kind of file, or
/// made to keep this program busy.
pub const MOST_KEPT: usize = 500;
/// Most problems that are printed.
pub const MOST_SHOWN: usize = 50;

/// One problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Issue {
    /// Where, as a JSON pointer (RFC 6901); empty for the whole file.
    pub pointer: String,
    /// Where, as bytes of the text.
    pub span: Range<usize>,
    /// What is wrong.
    pub problem: String,
    /// What is allowed there.
    pub allowed: Option<String>,
    /// What to do.
    pub hint: Option<String>,
}

impl Issue {
    pub(crate) fn new(at: &At, problem: impl Into<String>) -> Self {
        Self {
            pointer: at.pointer.clone(),
            span: at.span.clone(),
            problem: problem.into(),
            allowed: None,
            hint: None,
        }
    }

    /// What is wrong, what is expected and what to do, as sentences.
    pub fn words(&self) -> String {
        let sentence = self.sentence();
        let Some(hint) = &self.hint else { return sentence };
        let end = if sentence.ends_with(['.', '?', '!']) { "" } else { "." };
        format!("{sentence}{end} {hint}")
    }

    /// What is wrong and what is expected, as sentences.
    pub(crate) fn sentence(&self) -> String {
        match &self.allowed {
            Some(allowed) => format!("{}. Expected {allowed}.", self.problem),
            None => self.problem.clone(),
        }
    }

    pub(crate) fn allowed(self, allowed: impl Into<String>) -> Self {
        Self { allowed: Some(allowed.into()), ..self }
    }

    pub(crate) fn hint(self, hint: impl Into<String>) -> Self {
        Self { hint: Some(hint.into()), ..self }
    }
}

/// Where problems are gathered; the same problem at the same place counts once (an alternative
/// reads the common sections again).
#[derive(Debug, Default)]
pub(crate) struct Issues {
    all: Vec<Issue>,
    /// Place and words of all that are kept.
    known: BTreeSet<(usize, usize, String)>,
    /// How many there are beyond those.
    more: usize,
    /// Label of the key that is being read.
    label: &'static str,
    /// What was taken one way and could have been meant otherwise.
    pub(crate) readings: Readings,
}

impl Issues {
    pub(crate) fn push(&mut self, mut issue: Issue) {
        for words in [&mut issue.pointer, &mut issue.problem] {
            *words = showable(std::mem::take(words));
        }
        if self.is_full() {
            self.more += 1;
        } else if self.known.insert((issue.span.start, issue.span.end, issue.problem.clone())) {
            self.all.push(issue);
        }
    }

    /// Whether what comes now is only counted: nobody needs a hint to it.
    pub(crate) fn is_full(&self) -> bool {
        self.all.len() >= MOST_KEPT
    }

    /// One more that nobody reads.
    pub(crate) fn count_on(&mut self) {
        self.more += 1;
    }

    /// Reads something that is called `label` in messages.
    pub(crate) fn about<R>(&mut self, label: &'static str, read: impl FnOnce(&mut Self) -> R) -> R {
        let outer = std::mem::replace(&mut self.label, label);
        let result = read(self);
        self.label = outer;
        result
    }

    /// What is being read, to begin a message with.
    pub(crate) fn subject(&self) -> &'static str {
        if self.label.is_empty() { "This" } else { self.label }
    }

    /// How many there are so far.
    pub(crate) fn len(&self) -> usize {
        self.all.len() + self.more
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// All problems with their hints, as sentences.
    pub(crate) fn sentences(&self) -> String {
        self.all.iter().map(Issue::words).collect::<Vec<_>>().join(" ")
    }

    /// All problems in the order of the text.
    pub(crate) fn into_problems(mut self, text: &str) -> Problems {
        self.all.sort_by_key(|issue| issue.span.start);
        Problems { text: text.to_owned(), issues: self.all, more: self.more }
    }
}

/// Everything that is wrong with a scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problems {
    text: String,
    issues: Vec<Issue>,
    /// How many more there are.
    more: usize,
}

impl Problems {
    /// The problems in the order of the text; of very many the first ones that were found.
    pub fn issues(&self) -> &[Issue] {
        &self.issues
    }

    /// Line (from 1) of a problem.
    pub fn line(&self, issue: &Issue) -> usize {
        let end = issue.span.start.min(self.text.len());
        self.text.as_bytes()[..end].split(|byte| *byte == b'\n').count()
    }

    /// How many problems there are, shown or not.
    pub fn count(&self) -> usize {
        self.issues.len() + self.more
    }

    /// The problems as text for a terminal, each with its line, path, what is allowed and a hint; of many
    /// the first ones.
    pub fn render(&self, file_name: &str, with_color: bool) -> String {
        let renderer = if with_color { Renderer::styled() } else { Renderer::plain() };
        let file_name = &harmless(file_name.to_owned());
        let mut out = String::new();
        for issue in self.issues.iter().take(MOST_SHOWN) {
            out.push_str(&self.one(issue, file_name, &renderer));
            out.push_str("\n\n");
        }
        let count = self.count();
        if count > MOST_SHOWN {
            // Writing to a text does not fail.
            let _ = write!(out, "and {} more\n\n", count - MOST_SHOWN);
        }
        let problems = if count == 1 { "problem" } else { "problems" };
        out + &format!("{count} {problems} in {file_name}")
    }

    fn one(&self, issue: &Issue, file_name: &str, renderer: &Renderer) -> String {
        let label = match issue.pointer.as_str() {
            "" => "here".to_owned(),
            path => format!("at {path}"),
        };
        let end = issue.span.end.min(self.text.len());
        let start = issue.span.start.min(end);
        let newline = |byte: &u8| *byte == b'\n';
        let bytes = self.text.as_bytes();
        let from = bytes[..start].iter().rposition(newline).map_or(0, |at| at + 1);
        let to = bytes[end..].iter().position(newline).map_or(bytes.len(), |at| end + at);
        if to - from > LONGEST_LINE {
            let (line, column) = (self.line(issue), start - from + 1);
            let message = Level::ERROR.primary_title(issue.sentence());
            let place = format!("{file_name}, line {line}, byte {column}, {label}");
            let mut group = message.element(Level::NOTE.message(place.as_str()));
            if let Some(hint) = &issue.hint {
                group = group.element(Level::HELP.message(hint.as_str()));
            }
            return renderer.render(&[group]);
        }
        let snippet = Snippet::source(&self.text)
            .path(file_name)
            .annotation(AnnotationKind::Primary.span(issue.span.clone()).label(label));
        let mut group = Level::ERROR.primary_title(issue.sentence()).element(snippet);
        if let Some(hint) = &issue.hint {
            group = group.element(Level::HELP.message(hint.as_str()));
        }
        renderer.render(&[group])
    }
}

impl Display for Problems {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render("scenario", false))
    }
}

impl std::error::Error for Problems {}
