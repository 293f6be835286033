//! What a scenario says, as a list that people read: sections with the labels of their keys and the
//! values as they were written. Says nothing of starting values and checks nothing; a key that the
//! schema does not know is named as it is written.

use crate::schema::schema;
use serde_json::Value;

/// A section of a scenario as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EnteredSection {
    /// Its name.
    pub title: String,
    /// Labels and values, in the order of the file.
    pub rows: Vec<(String, String)>,
}

/// Longest value that is written out; what is longer is a table of its own, and counted.
const MOST_LETTERS: usize = 200;

/// The sections of a scenario's text, in its order; nothing where it is no JSON object.
pub fn entered(text: &str) -> Vec<EnteredSection> {
    let Ok(Value::Object(scenario)) = serde_json::from_str(text) else { return Vec::new() };
    let schema: Value = serde_json::from_str(&schema()).unwrap_or_default();
    let mut first = EnteredSection { title: "This comparison".to_owned(), rows: Vec::new() };
    let mut sections = Vec::new();
    for (key, value) in &scenario {
        let about = known(&schema, &schema, key);
        match value {
            Value::Object(_) | Value::Array(_) => {
                let mut rows = Vec::new();
                walk(&schema, about, value, "", &mut rows);
                sections.push(EnteredSection { title: label(about, key), rows });
            }
            _ if key == "evenfall" => {}
            _ => first.rows.push((label(about, key), shown(value))),
        }
    }
    sections.insert(0, first);
    sections
}

/// What the schema says of a key of `of`; nothing where it knows none.
fn known<'a>(schema: &'a Value, of: &'a Value, key: &str) -> &'a Value {
    &followed(schema, of)["properties"][key]
}

/// The place that a reference leads to; also where the value may be left out.
fn followed<'a>(schema: &'a Value, of: &'a Value) -> &'a Value {
    let any = of["anyOf"].as_array().and_then(|all| all.iter().find(|one| one["type"] != "null"));
    let of = any.unwrap_or(of);
    match of["$ref"].as_str() {
        Some(path) => schema.pointer(path.trim_start_matches('#')).unwrap_or(of),
        None => of,
    }
}

fn label(about: &Value, key: &str) -> String {
    about["title"].as_str().map_or_else(|| key.replace('_', " "), str::to_owned)
}

/// Adds the rows of a value below `before`, the labels that lead to it.
fn walk(
    schema: &Value,
    about: &Value,
    value: &Value,
    before: &str,
    rows: &mut Vec<(String, String)>,
) {
    let lead = |label: &str| match before {
        "" => label.to_owned(),
        _ => format!("{before}: {label}"),
    };
    match value {
        Value::Object(entries) => {
            for (key, inner) in entries {
                let of = known(schema, about, key);
                walk(schema, of, inner, &lead(&label(of, key)), rows);
            }
        }
        Value::Array(items) if items.iter().any(Value::is_object) => {
            let of = &followed(schema, about)["items"];
            for (index, item) in items.iter().enumerate() {
                let name = item["name"].as_str().map(str::to_owned);
                walk(schema, of, item, &lead(&name.unwrap_or((index + 1).to_string())), rows);
            }
        }
        _ => rows.push((before.to_owned(), shown(value))),
    }
}

/// A value as it was written.
fn shown(value: &Value) -> String {
    let text = match value {
        Value::String(text) => text.clone(),
        Value::Array(items) => items.iter().map(shown).collect::<Vec<_>>().join(", "),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::Null => "none".to_owned(),
        other => other.to_string(),
    };
    if text.chars().count() <= MOST_LETTERS {
        return text;
    }
    let some: String = text.chars().take(MOST_LETTERS).collect();
    let more = text.chars().count() - MOST_LETTERS;
    format!("{some} … ({more} more characters)")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_the_demo_is_listed_by_the_labels_of_its_keys() {
        let sections = entered(crate::demo());
        let titles: Vec<&str> = sections.iter().map(|one| one.title.as_str()).collect();
        assert_eq!(titles[..3], ["This comparison", "Field", "Lateral"]);
        let row = |section: &str, label: &str| {
            let rows = &sections.iter().find(|one| one.title == section).unwrap().rows;
            let found = rows.iter().find(|(name, _)| name == label);
            found.unwrap_or_else(|| panic!("{label} is not in {rows:#?}")).1.clone()
        };
        assert_eq!(row("Field", "Field along the pipe"), "1320 ft");
        assert_eq!(row("Lateral", "Number of sprinklers"), "33");
        let everything = format!("{sections:?}");
        for value in ["Three stops", "alfalfa"] {
            assert!(everything.contains(value), "{value}");
        }
    }

    #[test]
    fn closed_what_is_unknown_or_long_is_named_and_cut() {
        let long = "7, ".repeat(200);
        let text = format!("{{ \"my_own\": {{ \"very_long\": \"{long}\" }}, \"seed\": 4 }}");
        let sections = entered(&text);
        assert_eq!(sections[1].title, "my own");
        assert_eq!(sections[1].rows[0].0, "very long");
        assert!(sections[1].rows[0].1.ends_with("… (400 more characters)"));
        assert_eq!(entered("[1]"), []);
    }
}
