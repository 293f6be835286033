//! What a folder of results holds and how it was made, for archives and whoever finds it.
//!
//! RO-Crate 1.1 (Soiland-Reyes et al. 2022, Data Science 5(2)) with the profile Process Run Crate 0.5; both from
//! memory, not checked by a validator. The date of publication that the standard asks for is left out: results
//! hold no clock, and whoever publishes the folder knows it.

use crate::error::DrawError;
use serde_json::{Value, json};

/// The file's name, given by the standard.
pub const CRATE_FILE: &str = "ro-crate-metadata.json";

/// A run and what came of it.
#[derive(Clone, Copy, Debug)]
pub struct RunMade<'a> {
    /// Title of the whole.
    pub title: &'a str,
    /// What it is, in a sentence.
    pub about: &'a str,
    /// Version of the program.
    pub version: &'a str,
    /// The command that makes it again.
    pub command: &'a str,
    /// Files in the folder that it was made from.
    pub inputs: &'a [String],
    /// Files in the folder that came of it.
    pub results: &'a [String],
}

/// The metadata of a folder.
///
/// # Errors
/// If the library refuses.
pub fn crate_json(run: &RunMade<'_>) -> Result<String, DrawError> {
    let refer = |names: &[String]| -> Vec<Value> {
        names.iter().map(|name| json!({ "@id": name })).collect()
    };
    let (inputs, results) = (refer(run.inputs), refer(run.results));
    let parts: Vec<Value> = inputs.iter().chain(&results).cloned().collect();
    let profile = "https://w3id.org/ro/wfrun/process/0.5";
    let mut graph = vec![
        json!({
            "@id": CRATE_FILE,
            "@type": "CreativeWork",
            "conformsTo": { "@id": "https://w3id.org/ro/crate/1.1" },
            "about": { "@id": "./" },
        }),
        json!({
            "@id": "./",
            "@type": "Dataset",
            "name": run.title,
            "description": run.about,
            "conformsTo": { "@id": profile },
            "hasPart": parts,
            "mentions": { "@id": "#run" },
        }),
        json!({ "@id": profile, "@type": "CreativeWork", "name": "Process Run Crate", "version": "0.5" }),
        json!({
            "@id": "#evenfall",
            "@type": "SoftwareApplication",
            "name": "Evenfall",
            "softwareVersion": run.version,
        }),
        json!({
            "@id": "#run",
            "@type": "CreateAction",
            "name": run.command,
            "instrument": { "@id": "#evenfall" },
            "object": inputs,
            "result": results,
        }),
    ];
    let file =
        |name: &String| json!({ "@id": name, "@type": "File", "encodingFormat": format_of(name) });
    graph.extend(run.inputs.iter().chain(run.results).map(file));
    let all = json!({ "@context": "https://w3id.org/ro/crate/1.1/context", "@graph": graph });
    let mut text = serde_json::to_string_pretty(&all).map_err(DrawError::library)?;
    text.push('\n');
    Ok(text)
}

/// Media types by the ending of a name.
const FORMATS: [(&str, &str); 8] = [
    (".json", "application/json"),
    (".csv", "text/csv"),
    (".html", "text/html"),
    (".svg", "image/svg+xml"),
    (".png", "image/png"),
    (".parquet", "application/vnd.apache.parquet"),
    (".ics", "text/calendar"),
    (".geojson", "application/geo+json"),
];

fn format_of(name: &str) -> &'static str {
    let found = FORMATS.iter().find(|(ending, _)| name.ends_with(ending));
    found.map_or("application/octet-stream", |(_, format)| format)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_every_part_is_a_file_with_its_format_and_belongs_to_the_run() {
        let run = RunMade {
            title: "A field",
            about: "One season.",
            version: "1.2.3",
            command: "evenfall season",
            inputs: &["scenario.json".to_owned()],
            results: &["passes.csv".to_owned(), "grids/a.npy".to_owned()],
        };
        let made: Value = serde_json::from_str(&crate_json(&run).unwrap()).unwrap();
        let graph = made["@graph"].as_array().unwrap();
        let by_id = |id: &str| graph.iter().find(|one| one["@id"] == id).unwrap();
        for part in by_id("./")["hasPart"].as_array().unwrap() {
            assert_eq!(by_id(part["@id"].as_str().unwrap())["@type"], "File");
        }
        assert_eq!(by_id("#run")["object"][0]["@id"], "scenario.json");
        assert_eq!(by_id("#run")["result"].as_array().unwrap().len(), 2);
        assert_eq!(by_id("passes.csv")["encodingFormat"], "text/csv");
        assert_eq!(by_id("#evenfall")["softwareVersion"], "1.2.3");
    }
}
