//! The columns of a study's table, and rows on their way into them.
//!
//! What a row is of (point, alternative, season, where it comes from), a column for every factor, a column
//! for every figure. A factor's column holds numbers where all of its values are numbers, else text as
//! it stands in the scenario.

use crate::factor::Factor;
use crate::problem::Problems;
use crate::table::{Column, Kind, Values};
use evenfall_core::seasons::SeasonFigures;
use evenfall_view::{COMMIT, SEASON_COLUMNS, SeasonColumn};
use serde_json::{Value, json};
use std::sync::Arc;

/// Columns that say which row it is: name, kind, what it is.
const OF_ROW: [(&str, Kind, &str); 9] = [
    ("point", Kind::Count, "Number of the point in the study, from 1"),
    (
        "alternative",
        Kind::Count,
        "Number of the alternative in the scenario, from 1; none where the point is not reached",
    ),
    ("name", Kind::Text, "Name of the alternative"),
    (
        "season",
        Kind::Count,
        "Number of the season, from 1: the same number is the same weather under one seed",
    ),
    ("seed", Kind::Count, "Seed of the weather"),
    ("scenario_sha256", Kind::Text, "Digest of the point's scenario and its files, the seed in it"),
    ("version", Kind::Text, "Version of the program, and the commit where the build was told"),
    ("reason", Kind::Text, "Why there are no figures; none where there are"),
    ("warnings", Kind::Text, "What the scenario's reader warns of"),
];

/// What stands before the name of a factor's column.
const FACTOR: &str = "factor_";

/// The columns.
#[derive(Debug)]
pub(crate) struct Layout {
    pub(crate) columns: Vec<Column>,
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
        let column =
            |name: String, kind, unit, description| Column { name, kind, unit, description };
        let of_row = OF_ROW
            .iter()
            .map(|(name, kind, about)| column((*name).to_owned(), *kind, "1", (*about).to_owned()));
        let of_factors = factors.iter().zip(&numbers).map(|(factor, is_number)| {
            let kind = if *is_number { Kind::Number } else { Kind::Text };
            let about = format!("What the scenario has at {}", factor.pointer);
            column(format!("{FACTOR}{}", factor.name), kind, "1", about)
        });
        let of_figures = figures.iter().map(|figure| {
            column(figure.key.to_owned(), Kind::Number, figure.unit, figure.about.to_owned())
        });
        let columns = of_row.chain(of_factors).chain(of_figures).collect();
        Self { columns, numbers, figures }
    }

    /// Name, unit and meaning of every column, as JSON.
    pub(crate) fn about(&self) -> Value {
        let about = |column: &Column| {
            let Column { name, unit, description, .. } = column;
            json!({ "name": name, "unit": unit, "description": description })
        };
        self.columns.iter().map(about).collect()
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
    pub(crate) fn table(&self, rows: &Rows, points: &[Vec<Value>], version: &str) -> Vec<Values> {
        let version =
            if COMMIT.is_empty() { version.to_owned() } else { format!("{version} {COMMIT}") };
        let counts =
            |of: &dyn Fn(&Row) -> Option<u64>| Values::Counts(rows.0.iter().map(of).collect());
        let texts =
            |of: &dyn Fn(&Row) -> Option<String>| Values::Texts(rows.0.iter().map(of).collect());
        let numbers =
            |of: &dyn Fn(&Row) -> Option<f64>| Values::Numbers(rows.0.iter().map(of).collect());
        let mut columns = vec![
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
        columns
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
