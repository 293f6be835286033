//! The columns of a study's table, and rows on their way into them.
//!
//! What a row is of (point, alternative, season, where it comes from), a column for every factor, a column
//! for every figure. A factor's column holds numbers where all of its values are numbers, else text as
//! it stands in the scenario.

use crate::factor::Factor;
use crate::problem::Problems;
use arrow_array::builder::{Float64Builder, StringBuilder, UInt64Builder};
use arrow_array::{ArrayRef, RecordBatch};
use arrow_schema::{ArrowError, DataType, Field, Schema, SchemaRef};
use evenfall_core::seasons::SeasonFigures;
use evenfall_view::{COMMIT, SEASON_COLUMNS, SeasonColumn};
use serde_json::Value;
use std::collections::HashMap;
use std::sync::Arc;

/// Columns that say which row it is: name, whether a number, what it is.
const OF_ROW: [(&str, bool, &str); 9] = [
    ("point", true, "Number of the point in the study, from 1"),
    (
        "alternative",
        true,
        "Number of the alternative in the scenario, from 1; none where the point is not reached",
    ),
    ("name", false, "Name of the alternative"),
    (
        "season",
        true,
        "Number of the season, from 1: the same number is the same weather under one seed",
    ),
    ("seed", true, "Seed of the weather"),
    ("scenario_sha256", false, "Digest of the point's scenario and its files, the seed in it"),
    ("version", false, "Version of the program, and the commit where the build was told"),
    ("reason", false, "Why there are no figures; none where there are"),
    ("warnings", false, "What the scenario's reader warns of"),
];

/// What stands before the name of a factor's column.
const FACTOR: &str = "factor_";

/// The columns.
#[derive(Debug)]
pub(crate) struct Layout {
    pub(crate) schema: SchemaRef,
    /// Per factor, whether its column holds numbers.
    numbers: Vec<bool>,
    figures: Vec<SeasonColumn>,
}

impl Layout {
    pub(crate) fn of(
        factors: &[Factor],
        points: &[Vec<Value>],
        responses: Option<&[String]>,
        problems: &mut Problems,
    ) -> Self {
        let numbers: Vec<bool> = (0..factors.len())
            .map(|number| points.iter().all(|point| point[number].is_number()))
            .collect();
        let figures = figures(responses, problems);
        let field = |name: &str, kind: DataType, unit: &str, about: String| {
            let words = HashMap::from([
                ("description".to_owned(), about),
                ("unit".to_owned(), unit.to_owned()),
            ]);
            Field::new(name, kind, true).with_metadata(words)
        };
        let text_or =
            |is_number: bool, number: DataType| if is_number { number } else { DataType::Utf8 };
        let mut fields: Vec<Field> = OF_ROW
            .iter()
            .map(|(name, number, about)| {
                field(name, text_or(*number, DataType::UInt64), "1", (*about).to_owned())
            })
            .collect();
        fields.extend(factors.iter().zip(&numbers).map(|(factor, number)| {
            let about = format!("What the scenario has at {}", factor.pointer);
            field(
                &format!("{FACTOR}{}", factor.name),
                text_or(*number, DataType::Float64),
                "1",
                about,
            )
        }));
        fields.extend(figures.iter().map(|column| {
            field(column.key, DataType::Float64, column.unit, column.about.to_owned())
        }));
        Self { schema: Arc::new(Schema::new(fields)), numbers, figures }
    }
}

fn figures(responses: Option<&[String]>, problems: &mut Problems) -> Vec<SeasonColumn> {
    let Some(responses) = responses else { return SEASON_COLUMNS.to_vec() };
    let known = |key: &String| {
        let found = SEASON_COLUMNS.iter().find(|column| column.key == key).copied();
        if found.is_none() {
            let all: Vec<&str> = SEASON_COLUMNS.iter().map(|column| column.key).collect();
            problems.push(format!("no figure is called “{key}”. There are {}", all.join(", ")));
        }
        found
    };
    responses.iter().filter_map(known).collect()
}

/// A row.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    /// From 0.
    pub(crate) point: usize,
    pub(crate) seed: Option<u64>,
    pub(crate) digest: Option<Arc<str>>,
    pub(crate) warnings: Option<Arc<str>>,
    pub(crate) found: Found,
}

/// What was found there.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Found {
    /// Figures of an alternative (from 0) with its name in a season (from 0).
    Figures { alternative: usize, name: Arc<str>, season: usize, figures: Box<SeasonFigures> },
    /// None, and why.
    Nothing(String),
}

/// The rows of a block.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rows(pub(crate) Vec<Row>);

impl Rows {
    /// How many.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How many tell why there is nothing.
    pub fn unreached(&self) -> usize {
        self.0.iter().filter(|row| matches!(row.found, Found::Nothing(_))).count()
    }
}

impl Layout {
    /// The rows as columns; `points` are the values of the factors.
    pub(crate) fn batch(
        &self,
        rows: &Rows,
        points: &[Vec<Value>],
        version: &str,
    ) -> Result<RecordBatch, ArrowError> {
        let version =
            if COMMIT.is_empty() { version.to_owned() } else { format!("{version} {COMMIT}") };
        let counts = |of: &dyn Fn(&Row) -> Option<u64>| -> ArrayRef {
            let mut column = UInt64Builder::new();
            for row in &rows.0 {
                column.append_option(of(row));
            }
            Arc::new(column.finish())
        };
        let texts = |of: &dyn Fn(&Row) -> Option<String>| -> ArrayRef {
            let mut column = StringBuilder::new();
            for row in &rows.0 {
                column.append_option(of(row));
            }
            Arc::new(column.finish())
        };
        let numbers = |of: &dyn Fn(&Row) -> Option<f64>| -> ArrayRef {
            let mut column = Float64Builder::new();
            for row in &rows.0 {
                column.append_option(of(row));
            }
            Arc::new(column.finish())
        };
        let mut columns: Vec<ArrayRef> = vec![
            counts(&|row| Some(row.point as u64 + 1)),
            counts(&|row| row.found.figures().map(|(alternative, ..)| alternative as u64 + 1)),
            texts(&|row| row.found.figures().map(|(_, name, ..)| name.to_owned())),
            counts(&|row| row.found.figures().map(|(_, _, season, _)| season as u64 + 1)),
            counts(&|row| row.seed),
            texts(&|row| row.digest.as_deref().map(str::to_owned)),
            texts(&|_| Some(version.clone())),
            texts(&|row| row.found.reason().map(str::to_owned)),
            texts(&|row| row.warnings.as_deref().map(str::to_owned)),
        ];
        for (number, is_number) in self.numbers.iter().enumerate() {
            let value = |row: &Row| &points[row.point][number];
            columns.push(if *is_number {
                numbers(&|row| value(row).as_f64())
            } else {
                texts(&|row| Some(as_text(value(row))))
            });
        }
        for column in &self.figures {
            columns.push(numbers(&|row| column.value(row.found.figures()?.3)));
        }
        RecordBatch::try_new(Arc::clone(&self.schema), columns)
    }
}

impl Found {
    fn figures(&self) -> Option<(usize, &str, usize, &SeasonFigures)> {
        match self {
            Self::Figures { alternative, name, season, figures } => {
                Some((*alternative, name, *season, figures))
            }
            Self::Nothing(_) => None,
        }
    }

    fn reason(&self) -> Option<&str> {
        match self {
            Self::Figures { .. } => None,
            Self::Nothing(reason) => Some(reason),
        }
    }
}

/// A value as it is read in a table.
fn as_text(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}
