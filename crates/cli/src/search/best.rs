//! The best rotations as a scenario, with the files that it names, so that it runs where it lies.
//!
//! Made from the text: scenarios are strict JSON without comments, so a plain JSON reader reads
//! whatever passed the check, in the order of its keys, and nothing of it is lost.

use crate::failure::Failure;
use crate::inputs::Loaded;
use crate::reading;
use evenfall_figures::with_own_keys;
use serde_json::Value;
use std::path::Path;

/// The scenario with the best rotations, in the report's folder.
pub(super) const SCENARIO: &str = "best.json";

/// The scenario with `alternatives` in place of its own, and copies of the files that it names.
pub(super) fn files(
    loaded: &Loaded,
    alternatives: Value,
) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let fault = |error: serde_json::Error| Failure::Fault(format!("the best rotations: {error}"));
    let mut scenario: Value = serde_json::from_str(&loaded.text).map_err(fault)?;
    scenario["alternatives"] = with_own_keys(&scenario, alternatives);
    // The seed may have come from the command line.
    scenario["seed"] = loaded.resolved.scenario.seed.into();
    let mut copies: Vec<(String, String)> = Vec::new();
    move_beside(&mut scenario, &mut copies);
    let mut all = Vec::with_capacity(copies.len() + 1);
    for (from, name) in copies {
        let path = loaded.folder.join(&from);
        let bytes = reading::bytes(&path).map_err(|error| {
            Failure::Files(format!("cannot read `{}` again: {error}", path.display()))
        })?;
        all.push((name, bytes));
    }
    let mut text = serde_json::to_string_pretty(&scenario).map_err(fault)?;
    text.push('\n');
    all.push((SCENARIO.to_owned(), text.into_bytes()));
    Ok(all)
}

/// Gives every `file` in `value` a name in the folder of the report, and notes (from, name).
fn move_beside(value: &mut Value, copies: &mut Vec<(String, String)>) {
    match value {
        Value::Object(entries) => {
            for (key, value) in entries {
                match value {
                    Value::String(file) if key == "file" => *file = name_for(file, copies),
                    other => move_beside(other, copies),
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| move_beside(item, copies)),
        _ => {}
    }
}

/// The name of a copy of `file`: its own without folders, numbered where that is taken.
fn name_for(file: &str, copies: &mut Vec<(String, String)>) -> String {
    if let Some((_, name)) = copies.iter().find(|(from, _)| from == file) {
        return name.clone();
    }
    let plain = Path::new(file).file_name().map_or_else(|| file.into(), |n| n.to_string_lossy());
    let is_taken = |name: &str| OURS.contains(&name) || copies.iter().any(|(_, had)| had == name);
    let mut name = plain.to_string();
    for number in 2.. {
        if !is_taken(&name) {
            break;
        }
        name = format!("{number}-{plain}");
    }
    copies.push((file.to_owned(), name.clone()));
    name
}

/// Names that the report has for itself.
const OURS: [&str; 6] =
    [SCENARIO, "scenario.json", "summary.json", "search.csv", "report.html", "pictures"];

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn closed_files_get_names_of_their_own_in_the_folder() {
        let mut scenario = json!({
            "wind": { "record": { "file": "data/a.csv" } },
            "climate": { "et0": { "file": "data/a.csv" }, "rain": [{ "file": "b/a.csv" }] },
            "boundary": { "file": "search.csv" },
            "title": "file",
        });
        let mut copies = Vec::new();
        move_beside(&mut scenario, &mut copies);
        let at = |pointer: &str| scenario.pointer(pointer).unwrap().as_str().unwrap().to_owned();
        let names = ["/wind/record/file", "/climate/et0/file", "/climate/rain/0/file"].map(at);
        assert_eq!(names[0], names[1]);
        assert_eq!(copies.len(), 3);
        assert!(names[2] != names[0] && [&names[0], &names[2]].iter().any(|name| *name == "a.csv"));
        assert_eq!(at("/boundary/file"), "2-search.csv");
        assert_eq!(at("/title"), "file");
    }
}
