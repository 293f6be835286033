//! Problems of a scenario: collected, then shown all at once with the lines they stand in.

use crate::place::At;
use crate::readings::Readings;
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::fmt::{self, Display, Formatter};
use std::ops::Range;

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
        let hint = self.hint.as_ref().map(|hint| format!(" {hint}")).unwrap_or_default();
        self.sentence() + &hint
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
    /// Label of the key that is being read.
    label: &'static str,
    /// What was taken one way and could have been meant otherwise.
    pub(crate) readings: Readings,
}

impl Issues {
    pub(crate) fn push(&mut self, issue: Issue) {
        let same = |known: &Issue| known.span == issue.span && known.problem == issue.problem;
        if !self.all.iter().any(same) {
            self.all.push(issue);
        }
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
        self.all.len()
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
        Problems { text: text.to_owned(), issues: self.all }
    }
}

/// Everything that is wrong with a scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problems {
    text: String,
    issues: Vec<Issue>,
}

impl Problems {
    /// The problems in the order of the text.
    pub fn issues(&self) -> &[Issue] {
        &self.issues
    }

    /// Line (from 1) of a problem.
    pub fn line(&self, issue: &Issue) -> usize {
        let end = issue.span.start.min(self.text.len());
        self.text.as_bytes()[..end].split(|byte| *byte == b'\n').count()
    }

    /// All problems as text for a terminal, each with its line, path, what is allowed and a hint.
    pub fn render(&self, file_name: &str, with_color: bool) -> String {
        let renderer = if with_color { Renderer::styled() } else { Renderer::plain() };
        let mut out = String::new();
        for issue in &self.issues {
            out.push_str(&self.one(issue, file_name, &renderer));
            out.push_str("\n\n");
        }
        let count = self.issues.len();
        let problems = if count == 1 { "problem" } else { "problems" };
        out + &format!("{count} {problems} in {file_name}")
    }

    fn one(&self, issue: &Issue, file_name: &str, renderer: &Renderer) -> String {
        let label = match issue.pointer.as_str() {
            "" => "here".to_owned(),
            path => format!("at {path}"),
        };
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
