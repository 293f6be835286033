//! The schema kept in `shared/` is the one the types make, and accepts what the reader accepts.

use super::helpers::demo_at;
use serde_json::Value;

const KEPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../shared/scenario.schema.json");

#[test]
fn regress_the_kept_schema_is_current() {
    let made = crate::schema();
    if std::env::var_os("EVENFALL_KEEP_SCHEMA").is_some() {
        std::fs::write(KEPT, &made).unwrap();
    }
    let kept = std::fs::read_to_string(KEPT).unwrap();
    assert!(
        kept == made,
        "shared/scenario.schema.json is out of date; write it anew with \
         EVENFALL_KEEP_SCHEMA=1 cargo test -p evenfall-scenario schema"
    );
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
