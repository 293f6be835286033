//! The reference of a scenario's keys, made from the schema: what follows from the rows there is not said
//! a second time here.

use serde_json::Value;

/// How values are written in a scenario, for the head of a reference; Markdown.
pub const KEYS_ABOUT: &str = "\
An alternative may have keys of `lateral`, `wheel`, `outlets`, `sprinkler` and `season` of its own, each
as in the section of that name.

Quantities are written as you write them: `60 ft`, `4' 8\"`, `5/32 in`, `2 1/2 in`, `1/4 mile`,
`$180/ton`, `12 ¢/kWh`, `4,67 m`. A comma before exactly three digits marks thousands (`1,320 ft`), unless
the number begins with 0; where it could as well be a decimal comma, a note asks. Bearings may be points
of the compass (`SW`, `southwest`). A price per bushel needs a crop whose bushel is known.
";

/// A section of the scenario file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeySection {
    /// Its path, such as `field.boundary`; `scenario` for the file itself.
    pub name: String,
    /// What the page calls it.
    pub label: String,
    /// What it holds.
    pub about: String,
    /// Its keys.
    pub rows: Vec<KeyRow>,
}

/// A key of the scenario file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyRow {
    /// The key.
    pub key: String,
    /// What the page calls it.
    pub label: String,
    /// What holds without it, and why.
    pub left_out: String,
    /// What it means and what it may be.
    pub meaning: String,
}

/// Every section of a scenario file with its keys, each once.
pub fn reference() -> Vec<KeySection> {
    let schema: Value = serde_json::from_str(&crate::schema()).unwrap_or_default();
    let mut found = Found { schema: &schema, sections: Vec::new() };
    found.section(("scenario", "The whole file"), "", &schema);
    found.sections
}

/// Sections that an alternative lays over the common ones.
const OVERLAID: [&str; 5] = [
    "alternatives[].lateral",
    "alternatives[].wheel",
    "alternatives[].outlets",
    "alternatives[].sprinkler",
    "alternatives[].season",
];

struct Found<'a> {
    schema: &'a Value,
    sections: Vec<KeySection>,
}

impl<'a> Found<'a> {
    /// What a reference leads to, or the node itself.
    fn follow(&self, node: &'a Value) -> &'a Value {
        let name = node["$ref"].as_str().and_then(|path| path.strip_prefix("#/$defs/"));
        name.map_or(node, |name| &self.schema["$defs"][name])
    }

    /// A section, and after it those in it.
    fn section(&mut self, (name, label): (&str, &str), path: &str, node: &'a Value) {
        let Some(keys) = node["properties"].as_object() else { return };
        let required = node["required"].as_array();
        let is_needed = |key: &str| required.is_some_and(|all| all.iter().any(|one| one == key));
        let text = |node: &Value, key: &str| node[key].as_str().unwrap_or_default().to_owned();
        let row = |(key, row): (&String, &Value)| KeyRow {
            key: key.clone(),
            label: text(row, "title"),
            left_out: if is_needed(key) { "needed".to_owned() } else { left_out(row) },
            meaning: meaning(row),
        };
        let section = KeySection {
            name: name.to_owned(),
            label: label.to_owned(),
            about: text(node, "description"),
            rows: keys.iter().map(row).collect(),
        };
        // What may stand alone or in a list is told once.
        if self.sections.contains(&section) {
            return;
        }
        self.sections.push(section);
        for (key, row) in keys {
            let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
            let list = if self.follow(row)["items"].is_object() { "[]" } else { "" };
            let path = format!("{path}{list}");
            if !OVERLAID.contains(&path.as_str()) {
                self.forms(&path, &text(row, "title"), row);
            }
        }
    }

    /// The sections among the forms in which a value may be written.
    fn forms(&mut self, path: &str, label: &str, node: &'a Value) {
        let node = self.follow(node);
        // A price's own keys are told once, at the first price.
        let mut rows = self.sections.iter().flat_map(|section| &section.rows);
        if node["properties"]["placeholder"].is_object() && rows.any(|row| row.key == "placeholder")
        {
            return;
        }
        self.section((path, label), path, node);
        if node["items"].is_object() {
            self.forms(path, label, &node["items"]);
        }
        for form in node["anyOf"].as_array().into_iter().flatten() {
            self.forms(path, label, form);
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
