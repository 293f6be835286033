//! Small tools of the tests: the demo with one thing changed.

use crate::{Problems, Resolved, resolve};
use serde_json::Value;

/// A loader without files.
pub(crate) fn no_files(name: &str) -> Result<Vec<u8>, String> {
    Err(format!("no file {name} in this test"))
}

/// The demo's text after `change`.
pub(crate) fn demo_with(change: impl FnOnce(&mut Value)) -> String {
    let mut demo: Value = serde_json::from_str(crate::demo()).unwrap();
    change(&mut demo);
    serde_json::to_string_pretty(&demo).unwrap()
}

/// The demo with the value at `pointer` replaced by the JSON text `value`.
pub(crate) fn demo_at(pointer: &str, value: &str) -> String {
    demo_with(|demo| {
        let (section, key) = pointer.rsplit_once('/').unwrap();
        let value: Value = serde_json::from_str(value).unwrap();
        if demo.pointer(section).is_none() {
            let (parent, name) = section.rsplit_once('/').unwrap();
            demo.pointer_mut(parent).unwrap()[name] = Value::Object(serde_json::Map::new());
        }
        match demo.pointer_mut(section).unwrap() {
            Value::Array(items) => items[key.parse::<usize>().unwrap()] = value,
            section => section[key] = value,
        }
    })
}

pub(crate) fn good(text: &str) -> Resolved {
    resolve(text, &no_files).unwrap_or_else(|problems| panic!("{problems}"))
}

pub(crate) fn bad(text: &str) -> Problems {
    match resolve(text, &no_files) {
        Ok(_) => panic!("this should have been refused:\n{text}"),
        Err(problems) => problems,
    }
}

/// The one problem that `text` has, rendered.
pub(crate) fn only_problem(text: &str) -> (String, String) {
    let problems = bad(text);
    assert_eq!(problems.issues().len(), 1, "{problems}");
    (problems.issues()[0].pointer.clone(), problems.to_string())
}
