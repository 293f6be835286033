//! Scenario files for the tests, made from what `evenfall demo` prints.

use crate::runs::evenfall;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use std::sync::OnceLock;

/// The text of `evenfall demo`.
pub(crate) fn demo() -> &'static str {
    static DEMO: OnceLock<String> = OnceLock::new();
    DEMO.get_or_init(|| evenfall(&["demo"]).said())
}

/// The demo after `change`.
pub(crate) fn demo_with(change: impl FnOnce(&mut Value)) -> String {
    let mut scenario: Value = serde_json::from_str(demo()).unwrap();
    change(&mut scenario);
    serde_json::to_string_pretty(&scenario).unwrap()
}

/// The demo with the value at `pointer` replaced; `value` is JSON. The key may be a new one.
pub(crate) fn demo_at(pointer: &str, value: &str) -> String {
    let (parent, key) = pointer.rsplit_once('/').unwrap();
    demo_with(|demo| {
        let place = demo.pointer_mut(parent).unwrap();
        let value = serde_json::from_str(value).unwrap();
        match place {
            Value::Array(items) => items[key.parse::<usize>().unwrap()] = value,
            _ => place[key] = value,
        }
    })
}

/// The demo on a field of six sets, coarse and short: quick to run.
pub(crate) fn small() -> String {
    demo_with(|demo| {
        demo["field"]["length_along_pipe"] = "320 ft".into();
        demo["field"]["width_across"] = "360 ft".into();
        demo["field"]["cell"] = "4 ft".into();
        demo["lateral"]["sprinklers"] = 8.into();
        demo["season"]["passes"] = 3.into();
        demo["alternatives"] = json!([
            { "name": "Fixed", "rotation": ["0 ft"] },
            { "name": "Two stops", "rotation": ["0 ft", "20 ft"], "equipment": { "joints": 0 } },
        ]);
    })
}

/// The demo with so many passes that it runs for a long while.
pub(crate) fn long() -> String {
    demo_at("/season/passes", "300")
}

/// Puts `text` into `folder` as `scenario.json`.
pub(crate) fn put(folder: &Path, text: &str) {
    fs::write(folder.join("scenario.json"), text).unwrap();
}
