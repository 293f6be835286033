//! The base scenario, and scenarios made of it.

use evenfall_scenario::{Resolved, resolve};
use serde_json::Value;

/// Gets the files that a scenario names.
pub type Load<'a> = &'a (dyn Fn(&str) -> Result<Vec<u8>, String> + Sync);

/// The text of a scenario.
pub(crate) fn text_of(scenario: &Value) -> String {
    serde_json::to_string_pretty(scenario).unwrap_or_default()
}

/// A scenario checked; what is wrong with it by place and sentence.
pub(crate) fn checked(scenario: &Value, load: Load<'_>) -> Result<Resolved, Vec<Wrong>> {
    resolve(&text_of(scenario), &|name| load(name)).map_err(|problems| {
        let wrong = |issue: &evenfall_scenario::Issue| Wrong {
            pointer: issue.pointer.clone(),
            words: issue.words(),
        };
        problems.issues().iter().map(wrong).collect()
    })
}

/// A problem of a scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Wrong {
    pub(crate) pointer: String,
    pub(crate) words: String,
}

impl Wrong {
    /// Whether it is about `pointer` or what stands in it.
    pub(crate) fn is_at(&self, pointer: &str) -> bool {
        let rest = self.pointer.strip_prefix(pointer);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
    }
}

/// All of them in one line.
pub(crate) fn in_a_line(wrong: &[Wrong]) -> String {
    let one = |wrong: &Wrong| format!("at {}: {}", wrong.pointer, wrong.words);
    wrong.iter().map(one).collect::<Vec<_>>().join(" · ")
}
