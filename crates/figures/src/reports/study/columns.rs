//! What was tried side by side, as a table and as JSON: one column a figure.

use crate::table::{Row, Table};
use evenfall_core::trial::Tried;
use evenfall_view::{Measure, UnitSystem};
use serde_json::{Value, json};

/// A figure of an option: a column of the table and a key of the JSON.
pub(super) struct Column<F> {
    key: &'static str,
    label: &'static str,
    measure: Measure,
    of: fn(&F) -> f64,
}

/// A column.
pub(super) const fn column<F>(
    key: &'static str,
    label: &'static str,
    measure: Measure,
    of: fn(&F) -> f64,
) -> Column<F> {
    Column { key, label, measure, of }
}

/// The option's name.
pub(super) fn name<T, F>(tried: &Tried<T, F>, option: usize) -> &str {
    &tried.scenario.alternatives[option].name
}

/// The means over the seasons, an option a row; ends with when its first season ends.
pub(super) fn table<T, F>(
    tried: &Tried<T, F>,
    columns: &[Column<F>],
    units: UnitSystem,
    (title, note): (&str, &str),
) -> Table {
    let heads = columns.iter().map(|column| column.measure.head(column.label, units));
    let head = std::iter::once(String::new()).chain(heads).chain(["Ends".to_owned()]).collect();
    let row = |option: usize| {
        let plan = &tried.outcome.alternatives[option].plan;
        let cell = |column: &Column<F>| {
            let value = column.measure.value(tried.mean(option, column.of), units);
            column.measure.cell(&value).to_owned()
        };
        let ends = plan.shown(plan.end_h()).at.strftime("%d\u{a0}%b").to_string();
        Row::new(name(tried, option), columns.iter().map(cell).chain([ends]).collect())
    };
    let rows = (0..tried.options.len()).map(row).collect();
    Table { head, ..Table::new(title, &[]).with_rows(rows).with_note(note) }
}

/// The same for other programs, SI units and percent.
pub(super) fn json<T, F>(tried: &Tried<T, F>, columns: &[Column<F>]) -> Vec<Value> {
    let option = |option: usize| {
        let number = |column: &Column<F>| {
            let mean = tried.mean(option, column.of);
            let number = column.measure.value(mean, UnitSystem::Si).number;
            (column.measure.file_key(column.key), json!(number))
        };
        let name = ("name".to_owned(), json!(name(tried, option)));
        Value::Object(std::iter::once(name).chain(columns.iter().map(number)).collect())
    };
    (0..tried.options.len()).map(option).collect()
}

/// Over how much weather the means were taken.
pub(super) fn seasons_words<T, F>(tried: &Tried<T, F>) -> String {
    match tried.figures.len() {
        1 => "one season".to_owned(),
        seasons => format!("{seasons} seasons"),
    }
}
