//! The base scenario, and scenarios made of it.

use evenfall_scenario::{MOST_SHOWN, Resolved, resolve};
use serde_json::Value;

/// Gets the files that a scenario names.
pub type Load<'a> = &'a (dyn Fn(&str) -> Result<Vec<u8>, String> + Sync);

/// The text of a scenario.
pub(crate) fn text_of(scenario: &Value) -> String {
    serde_json::to_string_pretty(scenario).unwrap_or_default()
}

/// A scenario checked; what is wrong with it by place and sentence.
pub(crate) fn checked(scenario: &Value, load: Load<'_>) -> Result<Resolved, Refused> {
    resolve(&text_of(scenario), &|name| load(name)).map_err(|problems| {
        let wrong = |issue: &evenfall_scenario::Issue| Wrong {
            pointer: issue.pointer.clone(),
            words: issue.words(),
        };
        let wrong: Vec<Wrong> = problems.issues().iter().map(wrong).collect();
        Refused { more: problems.count() - wrong.len(), wrong }
    })
}

fn is_no_json(issue: &evenfall_scenario::Issue) -> bool {
    let told = ["this is not JSON", "the scenario is empty", "brackets stand inside"];
    issue.pointer.is_empty() && told.iter().any(|words| issue.problem.starts_with(words))
}

/// The tree of a JSON text; what is wrong with one that is none, as scenarios have it told.
pub(crate) fn json(text: &str) -> Result<Value, String> {
    let text = text.trim_start_matches('\u{feff}');
    serde_json::from_str(text).map_err(|error| {
        let none = |_: &str| Err("not read here".to_owned());
        match resolve(text, &none) {
            // What a scenario's reader takes for JSON it judges as a scenario, which this is not.
            Err(problems) if problems.issues().first().is_some_and(is_no_json) => {
                let first = &problems.issues()[0];
                format!("line {}: {}", problems.line(first), first.words())
            }
            _ => format!("this is not JSON: {error}"),
        }
    })
}

/// What is wrong with a scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Refused {
    /// The problems; of very many the first.
    pub(crate) wrong: Vec<Wrong>,
    /// How many more there are.
    pub(crate) more: usize,
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

impl Refused {
    /// All of it in one line; of many the first ones.
    pub(crate) fn in_a_line(&self) -> String {
        let one = |wrong: &Wrong| format!("at {}: {}", wrong.pointer, wrong.words);
        let mut told: Vec<String> = self.wrong.iter().take(MOST_SHOWN).map(one).collect();
        match self.wrong.len() + self.more - told.len() {
            0 => {}
            more => told.push(format!("and {more} more")),
        }
        told.join(" · ")
    }
}
