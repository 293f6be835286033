//! The JSON Schema of a scenario (draft 2020-12), generated from the types that read it.

use crate::file::ScenarioFile;
use schemars::generate::SchemaSettings;

/// The schema as pretty JSON text with a final newline, as kept in `shared/scenario.schema.json`.
///
/// It holds the shape: keys, kinds of values, choices. Ranges of quantities stand in descriptions,
/// because JSON Schema cannot compare numbers inside texts; the reader checks them.
pub fn schema() -> String {
    let generator = SchemaSettings::draft2020_12().into_generator();
    let schema = generator.into_root_schema_for::<ScenarioFile>();
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}
