//! The reference of the scenario's keys as a page of tables, made from the schema: what follows from the
//! rows there is not said a second time here.

use serde_json::Value;
use std::fmt::Write as _;

/// Every key with its label, what holds without it, its meaning and its limits, as Markdown: kept in
/// `shared/scenario-keys.md`.
pub(super) fn scenario_keys() -> String {
    let schema: Value = serde_json::from_str(&crate::schema()).unwrap();
    let mut page = Page { schema: &schema, text: HEAD.to_owned() };
    page.section("scenario", "", &schema);
    page.text
}

const HEAD: &str = "# Keys of a scenario file

Made from the table of keys by `cargo xtask schema`; do not edit. An alternative may have keys of
`lateral`, `wheel`, `outlets`, `sprinkler` and `season` of its own, each as in the section of that name.

Quantities are written as you write them: `60 ft`, `4' 8\"`, `5/32 in`, `2 1/2 in`, `1/4 mile`,
`$180/ton`, `12 ¢/kWh`, `4,67 m`. A comma before exactly three digits marks thousands (`1,320 ft`), unless
the number begins with 0; where it could as well be a decimal comma, a note asks. Bearings may be points
of the compass (`SW`, `southwest`). A price per bushel needs a crop whose bushel is known.
";

/// Sections that an alternative lays over the common ones.
const OVERLAID: [&str; 5] = [
    "alternatives[].lateral",
    "alternatives[].wheel",
    "alternatives[].outlets",
    "alternatives[].sprinkler",
    "alternatives[].season",
];

struct Page<'a> {
    schema: &'a Value,
    text: String,
}

impl<'a> Page<'a> {
    /// What a reference leads to, or the node itself.
    fn follow(&self, node: &'a Value) -> &'a Value {
        let name = node["$ref"].as_str().and_then(|path| path.strip_prefix("#/$defs/"));
        name.map_or(node, |name| &self.schema["$defs"][name])
    }

    /// A section's table, and after it those of the sections in it.
    fn section(&mut self, title: &str, path: &str, node: &'a Value) {
        let Some(keys) = node["properties"].as_object() else { return };
        let about = node["description"].as_str().unwrap_or_default();
        let required = node["required"].as_array();
        let is_needed = |key: &str| required.is_some_and(|all| all.iter().any(|one| one == key));
        // Writing to a String cannot fail.
        let _ = write!(
            self.text,
            "\n## `{title}`\n\n{about}\n\n| key | label | left out | meaning and limits |\n\
             | --- | --- | --- | --- |\n"
        );
        for (key, row) in keys {
            let left_out = if is_needed(key) { "needed".to_owned() } else { left_out(row) };
            let label = row["title"].as_str().unwrap_or_default();
            let _ = writeln!(self.text, "| `{key}` | {label} | {left_out} | {} |", meaning(row));
        }
        for (key, row) in keys {
            let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
            let list = if self.follow(row)["items"].is_object() { "[]" } else { "" };
            let path = format!("{path}{list}");
            if !OVERLAID.contains(&path.as_str()) {
                self.forms(&path, row);
            }
        }
    }

    /// The sections among the forms in which a value may be written.
    fn forms(&mut self, path: &str, node: &'a Value) {
        let node = self.follow(node);
        // A price's own keys are told once, at the first price.
        if node["properties"]["placeholder"].is_object() && self.text.contains("| `placeholder` |")
        {
            return;
        }
        self.section(path, path, node);
        if node["items"].is_object() {
            self.forms(path, &node["items"]);
        }
        for form in node["anyOf"].as_array().into_iter().flatten() {
            self.forms(path, form);
        }
    }
}

/// What holds without the key.
fn left_out(row: &Value) -> String {
    let text = |key: &str| row[key].as_str().map(str::to_owned);
    match &row["default"] {
        Value::Null => text("otherwise").unwrap_or_default(),
        Value::String(value) => format!("{value}: {}", text("because").unwrap_or_default()),
        value => format!("{value}: {}", text("because").unwrap_or_default()),
    }
}

/// Help and limits, without the list of units.
fn meaning(row: &Value) -> String {
    let says = |row: &Value| {
        let said = row["description"].as_str().unwrap_or_default();
        said.split("; units").next().unwrap_or_default().trim_end_matches('.').to_owned()
    };
    let forms = row["anyOf"].as_array().into_iter().flatten();
    let forms = forms.map(says).filter(|said| said.contains(" from ")).collect::<Vec<_>>();
    let said = std::iter::once(says(row)).chain(forms).collect::<Vec<_>>().join(": ");
    let ends = (&row["minimum"], &row["maximum"]);
    let choices = row["enum"].as_array().map(|all| {
        all.iter().filter_map(Value::as_str).map(|one| format!("\"{one}\"")).collect::<Vec<_>>()
    });
    match (ends, choices) {
        ((Value::Number(least), Value::Number(most)), _) if least != most => {
            format!("{said}: {least} to {most}.")
        }
        (_, Some(choices)) => format!("{said}: {}.", choices.join(", ")),
        _ => format!("{said}."),
    }
}
