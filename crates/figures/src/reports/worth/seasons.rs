//! Every season a row, as a table for other programs.

use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_core::worth::Worth;
use evenfall_view::{RowOrigin, SEASON_COLUMNS, cell_text};
use serde_json::{Map, Value, json};

/// Columns that say which row it is.
const OF_ROW: [&str; 7] =
    ["alternative", "name", "season", "seed", "scenario_sha256", "version", "commit"];

/// Every alternative in every season, a line each; empty where there is no figure.
pub(crate) fn seasons_csv(
    scenario: &Scenario,
    worth: &Worth,
    origin: &RowOrigin,
) -> Result<String, DrawError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let figures = SEASON_COLUMNS.iter().map(|column| column.key);
    writer.write_record(OF_ROW.into_iter().chain(figures)).map_err(DrawError::library)?;
    for row in rows(scenario, worth) {
        let number = |number: Option<f64>| number.map_or_else(String::new, |n| n.to_string());
        let first = [
            row.alternative.to_string(),
            cell_text(row.name),
            row.season.to_string(),
            origin.seed.to_string(),
            origin.scenario_sha256.clone(),
            origin.version.clone(),
            origin.commit.clone(),
        ];
        let record = first.into_iter().chain(row.values.into_iter().map(number));
        writer.write_record(record).map_err(DrawError::library)?;
    }
    let bytes = writer.into_inner().map_err(DrawError::library)?;
    String::from_utf8(bytes).map_err(DrawError::library)
}

/// The same as JSON, with what each column is.
pub(crate) fn seasons_json(
    scenario: &Scenario,
    worth: &Worth,
    origin: &RowOrigin,
) -> Result<String, DrawError> {
    let columns: Vec<Value> = SEASON_COLUMNS
        .iter()
        .map(|column| json!({"key": column.key, "unit": column.unit, "about": column.about}))
        .collect();
    let row = |row: Row<'_>| {
        let mut object = Map::new();
        object.insert("alternative".to_owned(), row.alternative.into());
        object.insert("name".to_owned(), row.name.into());
        object.insert("season".to_owned(), row.season.into());
        for (column, value) in SEASON_COLUMNS.iter().zip(row.values) {
            object.insert(column.key.to_owned(), value.map_or(Value::Null, Value::from));
        }
        Value::Object(object)
    };
    let all = json!({
        "seed": origin.seed,
        "scenario_sha256": origin.scenario_sha256,
        "version": origin.version,
        "commit": origin.commit,
        "columns": columns,
        "rows": rows(scenario, worth).map(row).collect::<Vec<_>>(),
    });
    let mut text = serde_json::to_string_pretty(&all).map_err(DrawError::library)?;
    text.push('\n');
    Ok(text)
}

/// One alternative in one season.
struct Row<'a> {
    /// Its number, from 1.
    alternative: usize,
    name: &'a str,
    /// The season's number, from 1.
    season: usize,
    values: Vec<Option<f64>>,
}

fn rows<'a>(scenario: &'a Scenario, worth: &'a Worth) -> impl Iterator<Item = Row<'a>> {
    let seasons = &worth.seasons;
    (seasons.first + 1..).zip(&seasons.figures).flat_map(move |(season, figures)| {
        let named = (1..).zip(&scenario.alternatives).zip(figures);
        named.map(move |((alternative, asked), figures)| Row {
            alternative,
            name: &asked.name,
            season,
            values: SEASON_COLUMNS.iter().map(|column| column.value(figures)).collect(),
        })
    })
}
