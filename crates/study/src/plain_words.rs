//! What the reader of JSON says of a plan, in the words that scenarios are told in.

use serde_path_to_error::{Error, Segment};

/// The designs as they are written.
const DESIGNS: &str = r#""full", {"list": "points.csv"}, {"latin_hypercube": 64} or {"sobol": 64}"#;

/// The line, the place and what is wrong there.
pub(crate) fn plain_words(error: &Error<serde_json::Error>) -> String {
    let pointer: String = error.path().iter().filter_map(segment).collect();
    let inner = error.inner();
    let said = inner.to_string();
    // Line and column stand at the end.
    let said = said.rsplit_once(" at line ").map_or(said.as_str(), |(said, _)| said);
    let place = if pointer.is_empty() { String::new() } else { format!(", at {pointer}") };
    format!("line {}{place}: {}", inner.line(), plain(said, &pointer))
}

fn segment(segment: &Segment) -> Option<String> {
    match segment {
        Segment::Seq { index } => Some(format!("/{index}")),
        Segment::Map { key } => Some(format!("/{key}")),
        Segment::Enum { variant } => Some(format!("/{variant}")),
        Segment::Unknown => None,
    }
}

fn plain(said: &str, pointer: &str) -> String {
    if let Some(key) = said.strip_prefix("missing field ") {
        return format!("there is no key {key} here, which is needed");
    }
    if let Some(key) = said.strip_prefix("duplicate field ") {
        return format!("the key {key} is given twice. Keep one of them");
    }
    if let Some((key, known)) = said.strip_prefix("unknown field ").and_then(expected) {
        let known = known.replace('`', "");
        return format!("there is no key {key} here. Expected {known}. Remove it or mend its name");
    }
    let is_design = pointer == "/design" || pointer.starts_with("/design/");
    if is_design && !said.ends_with("usize") && !said.ends_with("a string") {
        return format!("this is no design. Expected {DESIGNS}");
    }
    let wrong =
        said.strip_prefix("invalid type: ").or_else(|| said.strip_prefix("invalid value: "));
    match wrong.and_then(expected) {
        Some((given, kind)) => format!("this is {}. Expected {}", given_as(given), kind_of(kind)),
        // A list in place of an object is counted.
        None if said.starts_with("invalid length") => format!("this is a list. Expected {OBJECT}"),
        None => said.to_owned(),
    }
}

fn expected(said: &str) -> Option<(&str, &str)> {
    said.rsplit_once(", expected ")
}

const OBJECT: &str = "keys in braces, { … }";

/// What is there, without the names that the reader has for it.
fn given_as(given: &str) -> String {
    match given {
        "map" => "an object, { … }".to_owned(),
        "sequence" => "a list".to_owned(),
        _ => {
            let kinds = ["string ", "integer ", "floating point ", "boolean "];
            let bare = kinds.iter().find_map(|kind| given.strip_prefix(kind));
            bare.unwrap_or(given).replace('`', "")
        }
    }
}

fn kind_of(kind: &str) -> &str {
    match kind {
        // All of them are counts.
        "usize" => "a whole number from 1 on",
        "u32" => "a whole number from 0 to 4294967295",
        "f64" => "a number without a unit",
        "a string" => "a text",
        "a sequence" => "a list, [ … ]",
        _ if kind.starts_with("struct ") => OBJECT,
        _ => kind,
    }
}
