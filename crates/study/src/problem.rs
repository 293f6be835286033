//! Everything that is wrong with a plan, said at once.

use evenfall_scenario::{MOST_KEPT, MOST_SHOWN, showable};
use std::fmt::{self, Display, Formatter};

/// All problems of a plan, each a sentence or two that names place, value, what is allowed and how to
/// mend it. As with scenarios, of very many the first are kept and all are counted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problems {
    all: Vec<String>,
    /// How many there are beyond those.
    more: usize,
}

impl Problems {
    /// One.
    pub(crate) fn of(problem: impl Into<String>) -> Self {
        let mut problems = Self::default();
        problems.push(problem);
        problems
    }

    /// Notes one; what it tells of a file does nothing to a terminal.
    pub(crate) fn push(&mut self, problem: impl Into<String>) {
        if self.all.len() >= MOST_KEPT {
            self.more += 1;
            return;
        }
        let problem = showable(problem.into());
        if !self.all.contains(&problem) {
            self.all.push(problem);
        }
    }

    /// Counts those that are told nowhere.
    pub(crate) fn count_on(&mut self, more: usize) {
        self.more += more;
    }

    /// `value` if there are none.
    pub(crate) fn or<T>(self, value: T) -> Result<T, Self> {
        if self.count() == 0 { Ok(value) } else { Err(self) }
    }

    /// The problems one by one; of very many the first.
    pub fn all(&self) -> &[String] {
        &self.all
    }

    /// How many there are, kept or not.
    pub fn count(&self) -> usize {
        self.all.len() + self.more
    }
}

impl Display for Problems {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let (count, shown) = (self.count(), self.all.len().min(MOST_SHOWN));
        for problem in &self.all[..shown] {
            writeln!(f, "error: {problem}")?;
        }
        if count > shown {
            writeln!(f, "and {} more", count - shown)?;
        }
        write!(f, "{count} {} in the plan", if count == 1 { "problem" } else { "problems" })
    }
}

impl std::error::Error for Problems {}
