//! The rules of RO-Crate 1.1 and of the profile Process Run Crate 0.5 that concern a folder of results, written
//! from memory of their texts (<https://www.researchobject.org/ro-crate/specification/1.1/>: "Root Data Entity",
//! "Data Entities", "RO-Crate JSON-LD"; <https://www.researchobject.org/workflow-run-crate/profiles/process_run_crate/>:
//! "Requirements").

use super::*;
use std::collections::BTreeMap;

fn run(made_at: Option<&str>) -> Value {
    let run = RunMade {
        title: "A field",
        about: "One season.",
        version: "1.2.3",
        command: "evenfall season",
        made_at,
        inputs: &["scenario.json".to_owned()],
        results: &["passes.csv".to_owned(), "grids/a.npy".to_owned()],
    };
    serde_json::from_str(&crate_json(&run).unwrap()).unwrap()
}

/// The `@id`s that a property refers to.
fn ids(value: &Value) -> Vec<&str> {
    match value {
        Value::Array(all) => all.iter().filter_map(|one| one["@id"].as_str()).collect(),
        one => one["@id"].as_str().into_iter().collect(),
    }
}

fn is_date(value: &Value) -> bool {
    value.as_str().is_some_and(|date| date.parse::<jiff::Timestamp>().is_ok())
}

/// What breaks a rule.
fn broken(made: &Value) -> Vec<String> {
    let mut broken = Vec::new();
    let mut must = |holds: bool, rule: &str| {
        if !holds {
            broken.push(rule.to_owned());
        }
    };
    let graph = made["@graph"].as_array().cloned().unwrap_or_default();
    let by_id: BTreeMap<&str, &Value> =
        graph.iter().filter_map(|one| Some((one["@id"].as_str()?, one))).collect();
    let none = Value::Null;
    let of = |id: &str| by_id.get(id).copied().unwrap_or(&none);
    must(made["@context"] == "https://w3id.org/ro/crate/1.1/context", "the context is that of 1.1");
    must(by_id.len() == graph.len(), "every entity has an @id of its own");
    must(graph.iter().all(|one| one["@type"].is_string()), "every entity has a @type");
    let about = of("ro-crate-metadata.json");
    must(about["@type"] == "CreativeWork", "the descriptor is a CreativeWork");
    must(ids(&about["about"]) == ["./"], "the descriptor is about the root");
    must(
        ids(&about["conformsTo"]) == ["https://w3id.org/ro/crate/1.1"],
        "the descriptor names the version",
    );
    let root = of("./");
    must(root["@type"] == "Dataset", "the root is a Dataset");
    must(root["name"].is_string() && root["description"].is_string(), "the root says what it is");
    must(is_date(&root["datePublished"]), "the root has a date of publication");
    let parts = ids(&root["hasPart"]);
    let files: Vec<&str> =
        by_id.iter().filter(|(_, one)| one["@type"] == "File").map(|(id, _)| *id).collect();
    must(parts.iter().all(|id| files.contains(id)), "every part is a File that is described");
    must(files.iter().all(|id| parts.contains(id)), "every File is a part of the root");
    let is_relative = |id: &&str| !id.starts_with('/') && !id.contains("://") && !id.contains('\\');
    must(files.iter().all(is_relative), "files are named from the root");
    let actions: Vec<&Value> = graph.iter().filter(|one| one["@type"] == "CreateAction").collect();
    must(!actions.is_empty(), "there is an action");
    for action in actions {
        let id = action["@id"].as_str().unwrap_or_default();
        must(ids(&root["mentions"]).contains(&id), "the root mentions the action");
        must(is_date(&action["endTime"]), "the action has an end");
        let tools = ids(&action["instrument"]);
        must(tools.len() == 1, "the action has an instrument");
        for tool in tools {
            must(of(tool)["@type"] == "SoftwareApplication", "the instrument is a program");
            must(
                of(tool)["name"].is_string() && of(tool)["softwareVersion"].is_string(),
                "the program has a name and a version",
            );
        }
        for property in ["object", "result"] {
            must(
                ids(&action[property]).iter().all(|id| files.contains(id)),
                "what goes in and comes out is described",
            );
        }
    }
    let profiles = ids(&root["conformsTo"]);
    must(
        profiles
            .iter()
            .all(|id| of(id)["@type"] == "CreativeWork" && of(id)["version"].is_string()),
        "the profile is described with its version",
    );
    broken
}

#[test]
fn published_a_folder_keeps_the_rules_of_ro_crate_and_process_run() {
    assert_eq!(broken(&run(Some("2026-11-29T20:00:00Z"))), Vec::<String>::new());
    // Without a date from outside nothing but the dates is missing.
    let missing = ["the root has a date of publication", "the action has an end"];
    assert_eq!(broken(&run(None)), missing);
    assert_eq!(broken(&json!({ "@graph": [] })).len(), 8);
}

#[test]
fn closed_every_part_has_its_format_and_belongs_to_the_run() {
    let made = run(None);
    let graph = made["@graph"].as_array().unwrap();
    let by_id = |id: &str| graph.iter().find(|one| one["@id"] == id).unwrap();
    assert_eq!(ids(&by_id("#run")["object"]), ["scenario.json"]);
    assert_eq!(ids(&by_id("#run")["result"]), ["passes.csv", "grids/a.npy"]);
    assert_eq!(by_id("passes.csv")["encodingFormat"], "text/csv");
    assert_eq!(by_id("#evenfall")["softwareVersion"], "1.2.3");
}
