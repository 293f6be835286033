//! The schema kept in `shared/` is the one the types make, and accepts what the reader accepts.

use super::helpers::demo_at;
use serde_json::Value;

const SHARED: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../shared");

fn is_current(name: &str, made: &str) {
    let path = format!("{SHARED}/{name}");
    if std::env::var_os("EVENFALL_KEEP_SCHEMA").is_some() {
        std::fs::write(&path, made).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap();
    assert!(kept == made, "shared/{name} is out of date; run `cargo xtask schema`");
}

#[test]
fn regress_the_kept_schema_is_current_and_so_is_the_reference_of_keys() {
    is_current("scenario.schema.json", &crate::schema());
    is_current("scenario-keys.md", &super::reference::scenario_keys());
}

/// What a schema's reference leads to, with what is said beside it.
fn follow(schema: &Value, node: &Value) -> Value {
    let Some(name) = node["$ref"].as_str().and_then(|path| path.strip_prefix("#/$defs/")) else {
        return node.clone();
    };
    let mut found = schema["$defs"][name].clone();
    for (key, value) in node.as_object().unwrap().iter().filter(|(key, _)| *key != "$ref") {
        found[key] = value.clone();
    }
    found
}

/// Calls `check` with every key: its path, whether it is needed, its node, and whether it belongs to
/// an alternative's part of a section.
fn each_key(schema: &Value, node: &Value, path: &str, check: &mut dyn FnMut(&str, bool, &Value)) {
    let node = follow(schema, node);
    let needed = node["required"].as_array().cloned().unwrap_or_default();
    for (key, inner) in node["properties"].as_object().into_iter().flatten() {
        let path = format!("{path}/{key}");
        check(&path, needed.iter().any(|one| one == key), &follow(schema, inner));
        each_key(schema, inner, &path, check);
    }
    if node["items"].is_object() {
        each_key(schema, &node["items"], path, check);
    }
    for form in node["anyOf"].as_array().into_iter().flatten() {
        each_key(schema, form, path, check);
    }
}

/// Whether the schema says which values are allowed there, in any of its forms.
fn is_limited(schema: &Value, node: &Value) -> bool {
    let node = follow(schema, node);
    let says_range = node["description"].as_str().is_some_and(|said| said.contains(" from "));
    let text = (node["type"] == "string").then(|| says_range || !node["pattern"].is_null());
    text.unwrap_or(false)
        || ["enum", "const", "maximum", "maxLength", "maxItems", "properties"]
            .iter()
            .any(|key| !node[*key].is_null())
        || node["type"] == "boolean"
        || node["anyOf"]
            .as_array()
            .is_some_and(|forms| forms.iter().all(|form| is_limited(schema, form)))
}

#[test]
fn invariant_every_key_has_label_help_limits_and_what_holds_without_it() {
    let schema: Value = serde_json::from_str(&crate::schema()).unwrap();
    let mut keys = 0;
    each_key(&schema, &schema, "", &mut |path, is_needed, node| {
        keys += 1;
        let says = |key: &str| node[key].as_str().is_some_and(|text| !text.is_empty());
        assert!(says("title") && says("description"), "{path} has no label or no help");
        assert!(is_limited(&schema, node), "{path} has no limits: {node}");
        let is_part = path.matches('/').count() > 2 && path.starts_with("/alternatives/");
        let has_reason = (!node["default"].is_null() && says("because")) || says("otherwise");
        assert!(is_needed != has_reason || is_part, "{path}: needed, or what holds without it");
    });
    assert!(keys > 200, "{keys} keys");
}

#[test]
fn invariant_every_section_of_the_file_stands_in_a_group() {
    let schema: Value = serde_json::from_str(&crate::schema()).unwrap();
    for (key, node) in schema["properties"].as_object().unwrap() {
        assert!(node["group"].is_string(), "{key}");
    }
}

#[test]
fn invariant_every_starting_value_is_within_its_limits() {
    let schema: Value = serde_json::from_str(&crate::schema()).unwrap();
    let mut values = 0;
    each_key(&schema, &schema, "", &mut |path, _, node| {
        if node["default"].is_null() {
            return;
        }
        values += 1;
        let validator = jsonschema::validator_for(node).unwrap();
        assert!(validator.is_valid(&node["default"]), "{path}: {}", node["default"]);
        let said = node["description"].as_str().unwrap();
        if let (Some(value), Some((_, ends))) =
            (node["default"].as_str(), said.rsplit_once(" from "))
            && let Some((least, most)) = ends.split_once(" to ")
        {
            let parse = |text: &str| crate::quantity::parse(text).unwrap();
            let most = most.split([';', '(']).next().unwrap();
            let (least, value, most) = (parse(least), parse(value), parse(most.trim()));
            assert_eq!(value.dimension, least.dimension, "{path}");
            assert!((least.value..=most.value).contains(&value.value), "{path}");
        }
    });
    assert!(values > 25, "{values} starting values");
}

fn accepts(text: &str) -> bool {
    let schema: Value = serde_json::from_str(&crate::schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let scenario: Value = serde_json::from_str(text).unwrap();
    validator.is_valid(&scenario)
}

#[test]
fn reference_schema_accepts_the_kept_scenarios() {
    assert!(accepts(crate::demo()));
    assert!(accepts(include_str!("../../../../data/greensboro/scenario.json")));
}

#[test]
fn reference_schema_accepts_quantities_as_people_write_them() {
    for (pointer, value) in [
        ("/field/length_along_pipe", "\"1/4 mile\""),
        ("/field/length_along_pipe", "\"1,320 ft\""),
        ("/sprinkler/nozzle_height", "\"½ yd\""),
        ("/sprinkler/nozzle_height", "\"4' 0\\\"\""),
        ("/field/travel_bearing", "\"ssw\""),
        ("/field/travel_bearing", "\"South\""),
        ("/worth/prices/crop", "\"$150/t\""),
        ("/worth/prices/crop", "\"150 €/t\""),
        ("/worth/prices/joint_each", "\"US$60\""),
    ] {
        let text = demo_at(pointer, value);
        assert!(accepts(&text), "{pointer}: {value}");
        super::helpers::good(&text);
    }
    for (pointer, value) in [
        ("/field/length_along_pipe", "\"$1320 ft\""),
        ("/sprinkler/trajectory_angle", "\"south\""),
        ("/field/travel_bearing", "\"up\""),
    ] {
        let text = demo_at(pointer, value);
        assert!(!accepts(&text), "{pointer}: {value}");
        super::helpers::bad(&text);
    }
}

#[test]
fn reference_schema_and_reader_refuse_alike() {
    for (pointer, value) in [
        ("/evenfall", "2"),
        ("/field/cell", "2"),
        ("/field/width", "\"1320 ft\""),
        ("/lateral/machine", "\"wheelline\""),
        ("/lateral/sprinklers", "0"),
        ("/wheel/outside_diameter", "\"76 in\""),
        ("/sprinkler/jets", "[]"),
        ("/season/start", "\"tomorrow\""),
        ("/season/passes", "0"),
        ("/wind/still", "true"),
        ("/losses/formula", "\"Playan\""),
        ("/crop/planted", "\"tomorrow\""),
        ("/crop/stages/mid", "115"),
        ("/soil/texture", "\"silty loam\""),
        ("/soil/wilting_point", "0.1"),
        ("/climate/et0/monthly", "[\"1 mm/d\"]"),
        ("/worth/seasons", "1"),
        ("/worth/prices/crop", "150"),
        ("/worth/prices/crop/mark", "true"),
        ("/alternatives/1/equipment/joints", "-1"),
        ("/search", "{ \"aim\": \"CU\" }"),
        ("/search", "{ \"edges\": [\"held\"] }"),
        ("/search", "{ \"longest\": 0 }"),
        ("/search", "{ \"travels\": [] }"),
        ("/alternatives", "[]"),
        ("/alternatives/0/rotation", "[]"),
        ("/alternatives/1/wheel", "{ \"travel\": \"15 ft\" }"),
    ] {
        let text = demo_at(pointer, value);
        assert!(!accepts(&text), "the schema accepts {pointer} = {value}");
        assert!(
            crate::resolve(&text, &super::helpers::no_files).is_err(),
            "the reader accepts {pointer} = {value}"
        );
    }
}
