//! Everything that is wrong with a plan, said at once.

use std::fmt::{self, Display, Formatter};

/// All problems of a plan, each a sentence or two that names place, value, what is allowed and how to
/// mend it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problems(pub(crate) Vec<String>);

impl Problems {
    /// Notes one.
    pub(crate) fn push(&mut self, problem: impl Into<String>) {
        let problem = problem.into();
        if !self.0.contains(&problem) {
            self.0.push(problem);
        }
    }

    /// `value` if there are none.
    pub(crate) fn or<T>(self, value: T) -> Result<T, Self> {
        if self.0.is_empty() { Ok(value) } else { Err(self) }
    }

    /// The problems one by one.
    pub fn all(&self) -> &[String] {
        &self.0
    }
}

impl Display for Problems {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        for problem in &self.0 {
            writeln!(f, "error: {problem}")?;
        }
        let count = self.0.len();
        write!(f, "{count} {} in the plan", if count == 1 { "problem" } else { "problems" })
    }
}

impl std::error::Error for Problems {}
