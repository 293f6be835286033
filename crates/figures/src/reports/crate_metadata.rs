//! What a folder of results holds and how it was made, for archives and whoever finds it.
//!
//! RO-Crate 1.1 (Soiland-Reyes et al. 2022, Data Science 5(2):97–138, doi:10.3233/DS-210053) with the profile
//! Process Run Crate 0.5 (Leo et al. 2024, PLOS ONE 19(9)); both from memory. Their rules, as far as they concern
//! such a folder, are a test below. The date of publication that the standard asks for, and the time when the run
//! ended, are written only where `SOURCE_DATE_EPOCH` gives one: results hold no clock, so that the same run gives
//! the same bytes, and whoever publishes the folder knows the date.

use evenfall_canvas::DrawError;
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
    /// When it was made, ISO 8601, where that is to be told.
    pub made_at: Option<&'a str>,
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
    if let Some(made_at) = run.made_at {
        graph[1]["datePublished"] = made_at.into();
        graph[4]["endTime"] = made_at.into();
    }
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
#[path = "crate_metadata_tests.rs"]
mod tests;
